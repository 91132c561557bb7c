"""Tapers: per foot and by angle, set on the compound or by the tailstock, and put right.

A taper is given on the *diameter*: 0.5 in a foot is 1/4 in a side. Tables often print the half
angle, which is what the compound is set to; here each angle says which it is.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.exact import in_unit, positive, shown
from assistant.calc.table import rows
from assistant.calc.trig import atan, sin, tan
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import Quantity, inches, magnitude, quantity

NOT_BY_COMPOUND = (
    "a 7/24 taper is not cut by compound: it must seat in a ground spindle; have it ground"
)
FAMILIES = ("morse", "brown-sharpe", "7/24")


@dataclass(frozen=True, slots=True)
class Taper:
    """A taper said every way."""

    ratio: Decimal
    """Change of diameter over length: 0.05 is 1 in 20."""
    taper_per_foot: Quantity
    """On the diameter, inches a foot."""
    half_angle: Quantity
    """From the centre line: what the compound is set to."""
    included_angle: Quantity


def taper(ratio: Decimal) -> Taper:
    """A taper from its change of diameter over length (a ratio, more than 0, less than 2)."""
    if not 0 < ratio < 2:
        raise ImpossibleInput("taper", f"{ratio:f} a unit of length", "wanted between 0 and 2")
    half = atan(ratio / 2)
    return Taper(
        ratio=ratio,
        taper_per_foot=quantity(ratio * 12, "inch/foot"),
        half_angle=quantity(half, "degree"),
        included_angle=quantity(2 * half, "degree"),
    )


def taper_per_foot(per_foot: Decimal) -> Taper:
    """A taper from inches a foot on the diameter."""
    return taper(per_foot / 12)


def taper_from_angle(included: Quantity) -> Taper:
    """A taper from its included angle, 0 to 90 degrees: ratio = 2 tan(A / 2)."""
    angle = magnitude(included, "degree")
    if not 0 < angle < 90:
        raise ImpossibleInput("included angle", f"{angle:f} deg", "wanted between 0 and 90")
    return taper(2 * tan(angle / 2))


def taper_from_diameters(large: Quantity, small: Quantity, length: Quantity) -> Taper:
    """A taper from two diameters and the distance between them along the axis."""
    positive("length", length)
    positive("small diameter", small)
    if in_unit(large, "mm") <= in_unit(small, "mm"):
        raise ImpossibleInput(
            "large diameter", shown(large), f"must be more than the small one, {shown(small)}"
        )
    return taper(in_unit(large - small, "mm") / in_unit(length, "mm"))


@dataclass(frozen=True, slots=True)
class StandardTaper:
    """A taper of a standard family."""

    name: str
    taper_per_foot: Quantity
    half_angle: Quantity
    included_angle: Quantity
    large_end: Quantity | None
    """Gauge or large-end diameter, where the table has it."""
    by_compound: bool
    """Whether it may be turned with the compound; see `NOT_BY_COMPOUND`."""
    source: str


def standard_taper(family: str, size: str) -> StandardTaper:
    """A standard taper: `morse` 0 to 7, `brown-sharpe` 1 to 13, `7/24` 30 to 60."""
    found = [row for row in rows("tapers") if row["family"] == family]
    if not found:
        raise BadInput("family", family, "wanted one of " + ", ".join(FAMILIES))
    for row in found:
        if row["size"] == size:
            one = taper_per_foot(Decimal(row["taper_per_foot"]))
            return StandardTaper(
                name=f"{family} {size}",
                taper_per_foot=one.taper_per_foot,
                half_angle=one.half_angle,
                included_angle=one.included_angle,
                large_end=inches(row["large_end"]) if row["large_end"] else None,
                by_compound=family != "7/24",
                source=row["source"],
            )
    raise BadInput("size", size, "wanted one of " + ", ".join(row["size"] for row in found))


def tailstock_offset(total_length: Quantity, ratio: Decimal) -> Quantity:
    """Set-over of the tailstock: total length between centres x taper ratio / 2.

    Only a slight taper, since the centres then stand askew in their holes.
    """
    positive("total length", total_length)
    if not 0 < ratio < 2:
        raise ImpossibleInput("taper", f"{ratio:f} a unit of length", "wanted between 0 and 2")
    offset: Quantity = total_length * ratio / 2
    return offset


def offset_from_foot(total_length: Quantity, per_foot: Decimal) -> Quantity:
    """Set-over of the tailstock for a taper in inches a foot: length x taper per foot / 24."""
    return tailstock_offset(total_length, per_foot / 12)


def offset_from_diameters(
    total_length: Quantity, large: Quantity, small: Quantity, length: Quantity
) -> Quantity:
    """Set-over of the tailstock: L (D - d) / (2 l), l the tapered part of the whole length L."""
    ratio = taper_from_diameters(large, small, length).ratio
    if in_unit(total_length, "mm") < in_unit(length, "mm"):
        raise ImpossibleInput(
            "total length", shown(total_length), f"can't be less than the taper, {shown(length)}"
        )
    return tailstock_offset(total_length, ratio)


@dataclass(frozen=True, slots=True)
class TaperCorrection:
    """How a taper that was cut differs from the one wanted, and what puts it right."""

    cut: Taper
    half_angle_change: Quantity
    """To add to the compound's angle; negative where it was set too steep."""
    steeper: bool
    """True: more angle is needed."""


def taper_correction(
    large: Quantity, small: Quantity, spacing: Quantity, wanted_half_angle: Quantity
) -> TaperCorrection:
    """Correction from two diameters measured `spacing` apart along the axis."""
    cut = taper_from_diameters(large, small, spacing)
    change = magnitude(wanted_half_angle, "degree") - magnitude(cut.half_angle, "degree")
    return TaperCorrection(
        cut=cut,
        half_angle_change=quantity(change, "degree"),
        steeper=change > 0,
    )


def tailstock_correction(
    large: Quantity, small: Quantity, spacing: Quantity, total_length: Quantity, wanted: Decimal
) -> Quantity:
    """Further set-over of the tailstock when the taper cut has another ratio than `wanted`.

    Positive: more set-over. L x (wanted - cut) / 2.
    """
    cut = taper_from_diameters(large, small, spacing)
    change: Quantity = positive("total length", total_length) * (wanted - cut.ratio) / 2
    return change


def compound_reading(travel: Quantity, half_angle: Quantity) -> Quantity:
    """Reading of an indicator square to the axis while the compound moves by `travel`.

    Proves the setting better than the graduations: travel x sin of the half angle.
    """
    reading: Quantity = positive("travel", travel) * sin(magnitude(half_angle, "degree"))
    return reading


def infeed_for_gauge(stands_off: Quantity, ratio: Decimal) -> Quantity:
    """Infeed, on the radius, that lets a gauge go `stands_off` further on: off x ratio / 2."""
    infeed: Quantity = positive("stand-off", stands_off) * ratio / 2
    return infeed
