"""The quick sums of the bench: fractions and decimals, inches and millimetres, half of, add."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from assistant.calc.exact import in_unit, system
from assistant.errors import BadInput
from assistant.units import Quantity, inches, quantity

DENOMINATORS = (2, 4, 8, 16, 32, 64, 128)
"""Those of a shop's rules and drills."""


@dataclass(frozen=True, slots=True)
class NearestFraction:
    """The fraction of an inch nearest to a size."""

    fraction: Fraction
    size: Quantity
    difference: Quantity
    """The size asked for less the fraction: positive where the fraction is smaller."""


def fraction_to_decimal(fraction: Fraction) -> Quantity:
    """A fraction of an inch in inches; exact for the fractions of a rule."""
    return inches(fraction)


def nearest_fraction(size: Quantity, denominator: int = 64) -> NearestFraction:
    """The nearest fraction of an inch with at most this denominator (2, 4, ... 128)."""
    if denominator not in DENOMINATORS:
        known = ", ".join(str(d) for d in DENOMINATORS)
        raise BadInput("denominator", denominator, f"choose one of {known}")
    exact = Fraction(in_unit(size, "inch"))
    near = Fraction(round(exact * denominator), denominator)
    return NearestFraction(
        near, inches(near), quantity(in_unit(size, "inch") - in_unit(inches(near), "inch"), "inch")
    )


def to_mm(size: Quantity) -> Quantity:
    """A size in millimetres; an inch is 25.4 mm exactly."""
    return quantity(in_unit(size, "mm"), "mm")


def to_inches(size: Quantity) -> Quantity:
    """A size in inches; an inch is 25.4 mm exactly."""
    return quantity(in_unit(size, "inch"), "inch")


def to_metric_speed(surface_speed: Quantity) -> Quantity:
    """A surface speed in m/min; a foot is 0.3048 m exactly."""
    return quantity(in_unit(surface_speed, "meter/minute"), "meter/minute")


def add(first: Quantity, second: Quantity) -> Quantity:
    """Two sizes together, in the unit of the first."""
    unit = system(first)
    return quantity(in_unit(first, unit) + in_unit(second, unit), unit)


def take_away(first: Quantity, second: Quantity) -> Quantity:
    """The first size less the second, in the unit of the first."""
    unit = system(first)
    return quantity(in_unit(first, unit) - in_unit(second, unit), unit)


def half(size: Quantity) -> Quantity:
    """Half of a size."""
    unit = system(size)
    return quantity(in_unit(size, unit) / Decimal(2), unit)
