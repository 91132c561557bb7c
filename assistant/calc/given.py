"""Reads what was given for a calculation: text to a value of the input's kind.

Each error names the input, the text and what would be right. Kinds: `calc.calculation.Kind`.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal, InvalidOperation
from fractions import Fraction
from typing import Any

import pint

from assistant.calc.calculation import Input
from assistant.calc.exact import in_unit
from assistant.errors import BadInput
from assistant.units import Quantity, parse_length, quantity

_HAS_UNIT = re.compile(r'[A-Za-z"]\s*$')
_RATE = re.compile(r"^\s*([-+]?(?:\d+\.?\d*|\.\d+))\s*([a-zA-Z/]+)\s*$")
_DEGREES = re.compile(
    r"""^\s*(?P<sign>[-+])?(?P<deg>\d+\.?\d*|\.\d+)\s*(?:d|deg|degrees?|°)?
        (?:\s*(?P<min>\d+\.?\d*)\s*(?:m|min|'|′))?
        (?:\s*(?P<sec>\d+\.?\d*)\s*(?:s|sec|"|″))?\s*$""",
    re.VERBOSE,
)
_FRACTION = re.compile(r"^\s*([-+])?(?:(\d+)\s*[- ]\s*)?(\d+)\s*/\s*(\d+)\s*$")
_SPEEDS = {
    "ft/min": "foot/minute", "sfm": "foot/minute", "fpm": "foot/minute", "m/min": "meter/minute",
}  # fmt: skip
_FEEDS = {
    "in/min": "inch/minute", "ipm": "inch/minute", "mm/min": "mm/minute", "m/min": "meter/minute",
}  # fmt: skip
LARGEST = Decimal("1e9")
"""Numbers beyond it are slips of the keyboard."""


def read(text: str, about: Input) -> Any:
    """The value of `text` for one input; raises `BadInput` outside its kind or its limits."""
    value = _READERS[about.unit](str(text).strip(), about)
    _check_limits(value, text, about)
    return value


def _check_limits(value: Any, text: str, about: Input) -> None:
    if about.choices and value not in about.choices:
        raise BadInput(about.name, text, f"choose one of {', '.join(about.choices)}")
    for item in value if isinstance(value, tuple) else (value,):
        if about.above is not None and not _size(item) > _size(_limit(about.above, about, item)):
            raise BadInput(about.name, text, f"must be more than {about.above}")
        if about.low is not None and _size(item) < _size(_limit(about.low, about, item)):
            raise BadInput(about.name, text, f"must be {about.low} or more")
        if about.high is not None and _size(item) > _size(_limit(about.high, about, item)):
            raise BadInput(about.name, text, f"must be {about.high} or less")


def _limit(text: str, about: Input, like: Any) -> Any:
    if isinstance(like, pint.Quantity) and text == "0":
        return quantity(0, str(like.units))
    one = {"lengths": "length", "counts": "count", "numbers": "number"}.get(about.unit, about.unit)
    return _READERS[one](text, about)


def _size(value: Any) -> Any:
    """Quantities of one kind in one unit, so that they compare without noise."""
    if isinstance(value, pint.Quantity):
        return in_unit(value, str(value.to_base_units().units))
    return value


def _number(text: str, about: Input) -> Decimal:
    try:
        if _FRACTION.match(text):
            part = _fraction(text, about)
            value = Decimal(part.numerator) / Decimal(part.denominator)
        else:
            value = Decimal(text)
    except InvalidOperation:
        value = Decimal("NaN")
    if not value.is_finite() or abs(value) > LARGEST:
        raise BadInput(about.name, text, "wanted a number, such as 0.75 or 3/4")
    return value


def _count(text: str, about: Input) -> int:
    if not re.fullmatch(r"[-+]?\d{1,9}", text):
        raise BadInput(about.name, text, "wanted a whole number, such as 7")
    return int(text)


def _fraction(text: str, about: Input) -> Fraction:
    match = _FRACTION.match(text)
    try:
        if match:
            value = Fraction(int(match[3]), int(match[4])) + int(match[2] or 0)
            return -value if match[1] == "-" else value
        value = Fraction(text)
    except (ValueError, ZeroDivisionError):
        raise BadInput(about.name, text, "wanted a fraction, such as 3/64 or 1-1/2") from None
    if abs(value) > LARGEST:
        raise BadInput(about.name, text, "wanted a fraction, such as 3/64 or 1-1/2")
    return value


def _length(text: str, about: Input) -> Quantity:
    if not _HAS_UNIT.search(text):
        raise BadInput(
            about.name, text, "wanted a length with its unit, such as 1-1/2 in, 0.375 in or 8 mm"
        )
    return parse_length(text, "inch", about.name)


def _rate(units: dict[str, str], example: str) -> Callable[[str, Input], Quantity]:
    def rate(text: str, about: Input) -> Quantity:
        match = _RATE.match(text)
        if match is None or match[2].lower() not in units:
            raise BadInput(about.name, text, f"wanted a rate with its unit, such as {example}")
        return quantity(_number(match[1], about), units[match[2].lower()])

    return rate


def _rpm(text: str, about: Input) -> Quantity:
    bare = re.sub(r"\s*(rpm|turns/min|rev/min)$", "", text, flags=re.IGNORECASE)
    return quantity(_number(bare, about), "revolutions_per_minute")


def _degree(text: str, about: Input) -> Quantity:
    match = _DEGREES.match(text)
    if match is None:
        raise BadInput(about.name, text, "wanted an angle, such as 29.5 or 16d42m20s")
    minutes, seconds = Decimal(match["min"] or 0), Decimal(match["sec"] or 0)
    value = Decimal(match["deg"]) + (minutes * 60 + seconds) / 3600
    return quantity(-value if match["sign"] == "-" else value, "degree")


def _yes_or_no(text: str, about: Input) -> bool:
    words = {"yes": True, "true": True, "no": False, "false": False}
    if text.lower() not in words:
        raise BadInput(about.name, text, "answer yes or no")
    return words[text.lower()]


def _many(one: Callable[[str, Input], Any]) -> Callable[[str, Input], tuple[Any, ...]]:
    def many(text: str, about: Input) -> tuple[Any, ...]:
        return tuple(one(part.strip(), about) for part in text.split(",") if part.strip())

    return many


_READERS: dict[str, Callable[[str, Input], Any]] = {
    "length": _length,
    "inch": lambda text, about: parse_length(text, "inch", about.name),
    "mm": lambda text, about: parse_length(text, "mm", about.name),
    "lengths": _many(_length),
    "speed": _rate(_SPEEDS, "90 ft/min or 30 m/min"),
    "feed": _rate(_FEEDS, "7.2 in/min or 96 mm/min"),
    "rpm": _rpm,
    "degree": _degree,
    "count": _count,
    "counts": _many(_count),
    "number": _number,
    "numbers": _many(_number),
    "fraction": _fraction,
    "yes or no": _yes_or_no,
    "text": lambda text, about: text,
}
KINDS = frozenset(_READERS)
