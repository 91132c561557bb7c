"""Results of calculations as plain data for JSON.

A size is a decimal string, exact, in the unit named beside it; a fraction is text such as
'3/8'; whole numbers, words, yes-or-no and nothing are themselves. Nothing is rounded here.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pint

from assistant.calc.calculation import Json, Output
from assistant.calc.exact import in_unit
from assistant.units import ureg

BY_SYSTEM = {
    "length": ("inch", "mm"),
    "speed": ("foot/minute", "meter/minute"),
    "feed": ("inch/minute", "mm/minute"),
    "removal": ("inch**3/minute", "cm**3/minute"),
}
"""Kinds whose unit is inch or metric as the first size given was."""
SYMBOLS = {
    "inch": "in", "mm": "mm", "foot/minute": "ft/min", "meter/minute": "m/min",
    "inch/minute": "in/min", "mm/minute": "mm/min", "inch**3/minute": "in3/min",
    "cm**3/minute": "cm3/min", "rpm": "rpm", "degree": "deg", "second": "s", "minute": "min",
    "hour": "h", "inch/foot": "in/ft", "inch/inch": "in/in", "percent": "%",
}  # fmt: skip
_PLAIN = {"count", "counts", "number", "numbers", "fraction", "text", "yes or no", "points"}


def unit_of(output: Output, metric: bool) -> str:
    """The unit that a field is answered in, as pint names it; empty for plain numbers and words."""
    if output.unit in BY_SYSTEM:
        return BY_SYSTEM[output.unit][metric]
    return "" if output.unit in _PLAIN else output.unit


def symbol(unit: str) -> str:
    """How a unit is written beside a figure: `in`, `ft/min`."""
    return SYMBOLS.get(unit, unit)


def is_metric(given: Sequence[Any]) -> bool:
    """Whether the first size among the values given is in a metric unit."""
    for value in given:
        first = value[0] if isinstance(value, tuple) and value else value
        if isinstance(first, pint.Quantity):
            if first.check("[]") or first.units == ureg.degree or first.check("1/[time]"):
                continue
            return "meter" in str(first.units)
    return False


def encode(value: Any, unit: str) -> Json:
    """One value, or tuples and mappings of them, as plain data with sizes in `unit`."""
    if value is None or isinstance(value, (bool, int, str)):
        return value
    if isinstance(value, pint.Quantity):
        return decimal_text(in_unit(value, unit or str(value.units)))
    if isinstance(value, Decimal):
        return decimal_text(value)
    if isinstance(value, Fraction):
        return str(value)
    if isinstance(value, Mapping):
        return {str(key): encode(item, unit) for key, item in value.items()}
    if isinstance(value, Sequence):
        return [encode(item, unit) for item in value]
    raise TypeError(f"a calculation returned {type(value).__name__}, which has no JSON form")


def decimal_text(value: Decimal) -> str:
    """A Decimal without exponent or trailing zeros."""
    text = f"{value:f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def fields(returned: Any, outputs: Sequence[Output]) -> dict[str, Any]:
    """The fields of what a function returned: attributes, keys, or one bare value."""
    if len(outputs) == 1 and not _has(returned, outputs[0].name):
        return {outputs[0].name: returned}
    if isinstance(returned, Mapping):
        return {output.name: returned[output.name] for output in outputs}
    return {output.name: getattr(returned, output.name) for output in outputs}


def _has(returned: Any, name: str) -> bool:
    if isinstance(returned, Mapping):
        return name in returned
    return not isinstance(returned, (pint.Quantity, Decimal, Fraction)) and hasattr(returned, name)
