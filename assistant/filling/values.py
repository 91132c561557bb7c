"""Answers as a file has them, and back."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from functools import lru_cache
from itertools import pairwise
from typing import Any

from assistant.errors import BadInput
from assistant.jobs.field import Kind, Value
from assistant.units import Quantity, magnitude, parse_length, unit_name

FINEST = 16
"""A size that is so many parts of an inch is written as a fraction of the rule."""


def rule_fraction(inches: Decimal) -> tuple[int, int, int] | None:
    """Whole inches, numerator and denominator of a size that is on the rule, sixteenths at the
    finest; None for one that isn't, or is whole."""
    parts = inches * FINEST
    if inches <= 0 or parts != parts.to_integral_value() or parts % FINEST == 0:
        return None
    whole, rest = divmod(int(parts), FINEST)
    below = FINEST
    while rest % 2 == 0:
        rest, below = rest // 2, below // 2
    return whole, rest, below


def written_size(size: Quantity) -> str:
    """A size as a job file has it: `1-1/2 in`, `0.377 in`, `8 mm`."""
    if "meter" in unit_name(size):
        return f"{_plain(magnitude(size, 'mm'))} mm"
    inches = magnitude(size, "inch")
    fraction = rule_fraction(inches)
    if fraction is None:
        return f"{_plain(inches)} in"
    whole, above, below = fraction
    return f"{whole}-{above}/{below} in" if whole else f"{above}/{below} in"


def read_size(value: object, unit: str) -> Quantity | None:
    """A size of a job file; None where it is none."""
    if isinstance(value, bool) or not isinstance(value, str | int | Decimal):
        return None
    return _read(value, unit)


@lru_cache(maxsize=1024)
def _read(value: str | int | Decimal, unit: str) -> Quantity | None:
    try:
        return parse_length(value, unit)
    except BadInput:
        return None


def at(table: Mapping[str, Any], key: str) -> object:
    """The value of a key such as `seat.length` or `step.0.length`; None where there is none."""
    here: object = table
    for part in key.split("."):
        if isinstance(here, Mapping):
            here = here.get(part)
        elif isinstance(here, list) and part.isdigit() and int(part) < len(here):
            here = here[int(part)]
        else:
            return None
    return here


def put(table: dict[str, Any], key: str, value: Value) -> None:
    """Put a value where `at` finds it, with the tables on the way."""
    here: Any = table
    parts = key.split(".")
    for part, after in pairwise(parts):
        inner: Any = [] if after.isdigit() else {}
        if isinstance(here, list):
            here.extend({} for _ in range(int(part) + 1 - len(here)))
            here = here[int(part)]
        else:
            here = here.setdefault(part, inner)
    here[parts[-1]] = value


def drop(table: dict[str, Any], key: str) -> None:
    """Take a value out, and the tables that it leaves empty."""
    *way, last = key.split(".")
    here = at(table, ".".join(way)) if way else table
    if isinstance(here, dict):
        here.pop(last, None)
    if way and not here and at(table, ".".join(way)) is not None:
        if way[-1].isdigit():
            entries = at(table, ".".join(way[:-1]))
            if isinstance(entries, list) and int(way[-1]) == len(entries) - 1:
                entries.pop()
                if not entries:
                    drop(table, ".".join(way[:-1]))
        else:
            drop(table, ".".join(way))


def as_toml(table: Mapping[str, Any]) -> str:
    """The text of a job's or a machine's file. Only what those hold: a TOML writer for the whole of
    TOML would be one dependency more for these few lines."""
    lines = [f"{key} = {_literal(value)}" for key, value in table.items() if not _is_table(value)]
    return "\n".join([*lines, *_tables(table, "")]) + "\n"


def _tables(table: Mapping[str, Any], before: str) -> list[str]:
    lines: list[str] = []
    for key, value in table.items():
        for one in value if isinstance(value, list) else [value]:
            if not isinstance(one, Mapping):
                continue
            name = f"{before}{key}"
            own = [f"{k} = {_literal(v)}" for k, v in one.items() if not _is_table(v)]
            if own or isinstance(value, list):  # a table of tables alone needs no line
                lines += ["", f"[[{name}]]" if isinstance(value, list) else f"[{name}]", *own]
            lines += _tables(one, f"{name}.")
    return lines


def _is_table(value: object) -> bool:
    inner = isinstance(value, list) and any(isinstance(one, Mapping) for one in value)
    return isinstance(value, Mapping) or inner


_ESCAPED = {"\\": "\\\\", '"': '\\"', "\t": "\\t", "\n": "\\n", "\r": "\\r"}


def _literal(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list | tuple):
        return f"[{', '.join(map(_literal, value))}]"
    if isinstance(value, int | Decimal):
        return _plain(Decimal(value)) if isinstance(value, Decimal) else str(value)
    return f'"{"".join(map(_letter, str(value)))}"'


def _letter(one: str) -> str:
    if one in _ESCAPED:
        return _ESCAPED[one]
    return one if one.isprintable() else f"\\U{ord(one):08X}"


def _plain(value: Decimal) -> str:
    """Without an exponent, and without noughts that say nothing."""
    text = f"{value:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def fits(kind: Kind, value: object) -> bool:
    """Whether a value of a file is one that a field of this kind may have."""
    match kind:
        case Kind.YES:
            return isinstance(value, bool)
        case Kind.WHOLE:
            return type(value) is int
        case Kind.ANGLE | Kind.NUMBER:
            return isinstance(value, int | Decimal) and not isinstance(value, bool)
        case Kind.LENGTH:
            return isinstance(value, str | int | Decimal) and not isinstance(value, bool)
        case _:
            return isinstance(value, str)
