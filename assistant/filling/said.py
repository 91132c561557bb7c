"""Sizes and words of a file, as they are said."""

from __future__ import annotations

from decimal import Decimal

from assistant.filling.values import rule_fraction
from assistant.phrases import saying
from assistant.phrases.typed import fraction_words
from assistant.present.numbers import told_words
from assistant.textfile import visible
from assistant.units import Quantity, magnitude, unit_name

SAID = {"mm": "millimetres", "inch": "inches"}


def size_words(size: Quantity, unit: str) -> str:
    """A size as it is read back: a fraction of the rule where it is one, else as in the work."""
    inches = None if "meter" in unit_name(size) else magnitude(size, "inch")
    fraction = None if inches is None else rule_fraction(inches)
    if fraction is None or fraction[0] > 99:
        return told_words(size, unit="mm" if inches is None else unit and "inch")
    whole, above, below = fraction
    words = " ".join(fraction_words(above, below))
    if not whole:
        return words
    inch = "inch" if whole == 1 else "inches"
    return f"{saying.say_plain(Decimal(whole))} {inch} and {words}"


def choice_words(value: str) -> str:
    """A word of a job file, or the name of one, as it is said."""
    bare = value.replace("-", " ")
    return SAID.get(value) or visible(bare if bare.replace(" ", "").isalpha() else value)
