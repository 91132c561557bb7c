"""Keeps the second ear's process: asks it, waits no longer than told, starts it anew."""

from __future__ import annotations

import queue
import threading
from collections.abc import Callable, Sequence

from assistant.child import Child, ChildLost
from assistant.devices.opinion import worker
from assistant.ports import Recogniser, Samples
from assistant.scratch import Scratch
from assistant.spoken import Opinion, WordAutomaton

ANSWER_SECONDS = 4.0
"""Work on one utterance takes a tenth of a second; on a busy machine ten times that."""
START_SECONDS = 30.0
MOST_STARTS = 3
"""Starts without a single answer between them: then it is broken, not stuck."""
CHECKED_BY_ONE = "Numbers are checked by one ear alone."


class Helper:
    """The process, and the thread that talks with it. No method of it ever waits for the process,
    but `told`, and that for no longer than it is allowed to."""

    def __init__(
        self,
        make: Callable[[], Recogniser],
        *,
        answer_seconds: float = ANSWER_SECONDS,
        start_seconds: float = START_SECONDS,
    ) -> None:
        """`make` must be importable, as for the ear's own process."""
        self._make = make
        # What the process writes while it works: it is killed, and can't clear up after itself.
        self._scratch = Scratch("second-ear")
        self._answer_seconds, self._start_seconds = answer_seconds, start_seconds
        self._tasks: queue.SimpleQueue[worker.Task | None] = queue.SimpleQueue()
        self._told: worker.Told | None = None
        self._news = threading.Condition()
        self._child: Child[worker.Task, worker.Answer] | None = None
        self._known: dict[str, WordAutomaton] = {}
        """Grammars that the process has; after a restart it needs them again."""
        self._sent: set[str] = set()
        self._starts = 0
        self._asked = self._followed = 0
        """Numbers of the last question, and of the last utterance that is followed."""
        self._saying = worker.Saying(0, "")
        self._passed = 0
        """Number of the last one that is followed no more: it was asked about, or a process was
        lost with what it had of it."""
        self._closed = False
        self.deaf: frozenset[str] = frozenset()
        """Words of the prepared grammars that it can't hear."""
        self.trouble = ""
        """In a plain sentence, why there is no second opinion; '' while there is."""
        self._thread = threading.Thread(target=self._work, name="second ear", daemon=True)
        self._thread.start()

    def prepare(self, grammars: Sequence[WordAutomaton]) -> None:
        """Have grammars compiled ahead of need."""
        self._known |= {grammar.id: grammar for grammar in grammars}
        self._tasks.put(worker.Prepare(tuple(grammars)))

    def warm(self, grammar: WordAutomaton) -> None:
        """An utterance of `grammar` has begun."""
        self._known[grammar.id] = grammar
        self._tasks.put(worker.Warm(grammar))

    def ask(self, grammar: WordAutomaton, sound: Samples) -> int:
        """Have `sound` heard; the number under which it is answered."""
        self._asked += 1
        self._passed = self._followed  # what still waits of it would only keep the question waiting
        self._tasks.put(worker.Listen(self._asked, grammar.id, sound))
        return self._asked

    def follow(self, grammar: WordAutomaton, sound: Samples) -> int:
        """Begin to follow an utterance with `sound`, for its words so far; its number."""
        self._known[grammar.id] = grammar
        self._followed += 1
        self.more(self._followed, grammar, sound)
        return self._followed

    def more(self, number: int, grammar: WordAutomaton, sound: Samples) -> None:
        """More of the utterance that is followed under that number."""
        self._tasks.put(worker.Follow(number, grammar.id, sound))

    def saying(self, number: int) -> str:
        """The words so far of the utterance of that number, as far as they are known by now."""
        saying = self._saying
        return saying.words if saying.number == number else ""

    def told(self, number: int, wait: float) -> Opinion | None:
        """The answer to question `number`; None where it isn't there within `wait` seconds."""
        with self._news:
            self._news.wait_for(
                lambda: bool(self.trouble) or self._told_of(number) is not None, timeout=wait
            )
            return self._told_of(number)

    def close(self) -> None:
        """End process and thread."""
        self._closed = True
        self._tasks.put(None)
        child = self._child
        if child is not None:
            child.kill()  # a task under way ends with it
        self._thread.join(timeout=2)
        self._scratch.close()

    # -- in the thread ------------------------------------------------------------------------

    def _work(self) -> None:
        while (task := self._tasks.get()) is not None and not self._closed:
            if self._starts >= MOST_STARTS and self._child is None:
                continue
            try:
                if isinstance(task, worker.Follow) and not self._can_follow(task):
                    continue
                if self._child is None:
                    self._start()
                if isinstance(task, worker.Warm) and not self._tasks.empty():
                    continue  # what waits behind it is more urgent, and loads it as well
                if isinstance(task, worker.Listen) and task.number != self._asked:
                    continue  # more was said meanwhile: there is a newer question
                if isinstance(task, worker.WithSound) and task.grammar not in self._sent:
                    self._do(worker.Prepare((self._known[task.grammar],)))
                self._do(task)
            except ChildLost as lost:
                self._lost(lost)
        if self._child is not None:
            self._child.kill()

    def _can_follow(self, task: worker.Follow) -> bool:
        """Whether it belongs to the utterance of now, all of which the process has. A lost one is
        not started anew for this."""
        return self._child is not None and self._passed < task.number == self._followed

    def _start(self) -> None:
        self._starts += 1
        self._sent.clear()
        self._child = Child(
            "second ear", worker.work, self._make, str(self._scratch.path),
            begin_seconds=self._start_seconds,
        )  # fmt: skip
        self._child.wait_ready()
        if self._known:
            known = worker.Prepare(tuple(self._known.values()))
            self._take(known, self._child.ask(known, self._start_seconds))

    def _do(self, task: worker.Task) -> None:
        if self._child is not None:
            self._take(task, self._child.ask(task, self._answer_seconds))

    def _take(self, task: worker.Task, answer: worker.Answer) -> None:
        match task:
            case worker.Prepare(grammars):
                self._sent |= {grammar.id for grammar in grammars}
            case worker.Warm(grammar):
                self._sent.add(grammar.id)
        if isinstance(answer, worker.Ready) and answer.deaf:
            self.deaf |= frozenset(answer.deaf)
        if isinstance(answer, worker.Saying):
            self._saying = answer
        if isinstance(answer, worker.Told):
            with self._news:
                self._told = answer
                self._starts = 1
                self.trouble = ""
                self._news.notify_all()

    def _lost(self, lost: ChildLost) -> None:
        child, self._child = self._child, None
        self._passed = self._followed
        if lost.how == "refused" and child is not None and not child.ready:
            self._starts = MOST_STARTS  # it can't be had: no use in trying again
        if self._closed:
            return
        with self._news:
            given_up = self._starts >= MOST_STARTS
            how = "can't be used" if given_up else "stopped and is started again"
            self.trouble = f"The second ear {how}. {CHECKED_BY_ONE}"
            self._news.notify_all()

    def _told_of(self, number: int) -> Opinion | None:
        told = self._told
        return told.opinion if told is not None and told.number == number else None
