"""What runs in the second ear's process, started by `Helper`.

It works off one task after the other and answers each.
"""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from assistant.child import Parent
from assistant.ports import Recogniser, Samples
from assistant.spoken import Opinion, WordAutomaton
from assistant.spoken.kept import Kept

KEPT_GRAMMARS = 64


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
class Ready:
    """The answer to all else; `deaf` are words that this ear can't hear."""

    deaf: tuple[str, ...] = ()


WithSound = Listen | Follow
Task = Prepare | Warm | WithSound
Answer = Told | Saying | Ready


class Worker:
    """One recogniser and the grammars it was told."""

    def __init__(self, ear: Recogniser) -> None:
        self._ear = ear
        self._grammars: Kept[str, WordAutomaton] = Kept(KEPT_GRAMMARS)
        self._following = 0
        """Number of the utterance that is open; 0 for none."""

    def work(self, task: Task) -> Answer:
        """Work off one task. Raises what the recogniser raises."""
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


def work(parent: Parent[Task, Answer], make: Callable[[], Recogniser], scratch: str) -> None:
    """Body of the process. What it writes while it works goes to the folder `scratch`: it is
    killed, and can't clear up after itself."""
    os.environ["TMPDIR"] = tempfile.tempdir = scratch
    worker = Worker(make())
    parent.ready()
    while True:
        parent.send(worker.work(parent.take()))
