"""What can be read across a shop, and how long a noise may be borne.

Guidelines as published are in `tables/legibility.csv`, each with its source.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from assistant.calc import trig
from assistant.calc.exact import in_unit, positive, system
from assistant.calc.table import rows
from assistant.errors import BadInput
from assistant.units import Quantity, quantity

FAA_SHARE = Decimal(1) / 200
"""Character height as a share of the viewing distance (FAA rule of thumb)."""
_COLOUR = re.compile(r"^#?([0-9a-fA-F]{6})$")


@dataclass(frozen=True, slots=True)
class Guideline:
    """A published range or value (then `low` and `high` are the same)."""

    what: str
    low: Decimal
    high: Decimal
    unit: str
    source: str


def character_height(distance: Quantity, angle: Decimal = Decimal(20)) -> Quantity:
    """Height of a character that is `angle` minutes of arc high at a viewing distance.

    2 D tan(angle / 2), which NUREG-0700 Rev. 2, guideline 1.3.1-4, prints as 6.283 D A / 21600.
    """
    unit = system(distance)
    far = in_unit(positive("distance", distance), unit)
    if not 0 < angle <= 600:
        raise BadInput("angle", angle, "wanted minutes of arc, more than 0, 600 or less")
    return quantity(2 * far * trig.tan(angle / 120), unit)


def rule_of_thumb_height(distance: Quantity) -> Quantity:
    """Character height by the FAA rule: 1/200 of the viewing distance."""
    unit = system(distance)
    return quantity(in_unit(positive("distance", distance), unit) * FAA_SHARE, unit)


def luminance(colour: str) -> Decimal:
    """Relative luminance 0 to 1 of an sRGB colour such as `#FFBF00` (WCAG 2.x)."""
    match = _COLOUR.match(colour)
    if match is None:
        raise BadInput("colour", colour, "wanted six hexadecimal digits, such as #FFBF00")
    parts = []
    for at in (0, 2, 4):
        value = int(match[1][at : at + 2], 16) / 255
        # WCAG 2.x prints the threshold 0.03928; sRGB itself has 0.04045.
        parts.append(value / 12.92 if value <= 0.03928 else ((value + 0.055) / 1.055) ** 2.4)
    red, green, blue = parts
    return Decimal(f"{0.2126 * red + 0.7152 * green + 0.0722 * blue:.15g}")


def contrast(one: str, other: str) -> Decimal:
    """Contrast ratio 1 to 21 of two sRGB colours: (L1 + 0.05) / (L2 + 0.05), WCAG 2.x."""
    bright, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (bright + Decimal("0.05")) / (dark + Decimal("0.05"))


def noise_time(level: Decimal) -> Quantity:
    """How long a day a noise in dB(A) may be borne: 8 h / 2^((L - 85) / 3).

    NIOSH recommended exposure limit: 85 dB(A) for 8 hours, 3 dB exchange. A guide to asking for
    a measurement, not a measurement; local rules decide.
    """
    if not 0 <= level <= 140:
        raise BadInput("level", level, "wanted 0 to 140 dB(A)")
    hours = Decimal(8) / Decimal(2) ** ((level - 85) / 3)
    return quantity(hours, "hour")


def guideline(name: str) -> Guideline:
    """A published guideline by its name; raises `BadInput` with the names there are."""
    for row in rows("legibility"):
        if row["name"] == name:
            return Guideline(
                row["what"], Decimal(row["low"]), Decimal(row["high"]), row["unit"], row["source"]
            )
    known = ", ".join(row["name"] for row in rows("legibility"))
    raise BadInput("guideline", name, f"choose one of {known}")
