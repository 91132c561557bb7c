"""The built-in ear: Moonshine tiny, held to the grammar of the step at hand."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import reduce
from math import exp
from pathlib import Path

import numpy as np

from assistant.devices.moonshine.assets import TOKENIZER, model_folder
from assistant.devices.moonshine.beam import MARGIN, Beam, Sentence
from assistant.devices.moonshine.clarity import clarity
from assistant.devices.moonshine.confidence import Evidence, confidence
from assistant.devices.moonshine.model import MIN_SECONDS, Model, together
from assistant.devices.moonshine.spellings import Mode, load_spellings
from assistant.devices.moonshine.tokenizer import Tokenizer
from assistant.devices.moonshine.tries import Tries
from assistant.devices.moonshine.tuning import UNTUNED, Tuning
from assistant.devices.moonshine.versions import MOST, versions
from assistant.ports import RATE, Samples
from assistant.spoken import Heard, WordAutomaton
from assistant.spoken.gist import load_gist
from assistant.spoken.kept import Kept

NAME = "moonshine"
KEPT_GRAMMARS = 64
OTHERS = 3
CUT_CONFIDENCE = 0.2
"""For sound that was too long and was cut: a number cut short is a wrong number."""


@dataclass(frozen=True, slots=True)
class Look:
    """What was made of one utterance, before it is said how sure that is."""

    evidence: Evidence
    """Of its best sentence."""
    others: tuple[tuple[str, float], ...] = ()
    """The next best sentences, and by how many nats each is behind."""

    def chances(self) -> list[tuple[str, float]]:
        """Every sentence with how sure the ear is of it, the best first."""
        sure = confidence(self.evidence)
        behind = ((words, sure * exp(-nats)) for words, nats in self.others)
        return [(self.evidence.words, sure), *behind]


class MoonshineEar:
    """A `Recogniser`. Raises `DeviceMissing` where the model's files aren't there, or others."""

    name = NAME

    def __init__(
        self,
        threads: int = 1,
        width: int = 8,
        tuning: Tuning = UNTUNED,
        folder: Path | None = None,
    ) -> None:
        """`folder` has the model's files in place of their package."""
        folder = model_folder(folder)
        self._tokenizer = Tokenizer(folder / TOKENIZER)
        self._model = Model(folder, threads)
        self._beam = Beam(self._model, self._tokenizer, width)
        self._gist = load_gist()
        self._spellings = load_spellings().plus(tuning.sounds)
        self._tuning = tuning
        self._tries: Kept[str, Tries] = Kept(KEPT_GRAMMARS)
        self._grammar: WordAutomaton | None = None
        self._sound: list[Samples] = []
        self.look: Look | None = None
        """What the confidence of the last hearing was worked out from."""
        self._peeked: Heard | None = None
        """What was heard of the sound so far, until more comes."""

    def prepare(self, grammars: Sequence[WordAutomaton]) -> tuple[str, ...]:
        """Make the first tries of `grammars`; the words that have no pieces (normally none)."""
        deaf: set[str] = set()
        for grammar in grammars:
            self._tries_of(grammar).root(0, Mode.START)
            deaf |= {word for word in grammar.vocabulary if not self._tokenizer.can_write(word)}
        return tuple(sorted(deaf))

    def begin(self, grammar: WordAutomaton) -> None:
        """Start an utterance held to `grammar`."""
        self._grammar = grammar
        self._sound = []
        self._peeked = None

    def feed(self, samples: Samples) -> str:
        """More of the utterance. This ear hears whole utterances only: returns ''."""
        self._sound.append(samples)
        self._peeked = None
        return ""

    def finish(self) -> Heard:
        """The words of the utterance, or `Heard('')` for sound that is no command."""
        heard = self.peek()
        self._sound = []
        return heard

    def peek(self) -> Heard:
        """The words so far, with the utterance still open."""
        if self._peeked is None:
            self._peeked = self._hear_so_far()
        return self._peeked

    def _hear_so_far(self) -> Heard:
        if self._grammar is None:
            raise RuntimeError("peek or finish before begin")
        sound = np.concatenate(self._sound) if self._sound else np.zeros(0, np.float32)
        if sound.size < MIN_SECONDS * RATE:
            self.look = None
            return Heard("", 0.0, grammar=self._grammar.id, engine=NAME)
        heard = self._hear(sound[:MOST], self._grammar)
        if sound.size > MOST:
            return replace(heard, confidence=min(heard.confidence, CUT_CONFIDENCE))
        return heard

    def _hear(self, sound: Samples, grammar: WordAutomaton) -> Heard:
        self.look, free = self._look(sound, grammar)
        if self.look is None:
            return Heard("", 0.0, grammar=grammar.id, engine=NAME, free=free)
        (words, sure), *others = self.look.chances()
        return Heard(
            words,
            self._tuning.weigh(words, sure),
            grammar=grammar.id,
            engine=NAME,
            free=free,
            others=tuple(others),
        )

    def _look(self, sound: Samples, grammar: WordAutomaton) -> tuple[Look | None, str]:
        """What was made of `sound` (None where no sentence fits), and what was heard unheld."""
        encoded = together(*(self._model.encode(each) for each in versions(sound)))
        sentences, free = self._beam.search(encoded, self._tries_of(grammar))
        written = tuple(self._tokenizer.decode(text.pieces) for text in free)
        readings = merge(sentences, self._gist)
        if not readings:
            return None, written[0]
        best, *others = readings
        evidence = Evidence(
            words=" ".join(best.words),
            free=written,
            lead=best.score - others[0].score if others else MARGIN,
            shortfalls=tuple(
                text.score - float(plain) for text, plain in zip(free, best.plain, strict=True)
            ),
            seconds=sound.size / RATE,
            clarity=clarity(sound),
        )
        behind = tuple((" ".join(each.words), best.score - each.score) for each in others[:OTHERS])
        return Look(evidence, behind), written[0]

    def close(self) -> None:
        """Forget the grammars. The sessions end with this object."""
        self._tries.clear()
        self._sound = []

    def _tries_of(self, grammar: WordAutomaton) -> Tries:
        return self._tries.of(grammar.id, lambda: Tries(grammar, self._tokenizer, self._spellings))


def merge(sentences: Sequence[Sentence], gist: Callable[[str], str]) -> list[Sentence]:
    """One sentence for all of one gist, with their joint score, the best first.

    "Oh" and "zero" are one figure: were each counted alone, a sentence without either could win
    over two that mean the same.
    """
    groups: dict[str, list[Sentence]] = {}
    for sentence in sentences:
        groups.setdefault(gist(" ".join(sentence.words)), []).append(sentence)
    merged = [reduce(Sentence.plus, group) for group in groups.values()]
    return sorted(merged, key=lambda sentence: -sentence.score)
