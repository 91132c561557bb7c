"""Knurling: the diameter on which a knurl's teeth come out even.

A knurl that does not divide the circumference cuts a second track. Geometry; that a piece grows
by up to the depth of the teeth when knurled is common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal

from assistant.calc.exact import in_unit, positive, shown, system
from assistant.calc.trig import PI, cos
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import Quantity, magnitude, quantity

DIAMETRAL_PITCHES = (64, 96, 128, 160)
"""Of diametral pitch knurls (ASME B94.6, from memory)."""
_ROUNDING = {"nearest": ROUND_HALF_UP, "below": ROUND_FLOOR, "above": ROUND_CEILING}


@dataclass(frozen=True, slots=True)
class KnurlBlank:
    """A diameter that suits a knurl."""

    teeth: int
    """Ridges round the work."""
    diameter: Quantity
    change: Quantity
    """From the diameter that was meant; negative where the blank is smaller."""


def knurl_blank(
    dia: Quantity, pitch: Quantity, helix: Quantity | None = None, rule: str = "nearest"
) -> KnurlBlank:
    """The diameter near `dia` on which a knurl of circular `pitch` comes out even: N P / pi.

    `pitch` is measured square to the teeth; at a `helix` angle (30 degrees for a diamond knurl)
    it is longer round the work, P / cos. `rule` is `nearest`, `below` or `above`.
    """
    angle = magnitude(helix, "degree") if helix is not None else Decimal(0)
    if not 0 <= angle < 60:
        raise BadInput("helix", f"{angle:f} deg", "wanted 0 to less than 60 degrees")
    unit = system(positive("diameter", dia))
    around = in_unit(positive("pitch", pitch), unit) / cos(angle)
    return _blank(in_unit(dia, unit), around / PI, unit, rule, shown(dia))


def knurl_blank_dp(dia: Quantity, diametral_pitch: int, rule: str = "nearest") -> KnurlBlank:
    """The diameter near `dia` for a diametral pitch knurl: N / DP inches.

    Any multiple of 1/32 in suits all four standard pitches, 64, 96, 128 and 160.
    """
    if diametral_pitch < 1:
        raise BadInput("diametral pitch", diametral_pitch, "wanted 64, 96, 128 or 160")
    unit = system(positive("diameter", dia))
    tooth = in_unit(quantity(Decimal(1) / diametral_pitch, "inch"), unit)
    return _blank(in_unit(dia, unit), tooth, unit, rule, shown(dia))


def _blank(dia: Decimal, tooth: Decimal, unit: str, rule: str, text: str) -> KnurlBlank:
    if rule not in _ROUNDING:
        raise BadInput("rule", rule, "wanted nearest, below or above")
    teeth = int((dia / tooth).to_integral_value(_ROUNDING[rule]))
    if teeth < 3:
        raise ImpossibleInput("diameter", text, "too small for this knurl: fewer than three teeth")
    size = (teeth * tooth).quantize(Decimal("1e-15")).normalize()
    return KnurlBlank(teeth, quantity(size, unit), quantity(size - dia, unit))
