"""What runs in the second ear's process, started by `Helper`.

It works off one task after the other and answers each. It ends by itself when the other end of
the pipe is gone.
"""

from __future__ import annotations

import signal
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from assistant.errors import WheelcallError
from assistant.log import get_log, start_log
from assistant.pipes import PipeEnd
from assistant.ports import Recogniser, Samples
from assistant.spoken import Opinion, WordAutomaton
from assistant.spoken.kept import Kept

KEPT_GRAMMARS = 64


@dataclass(frozen=True, slots=True)
class Make:
    """The first task: the recogniser to work with."""

    make: Callable[[], Recogniser]


@dataclass(frozen=True, slots=True)
class Prepare:
    """Compile these grammars ahead of need."""

    grammars: Sequence[WordAutomaton]


@dataclass(frozen=True, slots=True)
class Warm:
    """An utterance of this grammar has begun: load what it takes."""

    grammar: WordAutomaton


@dataclass(frozen=True, slots=True)
class Listen:
    """Hear this sound, held to a grammar that was sent before."""

    number: int
    grammar: str
    sound: Samples


@dataclass(frozen=True, slots=True)
class Follow:
    """More of an utterance while it is said, held to a grammar that was sent before."""

    number: int
    grammar: str
    sound: Samples


@dataclass(frozen=True, slots=True)
class Told:
    """The answer to `Listen`."""

    number: int
    opinion: Opinion


@dataclass(frozen=True, slots=True)
class Saying:
    """The answer to `Follow`: the words so far."""

    number: int
    words: str


@dataclass(frozen=True, slots=True)
class Missing:
    """The answer to `Make` where it can't be made: no use in trying again."""

    why: str


@dataclass(frozen=True, slots=True)
class Ready:
    """The answer to all else; `deaf` are words that this ear can't hear."""

    deaf: tuple[str, ...] = ()


WithSound = Listen | Follow
Task = Make | Prepare | Warm | WithSound
Answer = Told | Saying | Missing | Ready


class Worker:
    """One recogniser and the grammars it was told."""

    def __init__(self) -> None:
        self._ear: Recogniser | None = None
        self._grammars: Kept[str, WordAutomaton] = Kept(KEPT_GRAMMARS)
        self._following = 0
        """Number of the utterance that is open; 0 for none."""

    def work(self, task: Task) -> Answer:
        """Work off one task. Raises what the recogniser raises."""
        if isinstance(task, Make):
            try:
                self._ear = task.make()
            except WheelcallError as error:
                return Missing(str(error))
            return Ready()
        assert self._ear is not None
        match task:
            case Prepare(grammars):
                for grammar in grammars:
                    self._keep(grammar)
                return Ready(self._ear.prepare(grammars))
            case Warm(grammar):
                new = grammar.id not in self._grammars
                self._keep(grammar)
                deaf = self._ear.prepare([grammar]) if new else ()
                self._ear.begin(grammar)
                self._following = 0
                return Ready(deaf)
            case Follow(number, grammar_id, sound):
                if number != self._following:
                    self._ear.begin(self._grammars[grammar_id])
                    self._following = number
                return Saying(number, self._ear.feed(sound))
            case Listen(number, grammar_id, sound):
                self._following = 0
                self._ear.begin(self._grammars[grammar_id])
                self._ear.feed(sound)
                heard = self._ear.finish()
                return Told(number, Opinion(heard.words, heard.confidence, heard.engine))

    def _keep(self, grammar: WordAutomaton) -> None:
        self._grammars.of(grammar.id, lambda: grammar)


def main(descriptor: int) -> None:
    """Answer tasks until the pipe of that number ends."""
    # Ctrl-C goes to every process of the terminal; this one ends with its pipe.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    start_log(child=True)
    pipe: PipeEnd[Answer, Task] = PipeEnd(descriptor)
    worker = Worker()
    try:
        while True:
            pipe.send(worker.work(pipe.recv()))
    except (EOFError, BrokenPipeError, ConnectionResetError):
        pass  # the first ear is gone
    except Exception as error:  # native code and models have their own kinds
        # One line, and the traceback in the log; the other end sees the exit and starts another.
        get_log("second ear").exception("the second ear's process fails")
        sys.exit(f"second ear: {type(error).__name__}: {error}")
