"""Hearing an utterance twice: what both times are sure of counts, what they differ in is doubted.

The second time the sound runs a little slower. What was really said survives that; a mishearing
mostly doesn't. Measured on 70 number sentences of the tuning voices at 15 and 10 dB and from a
far microphone: of 53 that were heard right 46 were heard so again, of 17 misheard ones 2.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import exp, log

import numpy as np
import soxr

from assistant.devices.moonshine.confidence import Evidence, confidence, syllables
from assistant.devices.moonshine.written import has_number
from assistant.ports import RATE, Samples

SLOWER = 1.06
WORTH = 0.1
"""Confidence below which nothing comes of a hearing, so that it needs no second look."""
CERTAIN, CERTAIN_NUMBER = 0.9, 0.97
"""A sentence of some length that is surer than this is heard once: without, and with a number."""
SHORT = 2
"""Syllables. Talk is taken for commands of this length sooner than for others."""
SUREST = 0.99
"""Neither look is believed more than this, nor less than its opposite: else one could outvote
the other."""

ASKED = 0.2
"""What the first look is so sure of is asked back at least, whatever the second one heard: else
a right command would be met with silence."""


@dataclass(frozen=True, slots=True)
class Look:
    """One hearing of an utterance."""

    evidence: Evidence
    """Of its best sentence."""
    others: tuple[tuple[str, float], ...] = ()
    """The next best sentences, and by how many nats each is behind."""

    def chances(self) -> list[tuple[str, float]]:
        """Every sentence with how sure this look is of it, the best first."""
        sure = confidence(self.evidence)
        return [
            (self.evidence.words, sure),
            *((words, sure * exp(-behind)) for words, behind in self.others),
        ]


def wants_another(look: Look) -> bool:
    """Whether what `look` heard should be heard again before anything comes of it."""
    words, sure = look.chances()[0]
    if sure < WORTH:
        return False
    return sure < (CERTAIN_NUMBER if has_number(words) else CERTAIN) or syllables(words) <= SHORT


def slower(sound: Samples) -> Samples:
    """`sound` stretched, and lower by as much."""
    return np.asarray(soxr.resample(sound, RATE, RATE * SLOWER), np.float32)


def agreed(looks: Sequence[Look | None], gist: Callable[[str], str]) -> list[tuple[str, float]]:
    """Sentences with the confidence of all looks together, the best first. None: heard nothing.

    The log odds are averaged, so that a sentence that one look is sure of and another doesn't
    have at all comes out as doubtful.
    """
    chances = [look.chances() if look else [] for look in looks]
    if len(chances) == 1:
        return chances[0]
    tables: list[dict[str, float]] = []
    words: dict[str, str] = {}
    for each in chances:
        table: dict[str, float] = {}
        for said, sure in each:
            table.setdefault(gist(said), sure)
            words.setdefault(gist(said), said)
        tables.append(table)
    together = {
        meant: sum(_log_odds(table.get(meant, 0.0)) for table in tables) / len(tables)
        for meant in words
    }
    best_first = sorted(together.items(), key=lambda item: -item[1])
    agreed_on = [(words[meant], 1 / (1 + exp(-odds))) for meant, odds in best_first]
    best, sure = agreed_on[0]
    if chances[0] and chances[0][0][1] >= ASKED:
        sure = max(sure, ASKED)
    return [(best, sure), *agreed_on[1:]]


def _log_odds(sure: float) -> float:
    bounded = min(SUREST, max(1 - SUREST, sure))
    return log(bounded / (1 - bounded))
