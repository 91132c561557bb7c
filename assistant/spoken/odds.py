"""A confidence as log odds and back: what speaks for it and against it can be added there."""

from __future__ import annotations

from math import exp, log

FARTHEST = 30.0
"""Nats beyond which a share is 0 or 1 for any purpose, and `exp` might overflow."""


def log_odds(share: float, bound: float = 0.0) -> float:
    """Natural logarithm of `share` to its opposite, in nats; `share` from 0 to 1.

    With `bound` (0 to 0.5) a share counts as that far from 0 and from 1 at least. Raises
    `ValueError` for 0 or 1 without one.
    """
    inside = min(1 - bound, max(bound, share))
    if not 0 < inside < 1:
        raise ValueError(f"{share} has no log odds: wanted more than 0 and less than 1")
    return log(inside / (1 - inside))


def share_of(odds: float) -> float:
    """The share, 0 to 1, whose log odds are `odds`."""
    return 1 / (1 + exp(-max(-FARTHEST, min(FARTHEST, odds))))
