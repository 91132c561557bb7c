"""How sure the ear is: 0 to 1, from what can be told apart of a hearing."""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import exp, log

from assistant.devices.moonshine.written import DIGITS, TEENS, TENS

SECONDS_A_SYLLABLE = 0.2
"""Of read numbers; common practice, no source."""
SILENCE_SECONDS = 0.6
"""Silence that the ear is given with an utterance, before and after."""


@dataclass(frozen=True, slots=True)
class Evidence:
    """What was measured about one hearing. Scores in nats."""

    lead: float
    """Score of the sentence less that of the best one of another gist, at most 10."""
    shortfall: float
    """Score of the free text less that of the sentence: how much the grammar had to force."""
    near: float
    """Nearness in sound of the free text, 0 to 1."""
    syllables: int
    seconds: float
    """Length of the sound."""

    @property
    def features(self) -> tuple[float, ...]:
        """The numbers that the weights are for."""
        # Log of how much slower than usual it would have been spoken, in either direction.
        pace = log(max(0.1, self.seconds - SILENCE_SECONDS) / (SECONDS_A_SYLLABLE * self.syllables))
        return (
            min(self.lead, 6.0),
            max(-2.0, min(self.shortfall, 20.0)),
            max(-2.0, min(self.shortfall, 20.0)) / self.syllables,
            self.near,
            max(0.0, pace - 0.3),
            max(0.0, -pace - 0.3),
            log(self.syllables),
        )


WEIGHTS = (0.0, 1.0, -0.1, -0.2, 4.0, -1.0, -1.0, 0.0)
"""Constant and one weight a feature."""


def confidence(evidence: Evidence) -> float:
    """Probability that the sentence is the one that was said."""
    constant, *weights = WEIGHTS
    total = constant + sum(w * f for w, f in zip(weights, evidence.features, strict=True))
    return 1 / (1 + exp(-max(-30.0, min(30.0, total))))


def syllables(words: str) -> int:
    """About how many syllables `words` has; at least 1."""
    return max(1, sum(_KNOWN.get(word) or _count(word) for word in words.split()))


def _count(word: str) -> int:
    """Groups of vowels, without a silent e at the end."""
    bare = re.sub(r"(?<=[^aeiouyltdcshxz])e(?=s?$|d$)|(?<=[tdcsz])e$|(?<=[chsx])e(?=d$)", "", word)
    return max(1, len(re.findall(r"[aeiouy]+", bare)))


_KNOWN = {
    **dict.fromkeys(DIGITS, 1),
    **dict.fromkeys(TEENS, 2),
    **dict.fromkeys(TENS, 2),
    "ten": 1, "twelve": 1, "eleven": 3, "seventeen": 3, "seventy": 3, "seven": 2, "zero": 2,
    "it's": 1, "i'm": 1, "that's": 1, "what's": 1, "quiet": 2, "millimeter": 4, "millimeters": 4,
    "dial": 1, "cutter": 2,
}  # fmt: skip
