"""How sure the ear is: 0 to 1, from what can be told apart of a hearing."""

from __future__ import annotations

import re
from dataclasses import dataclass
from difflib import SequenceMatcher
from math import exp, log

from assistant.devices.moonshine.nearness import nearness
from assistant.devices.moonshine.written import DIGITS, TEENS, TENS, has_number, written

SECONDS_A_SYLLABLE = 0.2
"""Of read numbers; common practice, no source."""
SILENCE_SECONDS = 0.6
"""Silence that the ear is given with an utterance, before and after."""


@dataclass(frozen=True, slots=True)
class Evidence:
    """What was measured about one hearing. Scores in nats."""

    words: str
    free: str
    """What the model wrote unheld."""
    lead: float
    """Score of the sentence less that of the best one of another gist."""
    shortfall: float
    """Score of the free text less that of the sentence: how much the grammar had to force."""
    seconds: float
    """Length of the sound."""

    @property
    def features(self) -> tuple[float, ...]:
        """The numbers that the weights are for."""
        spoken = syllables(self.words)
        shortfall = max(-2.0, min(self.shortfall, 20.0))
        # Log of how much slower than usual it would have been spoken.
        pace = log(max(0.1, self.seconds - SILENCE_SECONDS) / (SECONDS_A_SYLLABLE * spoken))
        return (
            min(self.lead, 6.0),
            shortfall,
            shortfall / spoken,
            nearness(self.words, self.free),
            max(0.0, pace - 0.3),
            log(spoken),
            *_figures(self.words, self.free),
        )


def _figures(words: str, free: str) -> tuple[float, float, float]:
    """Whether both hold the same figures; else how far they are apart; else whether only the free
    text holds any."""
    heard, unheld = (re.sub("[^0-9]", "", written(text)) for text in (words, free))
    if not heard:
        return 0.0, 0.0, float(bool(unheld))
    if heard == unheld:
        return 1.0, 0.0, 0.0
    return 0.0, 1 - SequenceMatcher(None, heard, unheld, autojunk=False).ratio(), 0.0


WEIGHTS = (-0.891, 0.704, -0.172, -0.416, 2.323, -3.111, -0.413, 0.554, -0.432, -0.694)
"""Constant and one weight a feature, by `python -m earbench.fit` (scripts/earbench)."""
CAUTION = 1.0
"""Taken off the log odds of a sentence with a number: a wrong one taken costs more than a right
one asked back. Without it plain commands let 5 of 617 wrong hearings pass, most of them talk."""


def confidence(evidence: Evidence) -> float:
    """Probability that the sentence is the one that was said."""
    constant, *weights = WEIGHTS
    caution = CAUTION if has_number(evidence.words) else 0.0
    total = constant - caution + sum(w * f for w, f in zip(weights, evidence.features, strict=True))
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
