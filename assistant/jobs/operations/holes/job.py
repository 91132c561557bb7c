"""What a job file of holes says: datum edges, pattern, drill."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.drilling import drill_depth
from assistant.calc.positions import Point, bolt_circle, grid
from assistant.errors import BadInput
from assistant.fields import Fields
from assistant.jobs.drilling.hole_tools import POINT, HoleTool, read_drill
from assistant.jobs.drilling.quill import read_depth_by
from assistant.jobs.jobfile import Head
from assistant.units import Quantity, magnitude, quantity

HOLDINGS = ("vice", "clamps", "angle plate")
MOST = 240
"""More holes are a job for another machine."""
SAME = Decimal("0.00005")
"""Holes whose distances differ by less are in one row: finer than any dial shows."""
BETWEEN = {"inch": "0.010", "mm": "0.25"}
"""Tolerance of the check between two holes, plus and minus, where the job gives none: common
practice, no source."""


@dataclass(frozen=True)
class Hole:
    """One hole, from the datum corner, in the job's unit."""

    number: int
    """In the order of drilling, from 1."""
    row: int
    x: Decimal
    """From the left or right edge, into the work."""
    y: Decimal
    """From the front or back edge, into the work."""


@dataclass(frozen=True)
class Circle:
    """A bolt circle, for the drawing and the check."""

    diameter: Quantity
    holes: int
    centre_x: Decimal
    centre_y: Decimal


@dataclass(frozen=True, eq=False)
class HolesJob:
    """Holes by coordinates. Compared by identity, see `jobs.planning.read_job`."""

    head: Head
    holding: str
    x_edge: str
    y_edge: str
    found_by: str
    tip: Quantity
    holes: tuple[Hole, ...]
    circle: Circle | None
    drill: HoleTool
    pilot: HoleTool | None
    spot: HoleTool | None
    through: bool
    full_diameter: Quantity
    """Depth of the hole at full diameter; the thickness of the work where it goes through."""
    point: Quantity
    depth_by: str
    between: Quantity
    """Tolerance of the distance between two holes."""
    fixed_jaw: str = "back"
    """`front` or `back`: the side of the vice that stays."""
    stop: bool = False
    """Whether a stop gives the place of the datum edge along the table, part after part."""

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
    points, circle = _points(fields, unit, signs)
    drill = fields.table_at("drill")
    words, dia = read_drill(drill, "diameter", unit)
    pilot = read_drill(drill, "pilot", unit) if "pilot" in drill.table else None
    through = "through" in drill.table
    depth = drill.length("through" if through else "depth", unit)
    point = quantity(drill.number("point", 60, 150, POINT), "degree")
    spotted = drill.flag("spot", True)
    between = drill.length("between", unit, quantity(BETWEEN[unit], unit))
    depth_by = read_depth_by(drill)
    drill.done()
    if pilot is not None and pilot[1] >= dia:
        fields.fail("drill.pilot", str(pilot[1]), "must be smaller than the drill")
    holes = _in_rows(fields, points)
    _check_room(fields, holes, magnitude(dia, unit), _work(fields, unit), unit)
    return HolesJob(
        head=head,
        holding=fields.choice("holding", HOLDINGS, "vice"),
        x_edge=x_edge,
        y_edge=y_edge,
        found_by=found_by,
        tip=tip,
        holes=holes,
        circle=circle,
        drill=HoleTool("drill", words, dia, "drilling", head.material),
        pilot=HoleTool("pilot", pilot[0].replace("drill", "pilot drill"), pilot[1], "drilling",
                       head.material) if pilot else None,
        spot=HoleTool("spot", "centre drill", dia / 2, "spotting", head.material)
        if spotted else None,
        through=through,
        full_diameter=depth,
        point=point,
        depth_by=depth_by,
        between=between,
        fixed_jaw=fields.choice("fixed_jaw", ("back", "front"), "back"),
        stop=stop,
    )  # fmt: skip


def depth_of(job: HolesJob, tool: HoleTool) -> Decimal:
    """Travel of a tool from the touch, in the job's unit."""
    found = drill_depth(job.full_diameter, tool.dia, job.point, job.through)
    return magnitude(found.from_touch, job.unit)


Places = list[tuple[Decimal, Decimal]]


def _points(fields: Fields, unit: str, signs: tuple[int, int]) -> tuple[Places, Circle | None]:
    """Every place in the work, from the datum edges, and the bolt circle where there is one."""
    places: Places = []
    circle = None
    if "grid" in fields.table:
        places += _grid(fields.table_at("grid"), unit)
    if "circle" in fields.table:
        found, circle = _circle(fields.table_at("circle"), unit, signs)
        places += found
    for number, entry in enumerate(fields.take("holes", "wanted [[holes]] tables", []), 1):
        if not isinstance(entry, dict):
            fields.refuse("holes", entry, "wanted [[holes]] tables with x and y")
        one = Fields(fields.path, entry, f"holes {number}: ")
        places.append((magnitude(one.length("x", unit), unit), magnitude(one.length("y", unit),
                                                                         unit)))  # fmt: skip
        one.done()
    if not places:
        fields.fail("holes", "missing", "wanted [[holes]] with x and y, a [grid] or a [circle]")
    if len(places) > MOST:
        fields.fail("holes", str(len(places)), f"wanted {MOST} holes at the most")
    return places, circle


def _grid(fields: Fields, unit: str) -> Places:
    columns = fields.whole("columns", 1, MOST)
    rows = fields.whole("rows", 1, MOST, 1)
    zero = quantity(0, unit)
    pitch_x = fields.length("pitch_x", unit) if columns > 1 else zero
    pitch_y = fields.length("pitch_y", unit) if rows > 1 else zero
    first = fields.length("first_x", unit), fields.length("first_y", unit)
    fields.done()
    try:
        made = grid(columns, rows, pitch_x, pitch_y, *first)
    except BadInput as bad:
        fields.fail("columns", f"{columns} x {rows}", bad.want)
    return _plain(made, unit)


def _circle(fields: Fields, unit: str, signs: tuple[int, int]) -> tuple[Places, Circle]:
    diameter, count = fields.length("diameter", unit), fields.whole("holes", 2, MOST)
    centre = fields.length("centre_x", unit), fields.length("centre_y", unit)
    angle = quantity(fields.number("first_angle", -360, 360, Decimal(0)), "degree")
    fields.done()
    sx, sy = signs
    # worked as it is seen from above, then counted from the datum edges into the work
    seen = bolt_circle(diameter, count, angle, centre[0] * sx, centre[1] * sy)
    places = [(x * sx, y * sy) for x, y in _plain(seen, unit)]
    return places, Circle(diameter, count, magnitude(centre[0], unit), magnitude(centre[1], unit))


def _plain(points: tuple[Point, ...], unit: str) -> Places:
    return [(magnitude(point.x, unit), magnitude(point.y, unit)) for point in points]


def _in_rows(fields: Fields, places: Places) -> tuple[Hole, ...]:
    """Row by row away from the datum, each row in the same direction: never the shortest tour,
    since every arrival must be from the same side."""
    rows: list[tuple[Decimal, list[Decimal]]] = []
    for x, y in sorted(places, key=lambda place: place[1]):
        if not rows or y - rows[-1][0] > SAME:
            rows.append((y, []))
        rows[-1][1].append(x)
    holes: list[Hole] = []
    for row, (y, xs) in enumerate(rows, 1):
        for x in sorted(xs):
            holes.append(Hole(len(holes) + 1, row, x, y))
    return tuple(holes)


def _work(fields: Fields, unit: str) -> tuple[Decimal, Decimal] | None:
    if "work" not in fields.table:
        return None
    work = fields.table_at("work")
    size = magnitude(work.length("x", unit), unit), magnitude(work.length("y", unit), unit)
    work.done()
    return size


def _check_room(
    fields: Fields, holes: tuple[Hole, ...], dia: Decimal, work: tuple[Decimal, Decimal] | None,
    unit: str,
) -> None:  # fmt: skip
    """Holes that break through an edge or into each other are slips, not jobs."""
    symbol = "in" if unit == "inch" else unit
    half = dia / 2
    for place, hole in enumerate(holes):
        where = f"{hole.x:.4f}, {hole.y:.4f} {symbol}"
        if min(hole.x, hole.y) < half:
            fields.fail(
                "holes", where, f"nearer than half the drill, {half:.4f}, to the datum edge"
            )
        if work is not None and (hole.x + half > work[0] or hole.y + half > work[1]):
            fields.fail("holes", where, f"off the work of {work[0]} by {work[1]} {symbol}")
        for other in holes[place + 1 :]:
            if other.y - hole.y >= dia:
                break
            apart = (other.x - hole.x) ** 2 + (other.y - hole.y) ** 2
            if apart < dia * dia:
                fields.fail(
                    "holes", where,
                    f"runs into the hole at {other.x:.4f}, {other.y:.4f}: wanted {dia:.4f} apart",
                )  # fmt: skip
