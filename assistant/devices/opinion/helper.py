"""Keeps the second ear's process: asks it, waits no longer than told, starts it anew."""

from __future__ import annotations

import contextlib
import os
import queue
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Sequence
from multiprocessing.connection import Pipe

from assistant.devices.opinion import worker
from assistant.pipes import PipeEnd, hand_over
from assistant.ports import Recogniser, Samples
from assistant.scratch import Scratch
from assistant.spoken import Opinion, WordAutomaton

ANSWER_SECONDS = 4.0
"""Work on one utterance takes a tenth of a second; on a busy machine ten times that."""
START_SECONDS = 30.0
MOST_STARTS = 3
"""Starts without a single answer between them: then it is broken, not stuck."""
CHILD = "from assistant.devices.opinion.worker import main; main"
CHECKED_BY_ONE = "Numbers are checked by one ear alone."


class Helper:
    """The process, and the thread that talks with it. No method of it ever waits for the process,
    but `told`, and that for no longer than it is allowed to.

    A process of `subprocess`, since the ear's own process may have no children of
    `multiprocessing`; its pipe ends with this process, and it with its pipe.
    """

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
        self._process: subprocess.Popen[bytes] | None = None
        self._pipe: PipeEnd[worker.Task, worker.Answer] | None = None
        self._known: dict[str, WordAutomaton] = {}
        """Grammars that the process has; after a restart it needs them again."""
        self._sent: set[str] = set()
        self._starts = 0
        self._busy_since = 0.0
        """Clock time since which an answer is due; 0 while none is."""
        self._allowed = 0.0
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
        self._watch()
        self._known |= {grammar.id: grammar for grammar in grammars}
        self._tasks.put(worker.Prepare(tuple(grammars)))

    def warm(self, grammar: WordAutomaton) -> None:
        """An utterance of `grammar` has begun."""
        self._watch()
        self._known[grammar.id] = grammar
        self._tasks.put(worker.Warm(grammar))

    def ask(self, grammar: WordAutomaton, sound: Samples) -> int:
        """Have `sound` heard; the number under which it is answered."""
        self._watch()
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
        self._watch()
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
        process = self._process
        if process is not None:
            process.kill()  # a task under way ends with it
        self._thread.join(timeout=2)
        self._scratch.close()

    # -- in the thread ------------------------------------------------------------------------

    def _work(self) -> None:
        while (task := self._tasks.get()) is not None and not self._closed:
            if self._starts >= MOST_STARTS and self._process is None:
                continue
            try:
                if isinstance(task, worker.Follow) and not self._can_follow(task):
                    continue
                if self._process is None:
                    self._start()
                if isinstance(task, worker.Warm) and not self._tasks.empty():
                    continue  # what waits behind it is more urgent, and loads it as well
                if isinstance(task, worker.Listen) and task.number != self._asked:
                    continue  # more was said meanwhile: there is a newer question
                if isinstance(task, worker.WithSound) and task.grammar not in self._sent:
                    new = worker.Prepare((self._known[task.grammar],))
                    self._take(new, self._exchange(new))
                self._take(task, self._exchange(task))
            except (EOFError, OSError):
                self._lost()
        self._end()

    def _can_follow(self, task: worker.Follow) -> bool:
        """Whether it belongs to the utterance of now, all of which the process has. A lost one is
        not started anew for this."""
        return self._process is not None and self._passed < task.number == self._followed

    def _start(self) -> None:
        self._starts += 1
        self._sent.clear()
        here, there = Pipe()
        with there:
            self._process = subprocess.Popen(
                [sys.executable, "-c", f"{CHILD}({there.fileno()})"],
                stdin=subprocess.DEVNULL,
                **hand_over(there.fileno()),
                env=dict(
                    os.environ,
                    PYTHONPATH=os.pathsep.join(filter(None, sys.path)),
                    TMPDIR=str(self._scratch.path),
                ),
            )
        self._pipe = here
        answer = self._exchange(worker.Make(self._make), self._start_seconds)
        if isinstance(answer, worker.Missing):
            self._starts = MOST_STARTS
            self._end()
            raise EOFError(answer.why)
        if self._known:
            known = worker.Prepare(tuple(self._known.values()))
            self._take(known, self._exchange(known, self._start_seconds))

    def _exchange(self, task: worker.Task, allowed: float = 0.0) -> worker.Answer:
        pipe = self._pipe
        if pipe is None:
            raise EOFError
        self._allowed = allowed or self._answer_seconds
        self._busy_since = time.monotonic()
        try:
            pipe.send(task)
            return pipe.recv()
        finally:
            self._busy_since = 0.0

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

    def _lost(self) -> None:
        self._end()
        self._passed = self._followed
        if self._closed:
            return
        with self._news:
            given_up = self._starts >= MOST_STARTS
            how = "can't be used" if given_up else "stopped and is started again"
            self.trouble = f"The second ear {how}. {CHECKED_BY_ONE}"
            self._news.notify_all()

    def _end(self) -> None:
        process, self._process = self._process, None
        pipe, self._pipe = self._pipe, None
        if process is not None:
            process.kill()
            with contextlib.suppress(subprocess.TimeoutExpired):
                process.wait(2)
        if pipe is not None:
            with contextlib.suppress(OSError):
                pipe.close()

    # -- from outside ---------------------------------------------------------------------------

    def _watch(self) -> None:
        """End a process that owes an answer for too long: the thread then starts another."""
        since, process = self._busy_since, self._process
        if since and process is not None and time.monotonic() - since > self._allowed:
            process.kill()

    def _told_of(self, number: int) -> Opinion | None:
        told = self._told
        return told.opinion if told is not None and told.number == number else None
