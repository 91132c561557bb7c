"""Drilled holes: points, depths, pecks, pilots, counterbores, countersinks, reaming, centres."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.exact import in_unit, positive, shown, system
from assistant.calc.table import rows
from assistant.calc.trig import tan
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import Quantity, inches, magnitude, mm, quantity

DEEPEST = 100
"""Diameters: deeper is a slip of the keyboard, not a hole for a twist drill."""


def point_factor(point_angle: Quantity) -> Decimal:
    """Length of a drill's point as a share of its diameter: 0.5 / tan(A / 2)."""
    angle = magnitude(point_angle, "degree")
    if not 0 < angle < 180:
        raise ImpossibleInput("point angle", f"{angle:f} deg", "wanted 0 to 180 degrees, between")
    return Decimal("0.5") / tan(angle / 2)


def point_length(dia: Quantity, point_angle: Quantity) -> Quantity:
    """Length of the point: what a hole needs beyond its full-diameter depth."""
    length: Quantity = positive("diameter", dia) * point_factor(point_angle)
    return length


@dataclass(frozen=True, slots=True)
class DrillDepth:
    """How deep to drill."""

    from_touch: Quantity
    """Travel from where the point touches the face."""
    point: Quantity
    """The part of it that is the point."""
    full_diameter: Quantity
    """Depth of the hole at full diameter."""


def drill_depth(
    full_diameter: Quantity, dia: Quantity, point_angle: Quantity, through: bool = False
) -> DrillDepth:
    """Travel for a hole `full_diameter` deep, counted from where the point touches.

    Through a plate it is the same sum, and a tenth of the diameter more so that the lips clear
    (common practice, no source).
    """
    positive("depth", full_diameter)
    point = point_length(dia, point_angle)
    clear = dia / 10 if through else 0 * dia
    return DrillDepth(
        from_touch=full_diameter + point + clear, point=point, full_diameter=full_diameter
    )


@dataclass(frozen=True, slots=True)
class PeckPlan:
    """Where to stop and clear the chips."""

    depths: tuple[Quantity, ...]
    """The depth at the end of each peck; the last is the full depth exactly."""
    deep: bool
    """More than three diameters: chips must be cleared."""


def peck_plan(depth: Quantity, dia: Quantity) -> PeckPlan:
    """Pecks for a hole `depth` deep: three diameters, then two, then one at a time.

    A last peck of less than a quarter of a diameter is joined to the one before. Common practice,
    no source. Raises `ImpossibleInput` for a hole of more than 100 diameters.
    """
    unit = system(positive("depth", depth))
    full, size = in_unit(depth, unit), in_unit(positive("diameter", dia), unit)
    if full > DEEPEST * size:
        raise ImpossibleInput(
            "depth", shown(depth), f"more than {DEEPEST} diameters of {shown(dia)}: check the unit"
        )
    ends: list[Decimal] = []
    at, step = Decimal(0), 3 * size
    while full - at - step > size / 4:
        at += step
        ends.append(at)
        step = max(size, step - size)
    ends.append(full)
    return PeckPlan(depths=tuple(quantity(end, unit) for end in ends), deep=full > 3 * size)


@dataclass(frozen=True, slots=True)
class SizeRange:
    """The least and the most that is usual."""

    least: Quantity
    most: Quantity
    source: str


def pilot_drill(dia: Quantity) -> SizeRange:
    """A pilot a little larger than the web of the final drill: 0.2 to 0.3 of its diameter.

    Needed from about 1/2 in up. Common practice, no source; measure the web of the drill at hand.
    """
    positive("diameter", dia)
    return SizeRange(dia / 5, dia * 3 / 10, "common practice, no source")


def reaming_allowance(dia: Quantity, how: str) -> SizeRange:
    """How much smaller than the reamer the hole is left, on the diameter, `machine` or `hand`."""
    if how not in ("machine", "hand"):
        raise BadInput("reaming", how, "wanted machine or hand")
    size = in_unit(positive("diameter", dia), "inch")
    for row in rows("reaming_allowances"):
        if row["how"] == how and Decimal(row["over"]) < size <= Decimal(row["to"]):
            least, most = inches(row["least"]), inches(row["most"])
            return SizeRange(least.to(dia.units), most.to(dia.units), row["source"])
    raise ImpossibleInput("diameter", shown(dia), "the table goes to 2 in (50.8 mm)")


def countersink_depth(csk_dia: Quantity, hole_dia: Quantity, angle: Quantity) -> Quantity:
    """Height of the cone from `csk_dia` down to `hole_dia`: (D - d) / 2 / tan(A / 2).

    With no hole (zero) it is the travel of a sharp countersink from its touch on the face; with a
    hole it is the travel from its touch on the hole's edge.
    """
    positive("countersink diameter", csk_dia)
    if hole_dia.magnitude < 0:
        raise ImpossibleInput("hole diameter", shown(hole_dia), "can't be less than zero")
    if in_unit(hole_dia, "mm") >= in_unit(csk_dia, "mm"):
        raise ImpossibleInput(
            "hole diameter", shown(hole_dia), f"must be less than the {shown(csk_dia)} wanted"
        )
    depth: Quantity = (csk_dia - hole_dia) * point_factor(angle)
    return depth


@dataclass(frozen=True, slots=True)
class Counterbore:
    """A counterbore for a socket head cap screw."""

    screw: str
    dia: Quantity
    depth: Quantity
    """Flush: the head's height."""
    clearance_hole: Quantity
    source: str


def counterbore(screw: str, below: Quantity | None = None) -> Counterbore:
    """Counterbore for a socket head cap screw such as `1/4` or `M6`, its head `below` the face."""
    wanted = screw.strip().upper().lstrip("#")
    for row in rows("counterbores"):
        if row["screw"].upper() == wanted:
            depth = quantity(row["head_height"], row["unit"])
            return Counterbore(
                screw=row["screw"],
                dia=quantity(row["counterbore"], row["unit"]),
                depth=depth if below is None else depth + below,
                clearance_hole=quantity(row["clearance"], row["unit"]),
                source=row["source"],
            )
    known = ", ".join(row["screw"] for row in rows("counterbores"))
    raise BadInput("screw", screw, f"wanted one of {known}")


@dataclass(frozen=True, slots=True)
class CentreDrill:
    """A combined drill and countersink."""

    size: str
    body: Quantity
    pilot: Quantity
    source: str


def centre_drill(size: str) -> CentreDrill:
    """A plain combined drill and countersink by its number (00 to 8), 60 degrees."""
    for row in rows("centre_drills"):
        if row["type"] == "plain" and row["size"] == size:
            return CentreDrill(size, inches(row["body"]), inches(row["pilot"]), row["source"])
    raise BadInput("size", size, "wanted 00, 0 or 1 to 8")


def centre_drill_iso(pilot: Quantity) -> CentreDrill:
    """A centre drill of ISO 866 type A by its pilot diameter."""
    wanted = in_unit(pilot, "mm")
    sizes = [row for row in rows("centre_drills") if row["type"] == "A"]
    for row in sizes:
        if Decimal(row["pilot"]) == wanted:
            return CentreDrill(f"A{row['size']}", mm(row["body"]), mm(row["pilot"]), row["source"])
    known = ", ".join(row["pilot"] for row in sizes)
    raise BadInput("pilot", shown(pilot), f"wanted one of {known} mm")


def centre_depth(size: CentreDrill, mouth: Quantity) -> Quantity:
    """Travel of a centre drill from its touch for a 60 degree centre `mouth` wide at the face.

    Its pilot is taken as long as its diameter times 1.25 (ISO 866 type A, from memory; measure
    it). Raises `ImpossibleInput` for a mouth outside pilot and body.
    """
    low, high = in_unit(size.pilot, "mm"), in_unit(size.body, "mm")
    if not low < in_unit(mouth, "mm") <= high:
        raise ImpossibleInput(
            "mouth", shown(mouth), f"wanted over {shown(size.pilot)} to {shown(size.body)}"
        )
    sixty = quantity(60, "degree")
    depth: Quantity = size.pilot * Decimal("1.25") + countersink_depth(mouth, size.pilot, sixty)
    return depth


def centre_travel(size: str, mouth: Quantity) -> Quantity:
    """`centre_depth` for a plain centre drill by its number, `3`, or an ISO one, `A2.5`."""
    if size[:1].upper() == "A":
        try:
            pilot = mm(size[1:].strip())
        except ArithmeticError:
            raise BadInput("size", size, "wanted a number 00 to 8, or A2.5 and such") from None
        return centre_depth(centre_drill_iso(pilot), mouth)
    return centre_depth(centre_drill(size), mouth)
