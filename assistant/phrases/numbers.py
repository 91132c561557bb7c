"""From words to number: every reading of a size, a dial, a speed, an angle or a count.

>>> [str(r.quantity) for r in read_number("one fifty", SlotKind.LENGTH, "inch")]
['0.150 inch', '1.50 inch']
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import cache

from assistant.errors import BadInput
from assistant.phrases import dials, lengths, rates
from assistant.phrases.expression import Node, Sentence
from assistant.phrases.reading import Reading
from assistant.phrases.words import normal
from assistant.spoken import SlotKind
from assistant.units import ureg

FREE = "free"
"""As the unit of a COUNT slot: any string of figures or size, kept as it was said."""

_BY_UNIT: dict[SlotKind, dict[str, Node]] = {
    SlotKind.LENGTH: {"inch": lengths.inch_length, "mm": lengths.mm_length},
    SlotKind.DEVIATION: {"inch": dials.inch_deviation, "mm": dials.mm_deviation},
    SlotKind.READING: {"inch": dials.inch_reading, "mm": dials.mm_reading},
}
_SHORT_NAMES = {
    " / ": "/",
    "millimeter": "mm",
    "revolutions_per_minute": "rpm",
    "revolution_per_minute": "rpm",
    "meter": "m",
}
_ANY_UNIT: dict[SlotKind, Node] = {
    SlotKind.TURNS: dials.turns,
    SlotKind.ANGLE: rates.angle,
    SlotKind.COUNT: rates.count,
}


@cache
def unit_name(unit: str) -> str:
    """One name for a unit however it is spelled: `inch / minute` and `in/min` are `inch/minute`.

    Raises `BadInput` for what is no unit.
    """
    try:
        name = str(ureg.Unit(unit))
    except Exception as error:  # pint raises its own, and those of Python's tokenizer
        raise BadInput("unit", unit, f"not a unit: {error}") from None
    for long, short in _SHORT_NAMES.items():
        name = name.replace(long, short)
    return name


@cache
def number_phrase(kind: SlotKind, unit: str) -> Node:
    """The tree of every way to say a number of `kind` where a bare one is in `unit`.

    Raises `BadInput` for a kind that holds no number or a unit that the kind has not.
    """
    if kind is SlotKind.RATE:
        return rates.rate(unit_name(unit) if unit else "rpm")
    if kind is SlotKind.COUNT and unit == FREE:
        return rates.free_number
    if kind in _ANY_UNIT:
        return _ANY_UNIT[kind]
    if kind not in _BY_UNIT:
        raise BadInput("kind", kind, "a slot of this kind holds no number")
    unit = unit_name(unit or "inch")
    if unit not in _BY_UNIT[kind]:
        raise BadInput("unit", unit, f"a {kind} is read in inch or mm")
    return _BY_UNIT[kind][unit]


def read_number(words: str, kind: SlotKind, unit: str = "inch") -> tuple[Reading, ...]:
    """Every reading of `words` as a number of `kind`, the likeliest first; none if it is no number.

    `unit` is that of a bare number: `inch` or `mm` for sizes, `rpm`, `inch/minute` ... for a rate.
    """
    said = Sentence(normal(words).split())
    parses = number_phrase(kind, unit).read(said, 0)
    return distinct(values[0] for end, values in parses if end == len(said))


def distinct(readings: Iterable[Reading]) -> tuple[Reading, ...]:
    """The readings without those that mean the same as one before them."""
    seen: dict[tuple[object, ...], Reading] = {}
    for reading in readings:
        key = (reading.value, reading.unit, reading.turns, reading.text)
        known = seen.get(key)
        if known is not None:
            reading = replace(
                known,
                doubtful=known.doubtful and reading.doubtful,
                plain=known.plain or reading.plain,
            )
        seen[key] = reading
    return tuple(seen.values())
