"""A figure's number in the words of the shop, from the same rounding as the figures on screen."""

from __future__ import annotations

from decimal import Decimal

from assistant.phrases import saying
from assistant.present.formatting import shown_value
from assistant.spoken import Figure, SlotKind
from assistant.units import Quantity, magnitude, quantity

_RATE_WORDS = {
    "revolutions_per_minute": "revs",
    "inch / minute": "inches a minute",
    "millimeter / minute": "millimetres a minute",
    "foot / minute": "feet a minute",
    "meter / minute": "metres a minute",
    "second": "seconds",
    "second / turn": "seconds a turn",
    "inch / turn": "a turn",
    "millimeter / turn": "millimetres a turn",
}


def number_words(value: Figure | Quantity, unit: str = "") -> str:
    """The number as the ear gets it: `nine forty and a half`, `one eighty revs`.

    Lengths are in `unit`; below an inch they are said in thou without the word, as on a dial.
    """
    shown = shown_value(value, unit)
    own = str(shown.units)
    if own in ("inch", "millimeter"):
        if shown.magnitude < 0:
            return f"minus {saying.say_reading(quantity(-shown.magnitude, own), system_of(own))}"
        return saying.say_reading(shown, system_of(own))
    if own == "turn":
        return saying.say_turn_count(Decimal(shown.magnitude))
    if own == "degree":
        return saying.say_angle(shown)
    if own == "inch / turn":  # a feed is said in thou: `four thou a turn`
        return f"{saying.say_length(quantity(shown.magnitude, 'inch'), 'inch')} a turn"
    words = saying.say_rate(Decimal(shown.magnitude))
    if own in ("inch / minute", "second", "second / turn") and shown.magnitude == 1:
        return f"{words} {_RATE_WORDS[own].replace('inches', 'inch').replace('seconds', 'second')}"
    return f"{words} {_RATE_WORDS.get(own, '')}".rstrip()


def told_words(value: Quantity, kind: SlotKind = SlotKind.LENGTH, unit: str = "") -> str:
    """A value just told, in its unambiguous form: `three thou`, `one six six six`, `two over`."""
    match kind:
        case SlotKind.LENGTH if value.check("[length]"):
            return saying.say_length(value, system_of(unit or str(value.units)))
        case SlotKind.DEVIATION:
            return saying.say_deviation(value, system_of(unit or str(value.units)))
        case SlotKind.READING if value.check("[length]"):
            return saying.say_reading(value)
        case SlotKind.TURNS:
            return saying.say_turn_count(magnitude(value, "turn"))
        case SlotKind.ANGLE:
            return saying.say_angle(value)
        case SlotKind.COUNT:
            return saying.say_plain(Decimal(value.magnitude))
        case _:
            return number_words(value, unit)


def difference_words(size: Quantity, unit: str = "") -> str:
    """How much two sizes differ, without a sign: `two`, `half a thou`, `five hundredths`."""
    system = system_of(unit or str(size.units))
    gap = shown_value(size, system)
    return saying.say_deviation(quantity(abs(gap.magnitude), system), system).removesuffix(" over")


def system_of(unit: str) -> str:
    """`inch` or `mm`, whichever the unit belongs to."""
    return "mm" if "meter" in unit or unit == "mm" else "inch"


def in_dial_unit(part: Decimal, unit: str) -> Quantity:
    """A part of a turn as a length."""
    return quantity(part, unit)
