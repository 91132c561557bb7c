"""One spur gear by dividing head and involute cutter: blank, depth, cutter number, check size.

Diametral pitch is teeth to an inch of pitch diameter; module is mm of pitch diameter to a tooth.
Source: Machinery's Handbook, spur gearing (full-depth teeth, whole depth 2.157 / P for 14-1/2
degree and 2.25 / P for 20 degree teeth; numbered involute cutters), from memory.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.exact import in_unit, positive, shown
from assistant.calc.table import rows
from assistant.calc.trig import PI, cos, sin, tan
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import Quantity, inches, magnitude

WHOLE_DEPTHS = {Decimal("14.5"): Decimal("2.157"), Decimal(20): Decimal("2.25")}
"""Whole depth as a share of the module, by pressure angle."""
LEAST_TEETH = 12
"""The smallest gear that the numbered cutters are made for."""


@dataclass(frozen=True, slots=True)
class SpurGear:
    """A spur gear as it is cut."""

    pitch_dia: Quantity
    blank: Quantity
    """Outside diameter to turn."""
    whole_depth: Quantity
    """From the touch on the blank."""
    addendum: Quantity
    circular_pitch: Quantity
    cutter: int
    """Number of the involute cutter, 1 to 8."""
    cutter_for: str
    """The teeth that this number is made for."""
    chordal_thickness: Quantity
    """Of a tooth, at the pitch circle, without backlash."""
    chordal_addendum: Quantity
    """Where a gear tooth vernier is set: from the top of the tooth."""


def module_of(diametral_pitch: Decimal) -> Quantity:
    """The module of a diametral pitch, in inches: 1 / P."""
    if not diametral_pitch > 0:
        raise ImpossibleInput("diametral pitch", diametral_pitch, "must be more than zero")
    return inches(1 / diametral_pitch)


def spur_gear(teeth: int, module: Quantity, pressure_angle: Quantity) -> SpurGear:
    """A full-depth spur gear of `teeth`, 12 to 1000, with 14.5 or 20 degree teeth.

    `module` is a length: 2 mm, or `module_of` a diametral pitch.
    """
    positive("module", module)
    angle = magnitude(pressure_angle, "degree")
    if angle not in WHOLE_DEPTHS:
        raise BadInput("pressure angle", f"{angle:f} deg", "wanted 14.5 or 20: as the cutter says")
    if not LEAST_TEETH <= teeth <= 1000:
        raise ImpossibleInput("teeth", teeth, f"the numbered cutters start at {LEAST_TEETH}")
    cutter, made_for = cutter_number(teeth)
    pitch_dia = module * teeth
    quarter = Decimal(90) / teeth
    return SpurGear(
        pitch_dia=pitch_dia,
        blank=module * (teeth + 2),
        whole_depth=module * WHOLE_DEPTHS[angle],
        addendum=module,
        circular_pitch=module * PI,
        cutter=cutter,
        cutter_for=made_for,
        chordal_thickness=pitch_dia * sin(quarter),
        chordal_addendum=module + pitch_dia / 2 * (1 - cos(quarter)),
    )


def cutter_number(teeth: int) -> tuple[int, str]:
    """The number of the involute cutter for `teeth`, and the teeth it is made for."""
    for row in rows("gear_cutters"):
        high = int(row["to"]) if row["to"] else None
        if teeth >= int(row["from"]) and (high is None or teeth <= high):
            made_for = (
                f"{row['from']} to {high} teeth" if high else f"{row['from']} teeth to a rack"
            )
            return int(row["number"]), made_for
    raise ImpossibleInput("teeth", teeth, f"the numbered cutters start at {LEAST_TEETH}")


def span_over_teeth(
    teeth: int, module: Quantity, pressure_angle: Quantity, spanned: int
) -> Quantity:
    """Measurement over `spanned` teeth with flat anvils, without backlash.

    m cos a (pi (k - 1/2) + z inv a), inv a = tan a - a in radians. Geometry of the involute.
    """
    if not 1 <= spanned < teeth / 2:
        raise ImpossibleInput("spanned", spanned, "wanted from 1 to fewer than half of the teeth")
    angle = magnitude(pressure_angle, "degree")
    involute = tan(angle) - angle * PI / 180
    factor = cos(angle) * (PI * (spanned - Decimal("0.5")) + teeth * involute)
    span: Quantity = positive("module", module) * factor
    return span


def extra_depth(thickness: Quantity, wanted: Quantity, pressure_angle: Quantity) -> Quantity:
    """Further depth when a tooth measures `thickness` and should measure `wanted`.

    Each flank recedes by depth x tan of the pressure angle: (thickness - wanted) / (2 tan a).
    """
    if in_unit(wanted, "mm") > in_unit(positive("thickness", thickness), "mm"):
        raise ImpossibleInput("thickness", shown(thickness), "already thinner than wanted")
    depth: Quantity = (thickness - wanted) / (2 * tan(magnitude(pressure_angle, "degree")))
    return depth


def spur_gear_by(
    teeth: int,
    pressure_angle: Quantity,
    module: Quantity | None = None,
    diametral_pitch: Decimal | None = None,
) -> SpurGear:
    """`spur_gear` from a module or a diametral pitch: exactly one of the two."""
    return spur_gear(teeth, _module(module, diametral_pitch), pressure_angle)


def span_by(
    teeth: int,
    pressure_angle: Quantity,
    spanned: int,
    module: Quantity | None = None,
    diametral_pitch: Decimal | None = None,
) -> Quantity:
    """`span_over_teeth` from a module or a diametral pitch: exactly one of the two."""
    return span_over_teeth(teeth, _module(module, diametral_pitch), pressure_angle, spanned)


def _module(module: Quantity | None, diametral_pitch: Decimal | None) -> Quantity:
    if module is not None and diametral_pitch is None:
        return module
    if diametral_pitch is not None and module is None:
        return module_of(diametral_pitch)
    raise BadInput(
        "module", "given twice" if module else "missing", "give module or diametral pitch"
    )
