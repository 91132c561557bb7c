"""The quick quantities come to what pint's own come to: digits, units, and errors.

Held against a registry of pint itself, over every pair of the units below.
"""

from __future__ import annotations

import operator
from decimal import Decimal
from functools import lru_cache
from itertools import pairwise, product
from typing import Any

import pint
import pytest

from assistant.quantities import QuickRegistry
from assistant.units import ureg

UNITS = (
    "inch", "mm", "thou", "degree", "turn", "dimensionless", "rpm", "inch/minute", "mm/turn",
    "m/minute", "inch**2", "mm/inch", "degC", "kelvin", "delta_degC", "degC/m",
)  # fmt: skip
"""Those of the program, and some with an offset, or a difference of such."""
TWO = (operator.add, operator.sub, operator.mul, operator.truediv, operator.eq, operator.ne,
       operator.lt, operator.le, operator.gt, operator.ge)  # fmt: skip
ONE = (operator.neg, operator.abs, bool, str, repr, lambda size: str(size.units),
       lambda size: size.dimensionality)  # fmt: skip
NUMBERS = (0, 1, -3, Decimal("0.7"), 2.5, None, "inch", True)
SIZES = (*map(Decimal, ("0", "1", "25.4", "-0.0625", "137.9218")), Decimal(1) / 3)
"""The last has all the digits that a sum keeps."""


def registry(kind: type[pint.UnitRegistry[Any]]) -> Any:
    made: Any = kind(non_int_type=Decimal, cache_folder=None)
    made.define("thou = 0.001 * inch")
    return made


PINT, QUICK = registry(pint.UnitRegistry), registry(QuickRegistry)


def outcome(work: Any, *of: Any) -> Any:
    """What comes of it, as plain data: an error is one too."""
    try:
        made = work(*of)
    except Exception as error:
        return type(error), str(error).replace("QuickQuantity", "Quantity")
    if hasattr(made, "magnitude"):
        return type(made.magnitude), str(made.magnitude), str(made.units), dict(made._units)
    return str(made) if hasattr(made, "items") else made


def both(work: Any, *made: Any) -> None:
    assert outcome(work, *(one(QUICK) for one in made)) == outcome(
        work, *(one(PINT) for one in made)
    )


@lru_cache
def unit_of(of: Any, name: str) -> Any:
    return of.Unit(name)


def size(number: Any, unit: str) -> Any:
    return lambda of: of.Quantity(number, unit_of(of, unit))


@pytest.mark.parametrize("one", UNITS)
def test_two_of_any_units(one: str) -> None:
    pairs = [*pairwise(SIZES), (SIZES[0], SIZES[0]), (SIZES[2], SIZES[2])]
    for other, (first, second) in product(UNITS, pairs):
        for work in TWO:
            both(work, size(first, one), size(second, other))


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize("number", [*SIZES[2:], 3, 2.5])
def test_one_by_itself_in_other_units_and_with_plain_numbers(unit: str, number: Any) -> None:
    for work in ONE:
        both(work, size(number, unit))
    for other in UNITS:
        both(lambda it, to=other: it.to(unit_of(it._REGISTRY, to)), size(number, unit))
    both(lambda it: it.to("mm"), size(number, unit))
    for work, plain in product(TWO, NUMBERS):
        both(lambda it, work=work, plain=plain: work(it, plain), size(number, unit))
        both(lambda it, work=work, plain=plain: work(plain, it), size(number, unit))


def test_what_is_equal_has_one_hash() -> None:
    assert len({QUICK.Quantity(Decimal(number), unit) for number, unit in (
        ("1", "inch"), ("25.4", "mm"), ("1000", "thou")
    )}) == 1  # fmt: skip


def test_the_program_has_the_quick_ones() -> None:
    assert isinstance(ureg, QuickRegistry)
    assert isinstance(ureg.Quantity(1, "inch"), QUICK.Quantity.__mro__[1])


def test_the_units_of_the_program_are_those_of_pint() -> None:
    names = ("mm", "m", "inch", "foot", "thou", "degree", "arcminute", "radian", "turn", "second",
             "minute", "hour", "rpm", "dimensionless", "inch/minute", "m/minute", "mm/turn",
             "foot/minute", "inch/foot", "1/inch")  # fmt: skip
    third = Decimal(1) / 3
    for one, other in product(names, names):
        assert outcome(lambda it, to=other: it.to(to), ureg.Quantity(third, one)) == outcome(
            lambda it, to=other: it.to(to), PINT.Quantity(third, one)
        )
