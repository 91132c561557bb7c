"""The values inside events as plain JSON and back, exactly.

Whatever JSON lacks is an object whose `@` names what it is: `decimal`, `quantity`, `time`, `set`,
`map`, an enumeration of `ENUMS`, or a registered class with all its fields; a tuple is a list.
Decimals are strings, so that 0.1405 stays 0.1405. Only registered names are ever built: nothing
that a file says is looked up among the program's other classes.
"""

from __future__ import annotations

import dataclasses
import json
import sys
from collections.abc import Callable, Mapping
from datetime import datetime
from decimal import Decimal
from enum import StrEnum
from functools import cache, lru_cache
from types import MappingProxyType
from typing import Any

from assistant.errors import JournalError
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Ground, OneOfMany, Overrun, Step
from assistant.machine import Axis, Machine
from assistant.session.state import Change, Differs, How, Phase, Question
from assistant.spoken import DialMove, Figure, Intent, SlotKind, Term, Wheel
from assistant.units import Quantity, quantity, unit_name, ureg

NAMED: tuple[type, ...] = (
    Plan, Figure, Term, Wheel, DialMove, Intent, Question, Machine, Axis, Differs, Change,
    OneOfMany,
)  # fmt: skip
"""Classes that may stand inside an event, besides everything derived from `Step`."""

ENUMS: tuple[type[StrEnum], ...] = (Phase, Ground, How, Overrun, SlotKind)

LONGEST_UNIT = 100

NEWER = "the journal was written by a newer program, or is damaged"


def subclasses(root: type[Any]) -> list[type[Any]]:
    """All classes below `root`, by the modules that are loaded."""
    found: list[type[Any]] = []
    for kind in root.__subclasses__():
        # A dataclass with slots is a second class made from the first, which stays among the
        # subclasses: the one meant is the one that its module names.
        if getattr(sys.modules[kind.__module__], kind.__name__, None) is kind:
            found += [kind, *subclasses(kind)]
    return found


def inner_types() -> Mapping[str, type]:
    """Every class that may stand inside an event, by name."""
    return _inner_types(len(Step.__subclasses__()))


@lru_cache(maxsize=1)
def _inner_types(count: int) -> Mapping[str, type]:
    return {kind.__name__: kind for kind in (*NAMED, *subclasses(Step))}


@cache
def field_names(kind: Any) -> tuple[str, ...]:
    """The names of a dataclass's fields, in order."""
    return tuple(field.name for field in dataclasses.fields(kind))


@cache
def _required(kind: Any) -> frozenset[str]:
    missing = dataclasses.MISSING
    fields = dataclasses.fields(kind)
    return frozenset(f.name for f in fields if f.default is missing is f.default_factory)


# -- writing ------------------------------------------------------------------------------------


def to_plain(value: Any) -> Any:
    """`value` as JSON can hold it. Raises `TypeError` for what can't be kept exactly."""
    writer = _WRITERS.get(type(value))
    if writer is None:
        writer = _WRITERS[type(value)] = _writer_for(value)
    return writer(value)


def _writer_for(value: object) -> Callable[[Any], Any]:
    kind: Any = type(value)
    tag: str = kind.__name__
    if kind in ENUMS:
        return lambda member: {"@": tag, "is": str(member)}
    if inner_types().get(tag) is kind:
        names = field_names(kind)
        return lambda whole: {
            "@": tag,
            **{name: to_plain(getattr(whole, name)) for name in names},
        }
    raise TypeError(f"{tag} is not registered in {__name__} ({value!r})")


def _write_quantity(value: Quantity) -> dict[str, Any]:
    amount = value.magnitude
    if type(amount) is int:
        amount = Decimal(amount)
    if type(amount) is not Decimal or not amount.is_finite():
        raise TypeError(f"{value!r} has no finite decimal magnitude")
    return {"@": "quantity", "is": f"{amount} {unit_name(value)}"}


def _write_decimal(value: Decimal) -> dict[str, Any]:
    if not value.is_finite():
        raise TypeError(f"{value} is not a finite number")
    return {"@": "decimal", "is": str(value)}


def _write_time(value: datetime) -> dict[str, Any]:
    if value.tzinfo is None:
        raise TypeError(f"{value} has no time zone")
    return {"@": "time", "is": value.isoformat()}


def _write_set(value: frozenset[Any]) -> dict[str, Any]:
    # Sorted by their text, so that equal sets are written equally.
    parts = [to_plain(part) for part in value]
    return {"@": "set", "is": sorted(parts, key=lambda part: json.dumps(part, sort_keys=True))}


def _write_map(value: Mapping[Any, Any]) -> dict[str, Any]:
    return {"@": "map", "is": [[to_plain(key), to_plain(part)] for key, part in value.items()]}


def _itself(value: Any) -> Any:
    return value


_WRITERS: dict[type, Callable[[Any], Any]] = {
    **dict.fromkeys((type(None), bool, int, float, str), _itself),
    tuple: lambda value: [to_plain(part) for part in value],
    frozenset: _write_set,
    dict: _write_map,
    MappingProxyType: _write_map,
    Decimal: _write_decimal,
    datetime: _write_time,
    ureg.Quantity: _write_quantity,
}


# -- reading ------------------------------------------------------------------------------------


class Reader:
    """Reads the values of one event, or of all events of a job one after another.

    What was read before becomes the same object again, since all of it is immutable: equal
    quantities (a plan says the same few sizes hundreds of times, and making a quantity is dear),
    and the parts in which a plan worked out anew is equal to the plan before it (most of it).
    """

    def __init__(self) -> None:
        self._quantities: dict[str, Quantity] = {}
        self._types = inner_types()
        self._parts: dict[tuple[str, str | int], tuple[Any, Any]] = {}
        """The steps, results and other parts of the last plan, each as it was written and as it
        was read."""

    def read(self, plain: Any) -> Any:
        """The value that `to_plain` wrote. Raises `JournalError` for anything else."""
        kind = type(plain)
        if kind is dict:
            tag = plain.get("@")
            known = self._types.get(tag) if type(tag) is str else None
            if known is None:
                return self._tagged(tag, plain)
            return self._plan(plain) if known is Plan else self.build(known, plain)
        if kind is list:
            return tuple([self.read(part) for part in plain])
        return plain

    def build(self, kind: Any, fields: Mapping[str, Any]) -> Any:
        """An object of `kind` with these plain fields; one that is missing gets its default."""
        read = self.read
        try:
            # Most values are plain text: not calling `read` for those halves the time.
            return kind(
                **{
                    name: part if type(part) is str else read(part)
                    for name, part in fields.items()
                    if name != "@"
                }
            )
        except (TypeError, ValueError) as error:
            raise JournalError(_misfit(kind, fields) or f"{kind.__name__}: {error}") from error

    def _plan(self, fields: Mapping[str, Any]) -> Any:
        parts = {
            name: tuple([self._again(name, _label(one, place), one)
                         for place, one in enumerate(part)])
            if type(part) is list else part
            for name, part in fields.items()
        }  # fmt: skip
        return self.build(Plan, parts)

    def _again(self, field: str, label: str | int, plain: Any) -> Any:
        """What was read last time under that label, where the same is written there again."""
        known = self._parts.get((field, label))
        # to compare what was written takes a tenth of the time of making objects from it
        if known is not None and known[0] == plain:
            return known[1]
        value = self.read(plain)
        self._parts[field, label] = (plain, value)
        return value

    def _tagged(self, tag: Any, plain: Mapping[str, Any]) -> Any:
        reader = _READERS.get(tag) if type(tag) is str else None
        if reader is None:
            raise JournalError(f"{tag!r} is unknown to this program: {NEWER}")
        try:
            return reader(self, plain["is"])
        except (KeyError, TypeError, ValueError, ArithmeticError, AttributeError) as error:
            raise JournalError(f"{tag} can't be read from {str(plain)[:80]}: {error}") from error

    def quantity(self, text: str) -> Quantity:
        """The quantity in `0.0405 inch`."""
        known = self._quantities.get(text)
        if known is None:
            amount, _, unit = text.partition(" ")
            if not 0 < len(unit) <= LONGEST_UNIT:
                raise ValueError(f"{unit[:LONGEST_UNIT]!r} is no unit")
            number = _finite(amount)
            try:
                known = quantity(number, unit)
            except Exception as error:  # pint's parser of units lets many kinds out
                raise ValueError(f"{unit!r} is no unit") from error
            self._quantities[text] = known
        return known


def _label(part: Any, place: int) -> str | int:
    """What a part of a plan is found by again: its `id`, its name, or its place."""
    name = part.get("id") if type(part) is dict else part[0] if type(part) is list and part else ""
    return name if type(name) is str and name else place


def _misfit(kind: Any, fields: Mapping[str, Any]) -> str:
    lacks = _required(kind) - fields.keys()
    if lacks:
        return f"{kind.__name__} lacks its field {min(lacks)!r}"
    odd = fields.keys() - {"@", *field_names(kind)}
    return f"{kind.__name__} has an unknown field {min(odd)!r}: {NEWER}" if odd else ""


def _finite(text: Any) -> Decimal:
    if not isinstance(text, str):
        raise TypeError("a decimal is kept as text")
    number = Decimal(text)
    if not number.is_finite():
        raise ValueError("not a finite number")
    return number


def _read_map(reader: Reader, pairs: Any) -> Mapping[Any, Any]:
    return MappingProxyType({reader.read(key): reader.read(part) for key, part in pairs})


def _enum_reader(kind: type[StrEnum]) -> Callable[[Reader, Any], Any]:
    return lambda reader, text: kind(text)


_READERS: dict[str, Callable[[Reader, Any], Any]] = {
    "quantity": Reader.quantity,
    "decimal": lambda reader, text: _finite(text),
    "time": lambda reader, text: datetime.fromisoformat(text),
    "set": lambda reader, parts: frozenset([reader.read(part) for part in parts]),
    "map": _read_map,
    **{kind.__name__: _enum_reader(kind) for kind in ENUMS},
}
