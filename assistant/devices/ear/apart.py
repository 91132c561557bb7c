"""A recogniser in a process of its own, asked and waited for: one that crashes is told of, and
takes nothing along.

`EarProcess` is for a microphone; this one is for who hands over whole utterances.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from assistant.child import Child, Parent, ParentMissing
from assistant.ports import Recogniser, Samples
from assistant.spoken import Heard, WordAutomaton


class EarApart:
    """A `Recogniser`. Every method raises `DeviceFailed` where the one in the process fails, or the
    process is gone."""

    def __init__(self, make: Callable[[], Recogniser]) -> None:
        """`make` must be importable. Starts the process, and waits until the ear is loaded."""
        self._child: Child[tuple[str, tuple[Any, ...]], Any] = Child("ear", _serve, make)
        self._child.wait_ready()
        self.name: str = self._ask("name")

    def prepare(self, grammars: Sequence[WordAutomaton]) -> tuple[str, ...]:
        """Compile grammars ahead of need; the words of theirs that this ear can't hear."""
        deaf: tuple[str, ...] = self._ask("prepare", tuple(grammars))
        return deaf

    def begin(self, grammar: WordAutomaton) -> None:
        """Start an utterance held to `grammar`."""
        self._ask("begin", grammar)

    def feed(self, samples: Samples) -> str:
        """More of the utterance; the words so far, where the ear can tell, else ''."""
        words: str = self._ask("feed", samples)
        return words

    def finish(self) -> Heard:
        """End of the utterance: its words, or `Heard('')` for sound that is no command."""
        heard: Heard = self._ask("finish")
        return heard

    def close(self) -> None:
        """End the process: gently, then by force."""
        self._child.end(1.0)

    def _ask(self, name: str, *what: object) -> Any:
        return self._child.ask((name, what))


def _serve(
    parent: Parent[tuple[str, tuple[Any, ...]], Any], make: Callable[[], Recogniser]
) -> None:
    """Body of the process."""
    ear = make()
    parent.ready()
    try:
        while True:
            name, what = parent.take()
            of_it = getattr(ear, name)
            parent.send(of_it(*what) if callable(of_it) else of_it)
    except ParentMissing:
        ear.close()
        raise
