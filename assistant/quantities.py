"""pint's quantities, with what is done with them all day done at once.

pint asks at each sum whether a unit has an offset or is a logarithm, whether an array or another
library's number is meant, and makes its units anew. Nearly every sum here is of decimals in plain
units: that is worked out directly, and the units of a product and the factor between two units
are looked up. Everything else goes to pint, and both come to the same digits, which
`tests/test_quantities.py` holds.
"""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from functools import lru_cache
from typing import TYPE_CHECKING, Any

import pint
from pint.util import UnitsContainer

if TYPE_CHECKING:
    PintQuantity = pint.registry.Quantity[Any]
    PintRegistry = pint.UnitRegistry[Any]
else:
    PintQuantity, PintRegistry = pint.registry.Quantity, pint.UnitRegistry

NUMBERS = (Decimal, int)
DISTINCT = 1024
"""Units, and pairs of them, that are looked up: a job knows some thirty."""


class QuickUnit(pint.registry.Unit):
    """A unit that is put into words once."""

    def __str__(self) -> str:
        return _name(self._REGISTRY, self._units)


class QuickQuantity(PintQuantity):
    """A quantity whose plain sums, comparisons and conversions don't go through all of pint."""

    def __new__(cls, value: Any, units: Any = None) -> Any:
        if type(value) is Decimal and isinstance(units, QuickUnit):
            return _made(cls, value, units._units)
        return super().__new__(cls, value, units)

    def _is_decimal_as(self, other: Any) -> bool:
        """Whether the other is a quantity too, and both are decimals."""
        return type(other) is type(self) and type(self._magnitude) is Decimal is type(
            other._magnitude
        )

    def _alike(self, other: Any) -> bool:
        """Whether both are decimals in the same plain units."""
        return (
            self._is_decimal_as(other)
            and (self._units is other._units or self._units == other._units)
            and _is_plain(self._REGISTRY, self._units)
        )

    def _in_mine(self, other: Any) -> Decimal | None:
        """The other's magnitude in these units; None where it takes more than a factor."""
        if self._alike(other):
            return other._magnitude  # type: ignore[no-any-return]
        if not self._is_decimal_as(other):
            return None
        factor = _factor(self._REGISTRY, other._units, self._units)
        return None if factor is None else other._magnitude * factor

    def magnitude_in(self, unit: Any) -> Decimal:
        """Its magnitude in a unit, as an exact decimal."""
        if self._units is unit._units and type(self._magnitude) is Decimal:
            return self._magnitude
        return Decimal(self.to(unit).magnitude)

    @property
    def unit_name(self) -> str:
        """pint's own name of its unit."""
        return _name(self._REGISTRY, self._units)

    @property
    def units(self) -> Any:
        return _unit(self._REGISTRY, self._units)

    def __add__(self, other: Any) -> Any:
        theirs = self._in_mine(other)
        if theirs is not None:
            return _made(type(self), self._magnitude + theirs, self._units)
        return super().__add__(other)  # type: ignore[no-untyped-call]

    def __sub__(self, other: Any) -> Any:
        theirs = self._in_mine(other)
        if theirs is not None:
            return _made(type(self), self._magnitude - theirs, self._units)
        return super().__sub__(other)  # type: ignore[no-untyped-call]

    def __neg__(self) -> Any:
        return _made(type(self), -self._magnitude, self._units)

    def __abs__(self) -> Any:
        return _made(type(self), abs(self._magnitude), self._units)

    def _mul_div(self, other: Any, magnitude_op: Any, units_op: Any = None) -> Any:
        mine, registry = self._units, self._REGISTRY
        if type(self._magnitude) is Decimal and _is_plain(registry, mine):
            if type(other) in NUMBERS:
                return _made(type(self), magnitude_op(self._magnitude, other), mine)
            if self._is_decimal_as(other) and _is_plain(registry, other._units):
                units = _worked(units_op or magnitude_op, mine, other._units)
                return _made(type(self), magnitude_op(self._magnitude, other._magnitude), units)
        return super()._mul_div(other, magnitude_op, units_op)

    def __eq__(self, other: object) -> Any:
        if self._alike(other):
            return self._magnitude == other._magnitude  # type: ignore[attr-defined]
        return super().__eq__(other)

    def __ne__(self, other: object) -> Any:
        return not self.__eq__(other)

    def __hash__(self) -> int:
        """Alike for what is equal, as pint's is."""
        root = _to_root(self._REGISTRY, self._units) if type(self._magnitude) is Decimal else None
        return super().__hash__() if root is None else hash((root[0], self._magnitude * root[1]))

    def compare(self, other: Any, op: Callable[[Any, Any], Any]) -> Any:
        """The comparison behind `<` and its like; of different units, in the units at their root,
        as pint does it."""
        if self._alike(other):
            return op(self._magnitude, other._magnitude)
        if self._is_decimal_as(other):
            mine, theirs = (_to_root(self._REGISTRY, one._units) for one in (self, other))
            if mine is not None and theirs is not None and mine[0] == theirs[0]:
                return op(self._magnitude * mine[1], other._magnitude * theirs[1])
        return super().compare(other, op)

    def __bool__(self) -> bool:
        if _is_plain(self._REGISTRY, self._units):
            return bool(self._magnitude)
        return bool(super().__bool__())

    def check(self, dimension: Any) -> bool:
        """Whether it has that dimension."""
        if isinstance(dimension, str):
            return _has(self._REGISTRY, self._units, dimension)
        return bool(super().check(dimension))

    def to(self, other: Any = None, *contexts: Any, **ctx_kwargs: Any) -> Any:
        """The same in another unit."""
        if type(self._magnitude) is Decimal and not contexts and not ctx_kwargs:
            unit = _named(self._REGISTRY, other) if isinstance(other, str) else other
            if isinstance(unit, QuickUnit):
                if self._units is unit._units or self._units == unit._units:
                    return _made(type(self), self._magnitude, unit._units)
                factor = _factor(self._REGISTRY, self._units, unit._units)
                if factor is not None:
                    return _made(type(self), self._magnitude * factor, unit._units)
        return super().to(other, *contexts, **ctx_kwargs)


class QuickRegistry(PintRegistry):
    """pint's registry, whose quantities and units are those above."""

    Quantity = QuickQuantity
    Unit = QuickUnit


def _made(kind: type[QuickQuantity], magnitude: Decimal, units: UnitsContainer) -> QuickQuantity:
    made = object.__new__(kind)
    made._magnitude, made._units = magnitude, units
    return made


@lru_cache(DISTINCT)
def _unit(registry: Any, units: UnitsContainer) -> Any:
    return registry.Unit(units)


@lru_cache(DISTINCT)
def _named(registry: Any, name: str) -> Any:
    return registry.Unit(name)


@lru_cache(DISTINCT)
def _name(registry: Any, units: UnitsContainer) -> str:
    return str(registry.formatter.format_unit(registry.Unit(units)))


@lru_cache(DISTINCT)
def _is_plain(registry: Any, units: UnitsContainer) -> bool:
    """Whether nothing of such a unit is nothing of any other: it has no offset, is no logarithm,
    and is no difference of such."""
    if any(name.startswith("delta_") for name in units):
        return False
    try:
        return bool(registry.Quantity(Decimal(0), units).to_base_units().magnitude == 0)
    except (pint.errors.PintError, TypeError):  # a logarithm takes no decimals
        return False


@lru_cache(DISTINCT)
def _has(registry: Any, units: UnitsContainer, dimension: str) -> bool:
    return bool(registry.get_dimensionality(units) == registry.get_dimensionality(dimension))


@lru_cache(DISTINCT)
def _worked(operation: Any, one: UnitsContainer, other: UnitsContainer) -> UnitsContainer:
    """The units of a product or a quotient."""
    made: UnitsContainer = operation(one, other)
    return made


@lru_cache(DISTINCT)
def _factor(registry: Any, one: UnitsContainer, other: UnitsContainer) -> Decimal | None:
    """How many of the other unit one is; None where it takes more than a factor."""
    if not (_is_plain(registry, one) and _is_plain(registry, other)):
        return None
    try:
        return Decimal(registry.convert(Decimal(1), one, other))
    except pint.errors.DimensionalityError:
        return None


@lru_cache(DISTINCT)
def _to_root(registry: Any, units: UnitsContainer) -> tuple[UnitsContainer, Decimal] | None:
    """The units that pint compares in, and how many of them one is; None as in `_factor`."""
    root: UnitsContainer = registry.get_root_units(units)[1]._units
    factor = _factor(registry, units, root)
    return None if factor is None else (root, factor)
