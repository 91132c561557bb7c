"""Exact Decimal sizes: units without noise, square roots, whole-number division.

pint divides by 25.4 at 28 digits, so that 25.4 mm comes out as 0.9999...95 in. Before sizes are
compared with a limit, or whole turns are counted, that noise in the last digits is rounded off.
"""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal

from assistant.errors import ImpossibleInput
from assistant.units import Quantity, quantity, unit_name

NOISE = Decimal("1e-20")
"""Far below any size that can be measured, far above the error of one conversion."""

_LONG = {"mm": "millimeter", "in": "inch", "m": "meter", "ft": "foot"}
"""pint's own name of a unit, as `str(quantity.units)` gives it."""
_METRIC = {"millimeter", "meter", "centimeter", "micrometer"}


def in_unit(size: Quantity, unit: str) -> Decimal:
    """The magnitude of `size` in `unit`, with the noise of the conversion rounded off."""
    if unit_name(size) == _LONG.get(unit, unit):  # only a conversion adds noise
        return Decimal(size.magnitude)
    value = Decimal(size.to(unit).magnitude)
    if abs(value) >= 10**7:
        return value
    tidy = value.quantize(NOISE).normalize()
    return tidy.quantize(Decimal(1)) if tidy == tidy.to_integral_value() else tidy  # 30, not 3E+1


def as_unit(size: Quantity, unit: str) -> Quantity:
    """`size` in `unit`, free of the noise of the conversion."""
    return quantity(in_unit(size, unit), unit)


def system(size: Quantity) -> str:
    """`mm` for a size given in a metric unit, else `inch`: the unit to answer in."""
    return "mm" if unit_name(size) in _METRIC else "inch"


def positive(field: str, size: Quantity) -> Quantity:
    """`size` itself; raises `ImpossibleInput` where it is zero or less."""
    if not size.magnitude > 0:
        raise ImpossibleInput(field, shown(size), "must be more than zero")
    return size


def shown(size: Quantity) -> str:
    """A size for an error message: `1.5 in`, `8 mm`."""
    unit = system(size)
    value = in_unit(size, unit).quantize(Decimal("0.00001")).normalize()
    return f"{value:f} {'in' if unit == 'inch' else unit}"


def plain(value: Decimal) -> str:
    """A size without its unit for an error message, as fine as anything here is measured:
    `0.1333`, never twenty digits of a sum."""
    return f"{value.quantize(Decimal('0.0001')).normalize():f}"


def leg(hypotenuse: Decimal, other: Decimal) -> Decimal:
    """The third side of a right triangle, sqrt(c^2 - a^2), as a Decimal square root."""
    return ((hypotenuse - other) * (hypotenuse + other)).sqrt()


def whole(value: Decimal) -> int:
    """The largest whole number at or below `value` (Decimal's own // goes toward zero)."""
    return int(value.to_integral_value(rounding=ROUND_FLOOR))


def wrap(value: Decimal, turn: Decimal) -> Decimal:
    """`value` brought to 0 up to one `turn`, exactly."""
    rest = value % turn
    return rest + turn if rest < 0 else rest


def to_step(value: Decimal, step: Decimal, rounding: str = ROUND_HALF_UP) -> Decimal:
    """`value` set to a whole multiple of `step` by one of decimal's rounding modes."""
    return (value / step).quantize(NOISE).to_integral_value(rounding=rounding) * step


def at_least(value: Decimal, step: Decimal) -> int:
    """How many steps are needed to cover `value`."""
    return int((value / step).quantize(NOISE).to_integral_value(rounding=ROUND_CEILING))
