"""Limits of a size: the one rule for what is short of them, inside, and past saving.

A size is held against its limits as they are said and shown, in their places: what is said to be
on one is on it. What was measured counts a place finer: half a thou past a limit is past it.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from assistant.spoken.figure import Figure
from assistant.spoken.rounding import as_judged, as_shown
from assistant.units import Quantity


class Standing(StrEnum):
    """How a measured size lies to its limits."""

    SHORT = "short"
    """Metal is still to come off."""
    IN = "in"
    PAST = "past"
    """Too much has come off: no cut brings it back."""


@dataclass(frozen=True, slots=True)
class Limits:
    """Least and most of a size; one of them may be missing."""

    low: Quantity | None
    high: Quantity | None
    places: int
    """Decimal places in which they are told, in their own unit; a size counts a place finer."""
    grows: bool = False
    """Whether cutting makes the size larger: the low limit is met first."""
    too_far: str = "too deep"
    """What it means to be past the last one."""

    @property
    def first(self) -> Quantity | None:
        """The limit that cutting meets first."""
        return self.low if self.grows else self.high

    @property
    def last(self) -> Quantity | None:
        """The limit that no cut may go past."""
        return self.high if self.grows else self.low

    def shown(self, limit: Quantity, unit: str) -> Quantity:
        """A limit in `unit`, `inch` or `mm`, as it is said and shown."""
        return as_shown(limit, Figure(limit, "", self.places), unit)

    def judged(self, size: Quantity, unit: str) -> Quantity:
        """A measured size in `unit`, as it is held against them."""
        one = self.first if self.first is not None else self.last
        return as_judged(size, Figure(size if one is None else one, "", self.places), unit)

    def short_by(self, size: Quantity, unit: str) -> Quantity | None:
        """How far the size is from the first limit, positive where metal is still to come off;
        None without one."""
        if self.first is None:
            return None
        left: Quantity = self.judged(size, unit) - self.shown(self.first, unit)
        signed: Quantity = left * (-1 if self.grows else 1)
        return signed

    def past_by(self, size: Quantity, unit: str) -> Quantity | None:
        """How far the size is beyond the last limit, positive where it is; None without one."""
        if self.last is None:
            return None
        gone: Quantity = self.shown(self.last, unit) - self.judged(size, unit)
        signed: Quantity = gone * (-1 if self.grows else 1)
        return signed

    def standing(self, size: Quantity, unit: str) -> Standing:
        """Short of them, inside or past, as told in `unit`."""
        short, past = self.short_by(size, unit), self.past_by(size, unit)
        if short is not None and short.magnitude > 0:
            return Standing.SHORT
        return Standing.PAST if past is not None and past.magnitude > 0 else Standing.IN
