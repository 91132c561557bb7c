"""What was learned of one operator's voice: `wheelcall learn` finds it, this ear uses it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import exp, log

from assistant.spoken.written import has_number


@dataclass(frozen=True)
class Tuning:
    """Extra spellings, and how much surer of this voice the ear may be."""

    sounds: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """One word or several of the phrase book, to what the model writes for it from this voice."""
    lean: float = 0.0
    """Added to the log odds of a confidence. Above zero it counts for sentences without a number
    alone: a wrong number taken costs more than a right one asked back."""

    @property
    def floor(self) -> float:
        """The confidence that counts for this voice as a half does for others."""
        return 1 / (1 + exp(self.lean))

    def weigh(self, words: str, confidence: float) -> float:
        """`confidence` of `words`, for this voice."""
        if not self.lean or not 0 < confidence < 1:
            return confidence
        if self.lean > 0 and has_number(words):
            return confidence
        return 1 / (1 + exp(-(log(confidence / (1 - confidence)) + self.lean)))


UNTUNED = Tuning()
