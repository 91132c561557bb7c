"""What a job file of holes says: datum edges, pattern, what is made at each, in which order."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from assistant.calc.drilling import peck_plan
from assistant.errors import BadInput
from assistant.fields import Fields
from assistant.jobs.drilling.hole import TOLERANCE, Hole, ToolWork, places, point_figure
from assistant.jobs.drilling.hole_tools import POINT, HoleTool, read_drill
from assistant.jobs.drilling.made import PlainHole, Staged, read_staged, which_of
from assistant.jobs.drilling.quill import DEPTH_BY, read_depth_by
from assistant.jobs.drilling.tapped import UNDER_THE_SPINDLE
from assistant.jobs.jobfile import Head
from assistant.jobs.operations.holes.places import (
    Circle,
    Place,
    check_room,
    in_rows,
    read_places,
    read_work,
)
from assistant.spoken import Figure
from assistant.units import Quantity, magnitude, quantity

HOLDINGS = ("vice", "clamps", "angle plate")
KINDS = ("drill", "hole", "thread")
"""The tables that say what is made at each place, of which a file has one."""
BY = ("tool", "hole")
MEASURED = ("first and last", "first", "each", "none")
PECKS = ("counted", "by feel")
BETWEEN = {"inch": "0.010", "mm": "0.25"}
"""Tolerance of the check between two holes, plus and minus, where the job gives none: common
practice, no source."""


@dataclass(frozen=True)
class Order:
    """In which order all is made, and what is looked at on the way."""

    by: str
    """`tool`: every hole with one tool, then the next tool; `hole`: every tool in one hole."""
    measured: str
    """Which holes: `first and last`, `first`, `each`, `none`."""
    pecks: str
    """`counted` each to its depth, or `by feel` in one run."""
    between: Quantity
    """Tolerance of the distance between two holes."""


@dataclass(frozen=True, eq=False)
class HolesJob:
    """Holes by coordinates. Compared by identity, see `jobs.planning.read_job`."""

    head: Head
    holding: str
    x_edge: str
    y_edge: str
    found_by: str
    tip: Quantity
    places: tuple[Place, ...]
    circle: Circle | None
    made: Staged
    """At each of them."""
    order: Order
    fixed_jaw: str = "back"
    """`front` or `back`: the side of the vice that stays."""
    stop: bool = False
    """Whether a stop gives the place of the datum edge along the table, part after part."""

    @cached_property
    def only_drilled(self) -> bool:
        """Whether nothing but drills goes in."""
        kinds = {one.tool.kind for one in self.made.tools}
        return kinds <= {"spotting", "drilling"} and isinstance(self.made, PlainHole)

    @property
    def unit(self) -> str:
        """`inch` or `mm`."""
        return self.head.unit


def read(head: Head, fields: Fields) -> HolesJob:
    """The job from its file; every error is a `BadFile` that names file, key and value."""
    unit = head.unit
    datum = fields.table_at("datum")
    x_edge = datum.choice("x_edge", ("left", "right"), "left")
    y_edge = datum.choice("y_edge", ("front", "back"), "front")
    found_by = datum.choice("by", ("edge finder", "feeler"), "edge finder")
    tip = datum.length("tip", unit)
    stop = datum.flag("stop", False)
    datum.done()
    signs = (1 if x_edge == "left" else -1, 1 if y_edge == "front" else -1)
    points, circle = read_places(fields, unit, signs)
    kind = which_of(fields, KINDS)
    made, between = _made(fields, kind, unit, head.material)
    order = _order(fields.table_at("order", {}), kind, unit, between)
    found = in_rows(points)
    check_room(fields, found, magnitude(made.widest, unit), read_work(fields, unit), unit)
    return HolesJob(
        head=head,
        holding=fields.choice("holding", HOLDINGS, "vice"),
        x_edge=x_edge,
        y_edge=y_edge,
        found_by=found_by,
        tip=tip,
        places=found,
        circle=circle,
        made=made,
        order=order,
        fixed_jaw=fields.choice("fixed_jaw", ("back", "front"), "back"),
        stop=stop,
    )


def _made(fields: Fields, kind: str, unit: str, material: str) -> tuple[Staged, Quantity]:
    """What is made at each place, and the tolerance between two, which stands in `[drill]` where
    that is all there is."""
    usual = quantity(BETWEEN[unit], unit)
    if kind != "drill":
        return read_staged(fields, kind, unit, material, DEPTH_BY, UNDER_THE_SPINDLE), usual
    drill = fields.table_at("drill")
    between = drill.length("between", unit, usual)
    return PlainHole(_drilled(drill, unit, material)), between


def _order(fields: Fields, kind: str, unit: str, between: Quantity) -> Order:
    """What is only drilled is drilled by feel and not measured, unless the file has it otherwise:
    sixty holes of a strainer aren't."""
    drilled = kind == "drill"
    order = Order(
        by=fields.choice("by", BY, "tool"),
        measured=fields.choice("measured", MEASURED, "none" if drilled else "first and last"),
        pecks=fields.choice("pecks", PECKS, "by feel" if drilled else "counted"),
        between=between if drilled else fields.length("between", unit, between),
    )
    fields.done()
    return order


def _drilled(drill: Fields, unit: str, material: str) -> Hole:
    """The `[drill]` table: spotted, a pilot where one is named, and drilled."""
    words, dia = read_drill(drill, "diameter", unit)
    pilot = read_drill(drill, "pilot", unit) if "pilot" in drill.table else None
    through = "through" in drill.table
    full = drill.length("through" if through else "depth", unit)
    point = quantity(drill.number("point", 60, 150, POINT), "degree")
    spotted = drill.flag("spot", True)
    depth_by = read_depth_by(drill, DEPTH_BY)
    drill.done()
    if pilot is not None and pilot[1] >= dia:
        drill.fail("pilot", str(pilot[1]), "must be smaller than the drill")

    def drilled(name: str, called: str, size: Quantity) -> ToolWork:
        depth = point_figure(full, size, point, through, unit)
        peck_plan(depth.value, size)
        return ToolWork(HoleTool(name, called, size, "drilling", material), depth)

    tools: list[ToolWork] = []
    try:
        if spotted:
            spot = HoleTool("spot", "centre drill", dia / 2, "spotting", material)
            tools.append(ToolWork(spot, Figure(dia * 0, "spotted", places(unit))))
        if pilot is not None:
            called = pilot[0].replace("drill", "pilot drill")
            tools.append(drilled("pilot", called, pilot[1]))
        main = drilled("drill", words, dia)
    except BadInput as bad:
        drill.fail("through" if through else "depth", str(bad.value), bad.want)
    return Hole(
        unit=unit,
        tools=(*tools, main),
        main=main,
        full_diameter=full,
        through=through,
        tolerance=quantity(TOLERANCE[unit], unit),
        depth_by=depth_by,
        pilot_missing=False,
    )
