"""Turning, boring, facing and parting: what to dial, in how many passes, how long it takes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.cutting import MOST_PASSES, PassKind, passes
from assistant.calc.exact import at_least, in_unit, positive, shown, system
from assistant.calc.table import rows
from assistant.calc.trig import PI
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import Quantity, inches, quantity

DIALS = ("diameter", "radius")
"""What a cross slide's dial reads: what comes off the diameter, or what the tool moves."""


@dataclass(frozen=True, slots=True)
class CrossMove:
    """What takes a piece from the diameter measured to the one wanted."""

    dial: Quantity
    """On the dial; never negative."""
    tool: Quantity
    """What the tool moves: half of what the diameter changes."""
    inward: bool
    """Towards the axis: True for turning, False for boring."""


def to_diameter(measured: Quantity, wanted: Quantity, dial: str) -> CrossMove:
    """What to dial from a measured diameter to the one wanted, turning or boring.

    `dial` is `diameter` for a dial that reads what comes off the diameter and `radius` for one
    that reads what the tool moves; the machine's profile says which.
    """
    if dial not in DIALS:
        raise BadInput("dial", dial, "wanted diameter or radius: what the cross slide reads")
    change = positive("measured", measured) - positive("wanted", wanted)
    tool = abs(change) / 2
    return CrossMove(
        dial=abs(change) if dial == "diameter" else tool,
        tool=tool,
        inward=change.magnitude > 0,
    )


def depth_of_cut(from_dia: Quantity, to_dia: Quantity) -> Quantity:
    """Depth on one side between two diameters: half their difference, turning or boring."""
    depth: Quantity = abs(positive("from", from_dia) - positive("to", to_dia)) / 2
    return depth


@dataclass(frozen=True, slots=True)
class EqualPasses:
    """Passes of one depth."""

    passes: int
    depth: Quantity
    """Of each, on one side."""


def equal_passes(from_dia: Quantity, to_dia: Quantity, most: Quantity) -> EqualPasses:
    """The fewest equal passes of at most `most` depth, and the depth of each."""
    depth = depth_of_cut(from_dia, to_dia)
    if depth.magnitude == 0:
        raise ImpossibleInput("to", shown(to_dia), "the piece has that diameter already")
    deepest = in_unit(positive("most", most), "mm")
    if in_unit(depth, "mm") > MOST_PASSES * deepest:
        raise ImpossibleInput(
            "most", shown(most), f"needs more than {MOST_PASSES} passes: check its unit"
        )
    count = at_least(in_unit(depth, "mm"), deepest)
    return EqualPasses(count, depth / count)


@dataclass(frozen=True, slots=True)
class TurnPass:
    """One pass of a turning or boring plan."""

    kind: PassKind
    cut: Quantity
    """Depth on one side."""
    diameter: Quantity
    """The diameter it leaves."""


def diameter_plan(
    from_dia: Quantity,
    to_dia: Quantity,
    most: Quantity,
    finish: Quantity | None = None,
    least: Quantity | None = None,
) -> tuple[TurnPass, ...]:
    """Roughing in equal cuts and a finishing cut, turning down or boring out.

    `most` is the deepest cut, `finish` what the last one takes, `least` the machine's least
    useful cut, all on one side. The last pass leaves `to_dia` exactly; a spring pass at the same
    setting may follow.
    """
    depth = depth_of_cut(from_dia, to_dia)
    sign = -1 if in_unit(to_dia, "mm") < in_unit(from_dia, "mm") else 1
    found = passes(depth, most, finish=finish, least=least)
    return tuple(
        TurnPass(
            one.kind,
            one.cut,
            to_dia if one is found[-1] else from_dia + sign * 2 * one.depth,
        )
        for one in found
    )


def diameter_passes(
    from_dia: Quantity,
    to_dia: Quantity,
    most: Quantity,
    finish: Quantity | None = None,
    least: Quantity | None = None,
) -> dict[str, tuple[Quantity, ...]]:
    """`diameter_plan` as its diameters and cuts."""
    plan = diameter_plan(from_dia, to_dia, most, finish, least)
    return {
        "diameters": tuple(one.diameter for one in plan),
        "cuts": tuple(one.cut for one in plan),
    }


def turning_removal(surface_speed: Quantity, depth: Quantity, feed: Quantity) -> Quantity:
    """Metal removed a minute in turning: speed x depth x feed a turn (12 V d f in inches).

    Source: Machinery's Handbook, machining power; the speed taken at the work's surface.
    """
    unit = system(depth)
    rate = (
        in_unit(surface_speed, f"{unit}/minute")
        * in_unit(positive("depth", depth), unit)
        * in_unit(positive("feed", feed), unit)
    )
    if unit == "mm":
        return quantity(rate / 1000, "cm**3/minute")
    return quantity(rate, "inch**3/minute")


def turning_time(length: Quantity, feed: Quantity, rpm: Quantity) -> Quantity:
    """Time of one cut along `length` at `feed` a turn: L / (f x rpm), in minutes.

    For facing, `length` is the radius crossed.
    """
    turns = in_unit(positive("length", length), "mm") / in_unit(positive("feed", feed), "mm")
    return quantity(turns / in_unit(positive("rpm", rpm), "revolutions_per_minute"), "minute")


def speed_for_time(length: Quantity, dia: Quantity, feed: Quantity, time: Quantity) -> Quantity:
    """Surface speed at which a cut along `length` takes `time`: pi D L / (f t)."""
    unit = system(length)
    turns = in_unit(positive("length", length), unit) / in_unit(positive("feed", feed), unit)
    speed = PI * in_unit(positive("diameter", dia), unit) * turns
    speed /= in_unit(positive("time", time), "minute")
    return quantity(speed / (12 if unit == "inch" else 1000), _SURFACE[unit])


def speed_in_minutes(length: Quantity, dia: Quantity, feed: Quantity, time: Decimal) -> Quantity:
    """`speed_for_time` with the time in minutes as a plain number."""
    return speed_for_time(length, dia, feed, quantity(time, "minute"))


_SURFACE = {"inch": "foot/minute", "mm": "meter/minute"}


@dataclass(frozen=True, slots=True)
class SuggestedDepth:
    """A usual depth of cut on a light lathe, in inches on one side."""

    hss: Quantity
    carbide: Quantity
    source: str


def suggested_depth(material: str) -> SuggestedDepth:
    """A usual depth of cut on a light lathe; a rigid machine takes several times as much."""
    key = material.strip().lower().replace(" ", "_")
    for row in rows("turning_depths"):
        if row["material"] == key:
            return SuggestedDepth(inches(row["hss"]), inches(row["carbide"]), row["source"])
    known = ", ".join(row["material"].replace("_", " ") for row in rows("turning_depths"))
    raise BadInput("material", material, f"the table has {known}")


@dataclass(frozen=True, slots=True)
class Parting:
    """Parting off."""

    travel: Quantity
    """From the touch on the diameter to the end of the cut."""
    most_reach: Quantity
    """The furthest the blade should stand out."""
    speed_share: tuple[Decimal, Decimal]
    """Of the turning speed, from and to."""


def parting(dia: Quantity, bore: Quantity, blade_reach: Quantity) -> Parting:
    """Parting a bar, or a tube with `bore` (zero for a bar), with a blade that stands out so far.

    The blade should stand out no more than the cut needs and a tenth of the diameter; a third to
    half of the turning speed. Common practice, no source. Raises `ImpossibleInput` for a blade
    that can't reach.
    """
    positive("diameter", dia)
    if bore.magnitude < 0 or in_unit(bore, "mm") >= in_unit(dia, "mm"):
        raise ImpossibleInput("bore", shown(bore), f"wanted 0 to less than {shown(dia)}")
    travel = (dia - bore) / 2
    if in_unit(blade_reach, "mm") < in_unit(travel, "mm"):
        raise ImpossibleInput(
            "blade reach", shown(blade_reach), f"the cut is {shown(travel)} deep: set it out more"
        )
    return Parting(
        travel=travel,
        most_reach=travel + dia / 10,
        speed_share=(Decimal(1) / 3, Decimal(1) / 2),
    )


def shoulder_stops(ends: Sequence[Quantity], finish: Quantity) -> tuple[Quantity, ...]:
    """Where the carriage stops while roughing to shoulders at `ends` from the datum face.

    Each is left short by `finish`, to be faced out at the end.
    """
    stops = tuple(positive("shoulder", end) - finish for end in ends)
    for end, stop in zip(ends, stops, strict=True):
        if stop.magnitude <= 0:
            raise ImpossibleInput("shoulder", shown(end), f"less than the {shown(finish)} left on")
    return stops
