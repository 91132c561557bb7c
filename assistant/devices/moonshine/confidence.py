"""How sure the ear is: 0 to 1, from what can be told apart of a hearing."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp


@dataclass(frozen=True, slots=True)
class Evidence:
    """What was measured about one hearing. Scores in nats."""

    lead: float
    """Score of the sentence less that of the best one that means another thing."""
    shortfall: float
    """Score of the free text less that of the sentence: how much the grammar had to force."""
    near: float
    """Nearness in sound of the free text, 0 to 1."""
    words: int
    seconds: float
    """Length of the sound."""


def confidence(evidence: Evidence) -> float:
    """Probability that the sentence is the one that was said."""
    lead = 1 / (1 + exp(-2 * (evidence.lead - 0.8)))
    fits = 1 / (1 + exp(-8 * (evidence.near - 0.5) + 0.3 * max(0.0, evidence.shortfall - 6)))
    return lead * fits
