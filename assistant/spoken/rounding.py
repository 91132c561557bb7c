"""The one rounding: the number of a size that is said, shown, and counted from when it is told.

Everything before it is exact. Ties go away from zero, as on paper. A length has one place fewer in
millimetres than in inches, so that a hundredth and half a thou are held alike.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

from assistant.spoken.figure import Figure
from assistant.units import Quantity, magnitude, quantity, unit_name

FINER = 1
"""Places beyond those of its limits in which a measured size is judged."""


def round_places(value: Decimal, places: int) -> Decimal:
    """`value` to `places` decimals, ties away from zero, and never a negative zero."""
    rounded = value.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)
    return abs(rounded) if rounded == 0 else rounded


def judged(size: Decimal, places: int) -> Decimal:
    """A measured size as it is held against a limit told in so many `places`: a place finer, since
    half a thou past a limit is past it. No finer: a size told in the other unit has digits that
    nobody measured."""
    return round_places(size, places + FINER)


def places_in(figure: Figure, unit: str) -> int:
    """Decimal places of a length in `unit`, `inch` or `mm`; a figure's own are for its own unit."""
    shift = (unit == "inch") - (unit_name(figure.value) == "inch")
    return max(0, figure.places + shift)


def as_shown(size: Quantity, figure: Figure, unit: str) -> Quantity:
    """A length in `unit`, rounded as `figure` is where it is said and shown in that unit."""
    return quantity(round_places(magnitude(size, unit), places_in(figure, unit)), unit)


def as_judged(size: Quantity, figure: Figure, unit: str) -> Quantity:
    """A measured length in `unit`, as it is held against limits that are shown as `figure` is."""
    return quantity(judged(magnitude(size, unit), places_in(figure, unit)), unit)
