"""The one unit registry, and how sizes are read from text.

All arithmetic is in `Decimal`: a size given as 0.1405 in stays 0.1405 in until it is shown.
`Quantity` is used everywhere for values with a unit; compare and convert with pint's methods.
"""

from __future__ import annotations

import re
from decimal import Decimal, InvalidOperation
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING, Any, TypeGuard

import pint

from assistant.errors import BadInput
from assistant.quantities import QuickRegistry

UNITS = """
pi = 3.1415926535897932384626433832795028841971693993751 = π
milli- = 1e-3 = m-
centi- = 1e-2 = c-
meter = [length] = m = metre
second = [time] = s = sec
radian = [] = rad
turn = 2 * π * radian = _ = revolution = cycle = circle
degree = π / 180 * radian = deg
arcminute = degree / 60 = arcmin
minute = 60 * second = min
hour = 60 * minute = h = hr
yard = 0.9144 * metre = yd
foot = yard / 3 = ft
inch = yard / 36 = in
thou = 0.001 * inch
tenth = 0.0001 * inch
revolutions_per_minute = revolution / minute = rpm
"""
"""The units of the trade, worded as in pint's own file but for `thou` and the shop's `tenth`, which
is never 0.1. All of pint's units would take half the time of a start to read."""

ureg: pint.UnitRegistry[Any] = QuickRegistry(
    UNITS.splitlines(), non_int_type=Decimal, cache_folder=None
)
pint.set_application_registry(ureg)  # type: ignore[no-untyped-call]

if TYPE_CHECKING:
    Quantity = pint.Quantity[Any]
else:
    Quantity = ureg.Quantity

INCH = ureg.inch
MM = ureg.mm

_LENGTH = re.compile(
    r"""^\s*(?P<sign>[-+])?\s*
        (?:(?P<whole>\d+)\s*[- ]\s*(?=\d+\s*/))?      # 1-1/2 or 1 1/2
        (?:(?P<num>\d+)\s*/\s*(?P<den>\d+)|(?P<dec>\d+\.?\d*|\.\d+))
        \s*(?P<unit>[A-Za-z"]+)?\s*$""",
    re.VERBOSE,
)
_FOOT, _THOU, _TENTH = Fraction(12), Fraction(1, 1000), Fraction(1, 10000)
_UNIT_WORDS: dict[str, tuple[str, Fraction]] = {
    **dict.fromkeys(("in", "inch", "inches", '"'), ("inch", Fraction(1))),
    **dict.fromkeys(("thou", "thousandths"), ("inch", _THOU)),
    **dict.fromkeys(("tenth", "tenths"), ("inch", _TENTH)),
    **dict.fromkeys(("ft", "foot", "feet"), ("inch", _FOOT)),
    **dict.fromkeys(
        ("mm", "millimetre", "millimetres", "millimeter", "millimeters"), ("mm", Fraction(1))
    ),
    **dict.fromkeys(("um", "micron", "microns"), ("mm", Fraction(1, 1000))),
    "cm": ("mm", Fraction(10)),
    "m": ("mm", Fraction(1000)),
}
"""A unit as it may be written -> what the length is kept in, and how many of those it is."""
LARGEST_LENGTH = Decimal(100)  # metres; longer is a slip of the keyboard, not a part


@lru_cache(maxsize=256)
def _unit(name: str) -> Any:
    """The unit of that name: parsing names is most of the cost of making a quantity."""
    return ureg.Unit(name)


def unit_name(size: Quantity) -> str:
    """pint's own name of a quantity's unit: `inch`, `millimeter` ..."""
    return size.unit_name  # type: ignore[no-any-return]


def is_quantity(value: object) -> TypeGuard[Quantity]:
    """Whether `value` is a quantity, in words the type checker understands."""
    return isinstance(value, ureg.Quantity)


def quantity(value: Decimal | int | str | Fraction, unit: str) -> Quantity:
    """A quantity with a Decimal magnitude; a Fraction is divided once, at 28 digits."""
    if type(value) is Decimal:
        magnitude = value
    elif isinstance(value, Fraction):
        magnitude = Decimal(value.numerator) / Decimal(value.denominator)
    else:
        magnitude = Decimal(value)
    return ureg.Quantity(magnitude, _unit(unit))


def inches(value: Decimal | int | str | Fraction) -> Quantity:
    """`value` in inches."""
    return quantity(value, "inch")


def mm(value: Decimal | int | str | Fraction) -> Quantity:
    """`value` in millimetres."""
    return quantity(value, "mm")


def magnitude(size: Quantity, unit: str) -> Decimal:
    """The magnitude of `size` in `unit`, as an exact Decimal."""
    return size.magnitude_in(_unit(unit))  # type: ignore[no-any-return]


def parse_length(text: str | int | float | Decimal, unit: str, field: str = "length") -> Quantity:
    """Read `1-1/2 in`, `0.375`, `8 mm`, `3/8`, `3 thou`; a bare number is in `unit`.

    What comes of it is in inches or millimetres, however it was written: the places shown and the
    words said go by these two. Raises `BadInput` that names `field` for anything else, for NaN
    and infinity, and for a length over 100 m.
    """
    match = _LENGTH.match(str(text))
    want = "wanted a length such as 1-1/2 in, 0.375 in or 8 mm"
    if match is None:
        if "," in str(text):
            want = f"wanted a point, not a comma: {str(text).strip().replace(',', '.')}"
        raise BadInput(field, text, want)
    unit_word = match["unit"] or unit
    known = _UNIT_WORDS.get(unit_word.lower())
    if known is None:
        raise BadInput(field, text, f"unknown unit {unit_word!r}: use in, mm or thou")
    kept_in, each = known
    try:
        if match["num"]:
            size = Fraction(int(match["num"]), int(match["den"])) + int(match["whole"] or 0)
        else:
            size = Fraction(Decimal(match["dec"]))
    except (ZeroDivisionError, InvalidOperation):
        raise BadInput(field, text, want) from None
    if match["sign"] == "-":
        size = -size
    result = quantity(size * each, kept_in)
    if abs(result) > quantity(LARGEST_LENGTH, "m"):
        raise BadInput(field, text, "longer than 100 m: check the unit")
    return result


def unit_symbol(unit: str) -> str:
    """The symbol shown for a unit: `in`, `mm`, `rpm` ..."""
    return {"inch": "in", "revolutions_per_minute": "rpm"}.get(unit, unit)


class Unit(StrEnum):
    """What a job, a size or a dial is in, and how finely one works in it. It is its name, as it
    stands in files and journals: `Unit(job.unit)` where that is all there is."""

    INCH = "inch"
    MM = "mm"

    @classmethod
    def _missing_(cls, value: object) -> Unit | None:
        return cls.MM if value == "millimeter" else None  # pint's own name

    @property
    def plural(self) -> str:
        """As it is said: `inches`."""
        return "inches" if self is Unit.INCH else "millimetres"

    @property
    def places(self) -> int:
        """Decimal places of what is measured with a micrometer: a tenth of a thou, 0.01 mm."""
        return 4 if self is Unit.INCH else 2

    @property
    def coarse_places(self) -> int:
        """Places of depths, and of sizes whose limits are given to 0.001 in or 0.01 mm."""
        return 3 if self is Unit.INCH else 2

    @property
    def fine_places(self) -> int:
        """Places of threads, blocks and feeds a turn: a tenth of a thou, 0.001 mm."""
        return 4 if self is Unit.INCH else 3

    def size(self, inch: str, mm: str) -> Quantity:
        """A size that is usual, in this unit: round in either, and so not quite the same."""
        return quantity(inch if self is Unit.INCH else mm, self.value)
