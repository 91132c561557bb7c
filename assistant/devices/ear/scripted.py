"""A recogniser for tests: hears what it was told to, at the seam where the real ones plug in."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from assistant.ports import Samples
from assistant.spoken import Heard, WordAutomaton


class ScriptedEar:
    """Reports given words, one entry an utterance, whatever the sound; then `Heard('')`.

    It says what it is: the engine it reports is `scripted`.
    """

    name = "scripted"

    def __init__(self, words: Iterable[str | Heard] = ()) -> None:
        self._words = iter(words)
        self._grammar: WordAutomaton | None = None
        self._now: Heard | None = None
        self.samples = 0
        """Samples of the utterance under way."""

    def prepare(self, grammars: Sequence[WordAutomaton]) -> tuple[str, ...]:
        """Hears every word."""
        return ()

    def begin(self, grammar: WordAutomaton) -> None:
        """The next entry."""
        said = next(self._words, "")
        self._grammar = grammar
        self.samples = 0
        self._now = said if isinstance(said, Heard) else Heard(said, 1.0 if said else 0.0)

    def feed(self, samples: Samples) -> str:
        """Counts the samples."""
        self.samples += samples.size
        return ""

    def peek(self) -> Heard:
        """The entry, as `finish` will report it."""
        if self._now is None or self._grammar is None:
            raise RuntimeError("peek or finish before begin")
        words = self._now.words.split()
        fits = not words or self._grammar.accepts(words)
        return Heard(
            self._now.words if fits else "",
            self._now.confidence if fits else 0.0,
            grammar=self._grammar.id,
            engine=self.name,
        )

    def finish(self) -> Heard:
        """The entry; `Heard('')` where the grammar doesn't hold it."""
        heard = self.peek()
        self._now = None
        return heard

    def close(self) -> None:
        """Nothing to give back."""
