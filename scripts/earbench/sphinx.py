"""PocketSphinx, for the bench alone: what a user would have had without the project's own ears.

The English model of its wheel, held to the same sentences by a finite-state grammar.
"""

from __future__ import annotations

import numpy as np
from pocketsphinx import Decoder

from assistant.ports import RATE, Samples
from assistant.spoken import Heard, WordAutomaton

EXTRA = {
    "thou": "TH AW", "millimetres": "M IH L AH M IY T ER Z", "millimetre": "M IH L AH M IY T ER",
    "gunmetal": "G AH N M EH T AH L", "nought": "N AO T", "shims": "SH IH M Z", "cut's": "K AH T S",
    "undersize": "AH N D ER S AY Z", "monel": "M OW N EH L", "tailstock": "T EY L S T AA K",
}  # fmt: skip
"""Words of the shop that its dictionary says another way or lacks."""


class SphinxEar:
    """A `Recogniser`. It has no measure of being sure that tells right from wrong: it is always
    sure of what it heard."""

    name = "pocketsphinx"

    def __init__(self) -> None:
        self._decoder = Decoder(samprate=RATE, loglevel="FATAL")
        for word, sounds in EXTRA.items():
            known = self._decoder.lookup_word(word)
            self._decoder.add_word(f"{word}(2)" if known else word, sounds, True)
        self._known: set[str] = set()
        self._grammar: WordAutomaton | None = None
        self._sound: list[Samples] = []

    def prepare(self, grammars: list[WordAutomaton]) -> tuple[str, ...]:
        """Make the grammars; the words that its dictionary lacks."""
        return tuple(sorted({word for each in grammars for word in self._make(each)}))

    def _make(self, grammar: WordAutomaton) -> set[str]:
        lacking = {word for word in grammar.vocabulary if not self._decoder.lookup_word(word)}
        if grammar.id in self._known:
            return lacking
        end = len(grammar.arcs)
        arcs = [
            (state, following, 1.0, word)
            for state, row in enumerate(grammar.arcs)
            for word, following in row.items()
            if word not in lacking
        ]
        arcs += [(state, end, 1.0) for state in grammar.finals]
        fsg = self._decoder.create_fsg(grammar.id, 0, end, arcs)
        self._decoder.add_fsg(grammar.id, fsg)
        self._known.add(grammar.id)
        return lacking

    def begin(self, grammar: WordAutomaton) -> None:
        """Start an utterance held to `grammar`."""
        self._make(grammar)
        self._decoder.activate_search(grammar.id)
        self._grammar, self._sound = grammar, []

    def feed(self, samples: Samples) -> str:
        """More of the utterance."""
        self._sound.append(samples)
        return ""

    def finish(self) -> Heard:
        """What it made of the whole."""
        assert self._grammar is not None
        sound = np.concatenate(self._sound) if self._sound else np.zeros(0, np.float32)
        raw = (np.clip(sound, -1, 1) * 32767).astype(np.int16).tobytes()
        self._decoder.start_utt()
        self._decoder.process_raw(raw, no_search=False, full_utt=True)
        self._decoder.end_utt()
        found = self._decoder.hyp()
        words = found.hypstr if found else ""
        whole = bool(words) and self._grammar.accepts(words.split())
        return Heard(words if whole else "", float(whole), grammar=self._grammar.id,
                     engine=self.name)  # fmt: skip

    def close(self) -> None:
        """Nothing to give back."""
