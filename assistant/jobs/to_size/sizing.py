"""A size that goes in step with a depth: how a cut is measured, and where in its limits it aims.

    size = at zero depth + slope x depth

The slope is +1 for a depth gauge or a slot that widens, -1 for the floor to the opposite side,
-2 across flats that are both cut to one dial reading.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property, lru_cache

from assistant.fields import Fields
from assistant.spoken import Figure, Term
from assistant.spoken.limits import Limits, Standing
from assistant.units import Quantity, magnitude, quantity


@lru_cache(maxsize=4096)
def sized(size: Decimal, unit: str) -> Quantity:
    """A magnitude as a size. Kept: a plan says the same few sizes hundreds of times, and making
    a quantity is the dear part of it."""
    return quantity(size, unit)


@dataclass(frozen=True)
class Sizing:
    """What is measured, in the job's unit."""

    what: str
    """In shop words: `across the flats`."""
    gauge: str
    low: Decimal
    high: Decimal
    at_zero: Decimal
    """The size at no depth: the stock; nothing for a depth."""
    unit: str
    slope: Decimal = Decimal(1)
    places: int = 3
    too_far: str = "too deep"
    """What it means to be past the last limit."""
    advice: str = "Too deep. Ask before you go on."
    """Said when it is past it."""
    terms: tuple[Term, ...] = ()
    source: str = ""
    how: str = ""
    """A word on how to measure it, spoken before the size."""

    @property
    def grows(self) -> bool:
        """Whether cutting makes it larger."""
        return self.slope > 0

    def depth_of(self, size: Decimal) -> Decimal:
        """The depth at which it measures so."""
        return (size - self.at_zero) / self.slope

    def size_of(self, depth: Decimal) -> Decimal:
        """What it measures at a depth."""
        return self.at_zero + self.slope * depth

    @property
    def least(self) -> Decimal:
        """The least depth that is inside the limits."""
        return min(self.depth_of(self.low), self.depth_of(self.high))

    @property
    def most(self) -> Decimal:
        """The most depth that is inside the limits."""
        return max(self.depth_of(self.low), self.depth_of(self.high))

    @cached_property
    def limits(self) -> Limits:
        """Its limits, in the places in which they are told."""
        low, high = sized(self.low, self.unit), sized(self.high, self.unit)
        return Limits(low, high, self.places, self.grows, self.too_far)

    def standing(self, size: Decimal) -> Standing:
        """Short of the limits, inside, or past them; the size as it was measured."""
        return self.limits.standing(quantity(size, self.unit), self.unit)

    def inside(self, size: Decimal) -> Decimal:
        """How far it is past the limit that is met first."""
        return size - self.low if self.grows else self.high - size

    @property
    def figure(self) -> Figure:
        """The size to be measured, with its limits: the limit that is met first stands for it."""
        low, high = sized(self.low, self.unit), sized(self.high, self.unit)
        first = low if self.grows else high
        return Figure(first, self.what, self.places, self.terms, source=self.source,
                      low=low, high=high)  # fmt: skip


@dataclass(frozen=True)
class Toleranced:
    """A size of the drawing with its limits, in the job's unit."""

    nominal: Decimal
    low: Decimal
    high: Decimal

    def aim(self, inside: Decimal) -> Decimal:
        """Nominal, where that is `inside` the limits or more; else so far inside them, and never
        past their middle."""
        room = min(inside, (self.high - self.low) / 2)
        return min(max(self.nominal, self.low + room), self.high - room)


USUAL = {"inch": "0.005", "mm": "0.1"}
"""Tolerance, plus and minus, where the job gives none: common practice, no source."""


def toleranced(fields: Fields, key: str, unit: str) -> Toleranced:
    """A size with `KEY_plus` and `KEY_minus`, or the usual tolerance where neither is given."""
    size = magnitude(fields.length(key, unit), unit)
    silent = f"{key}_plus" not in fields.table and f"{key}_minus" not in fields.table
    usual = USUAL[unit] if silent else "0"
    plus = magnitude(fields.length(f"{key}_plus", unit, quantity(usual, unit), zero_ok=True), unit)
    minus = magnitude(
        fields.length(f"{key}_minus", unit, quantity(usual, unit), zero_ok=True), unit
    )
    if plus + minus == 0:
        fields.fail(f"{key}_plus", "0", "no size is cut exactly: give it a tolerance")
    if minus >= size:
        fields.fail(f"{key}_minus", str(minus), f"must be less than the size, {size}")
    return Toleranced(size, size - minus, size + plus)


def in_words(size: Decimal, unit: str) -> str:
    """A small size as it is said: `2.5 thou`, `0.3 millimetres`."""
    if unit == "inch":
        return f"{(size * 1000).normalize():f} thou"
    return f"{size.normalize():f} millimetres"


def in_job(size: Quantity, unit: str) -> Decimal:
    """The magnitude in the job's unit."""
    return magnitude(size, unit)
