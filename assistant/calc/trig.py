"""Trigonometry in degrees: the one module where floats are used.

Arguments and results are Decimal. A result is kept to 15 significant digits and 15 places, all
that a float holds, so that sin 30 is 0.5 and not 0.49999999999999994.
"""

from __future__ import annotations

import math
from decimal import Decimal

PI = Decimal("3.141592653589793238462643383280")
"""To 31 digits, for circumferences; more than the Decimal context keeps."""


def _decimal(value: float) -> Decimal:
    # 15 places as well as 15 digits, or cos 90 would be 6E-17 and not 0.
    return Decimal(f"{round(value, 15):.15g}")


def sin(degrees: Decimal) -> Decimal:
    """Sine of an angle in degrees."""
    return _decimal(math.sin(math.radians(degrees)))


def cos(degrees: Decimal) -> Decimal:
    """Cosine of an angle in degrees."""
    return _decimal(math.cos(math.radians(degrees)))


def tan(degrees: Decimal) -> Decimal:
    """Tangent of an angle in degrees; the caller keeps away from 90."""
    return _decimal(math.tan(math.radians(degrees)))


def asin(ratio: Decimal) -> Decimal:
    """The angle in degrees, -90 to 90, whose sine is `ratio` (-1 to 1, else ValueError)."""
    return _decimal(math.degrees(math.asin(ratio)))


def acos(ratio: Decimal) -> Decimal:
    """The angle in degrees, 0 to 180, whose cosine is `ratio` (-1 to 1, else ValueError)."""
    return _decimal(math.degrees(math.acos(ratio)))


def atan(ratio: Decimal) -> Decimal:
    """The angle in degrees, -90 to 90, whose tangent is `ratio`."""
    return _decimal(math.degrees(math.atan(ratio)))


def atan2(rise: Decimal, run: Decimal) -> Decimal:
    """The angle in degrees, -180 to 180, of the direction `run` along and `rise` up."""
    return _decimal(math.degrees(math.atan2(rise, run)))
