"""How sure the ear is: 0 to 1, from what can be told apart of a hearing."""

from __future__ import annotations

import re
from dataclasses import dataclass
from difflib import SequenceMatcher
from itertools import pairwise
from math import log
from statistics import fmean

from assistant.devices.moonshine.nearness import nearness
from assistant.spoken.odds import log_odds, share_of
from assistant.spoken.written import DIGITS, TEENS, TENS, has_number, written

SECONDS_A_SYLLABLE = 0.2
"""Of read numbers; common practice, no source."""
SILENCE_SECONDS = 0.6
"""Silence that the ear is given with an utterance, before and after."""
MOST_TWINS = 2


@dataclass(frozen=True, slots=True)
class Evidence:
    """What was measured about one hearing. Scores in nats."""

    words: str
    free: tuple[str, ...]
    """What the model wrote unheld, of each version of the sound."""
    lead: float
    """Score of the sentence less that of the best one of another gist."""
    shortfalls: tuple[float, ...]
    """Of each version, score of the free text less that of the sentence: how much the grammar had
    to force."""
    seconds: float
    """Length of the sound."""
    clarity: float
    """How clearly it stands out, see clarity.py. In dB."""

    @property
    def features(self) -> tuple[float, ...]:
        """The numbers that the weights are for."""
        spoken = syllables(self.words)
        shortfall = fmean(max(-2.0, min(each, 20.0)) for each in self.shortfalls)
        # Log of how much slower than usual it would have been spoken.
        pace = log(max(0.1, self.seconds - SILENCE_SECONDS) / (SECONDS_A_SYLLABLE * spoken))
        figures = [_figures(self.words, text) for text in self.free]
        lead = min(self.lead, 6.0)
        return (
            lead,
            # To lead among sentences that all had to be forced says little.
            lead * max(0.0, min(1.0, shortfall / spoken)),
            float(min(MOST_TWINS, twins(self.words))),
            shortfall,
            shortfall / spoken,
            fmean(nearness(self.words, text) for text in self.free),
            max(0.0, pace - 0.3),
            log(spoken),
            fmean(same for same, _, _ in figures),
            fmean(apart for _, apart, _ in figures),
            max(only for _, _, only in figures),
        )


def twins(words: str) -> int:
    """How many numbers in `words` have one that is all but the same in sound: sixteen and sixty.

    Sixty-five has none, for no one says sixteen five.
    """
    said = words.split()
    return sum(
        one in TEENS[3:] or (one in TENS and following not in DIGITS[1:])
        for one, following in pairwise([*said, ""])
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


WEIGHTS = (
    0.541, 0.705, -0.288, -0.605, -0.076, -0.472, 2.231, -2.902, -0.893, 0.805, 0.571, -1.088,
)  # fmt: skip
"""Constant and one weight a feature, by `python -m earbench.fit` (scripts/earbench): of 2,443
hearings, three fifths of them number sentences of the tuning voices (a third of those by the voice
joe, of the same making with seed 22), a fifth talk, the rest other phrases and AN4's `train`
speakers."""
CAUTION, UNCLEAR = 1.5, 1.5
"""Nats taken off the log odds of a sentence with a number where it might be taken, and that many
more where the sound is muddy: a wrong one taken costs more than a right one asked back."""
CLEAR, MUDDY = 8.5, 6.5
"""Clarity in dB, down to which nothing more is taken off, and from which on all of it."""
HARDLY, LIKELY = log_odds(0.15), log_odds(0.6)
"""Below the first nothing is asked about, from the second on a number may be taken; between them
caution grows with the odds, so that no sentence is met with silence for having a number in it."""


def confidence(evidence: Evidence) -> float:
    """Probability that the sentence is the one that was said."""
    constant, *weights = WEIGHTS
    odds = constant + sum(w * f for w, f in zip(weights, evidence.features, strict=True))
    if has_number(evidence.words):
        odds = cautious(odds, evidence.clarity)
    return share_of(odds)


def cautious(odds: float, clarity: float) -> float:
    """Log odds of a sentence with a number, for the asking: never more, and in the same order."""
    muddy = max(0.0, min(1.0, (CLEAR - clarity) / (CLEAR - MUDDY)))
    caution = CAUTION + UNCLEAR * muddy
    return odds - caution * max(0.0, min(1.0, (odds - HARDLY) / (LIKELY + caution - HARDLY)))


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
