"""Where the holes of a pattern lie: read, put into rows, and held against the work."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.positions import Point, bolt_circle, grid
from assistant.errors import BadInput
from assistant.fields import Fields
from assistant.units import Quantity, magnitude, quantity

MOST = 240
"""More holes are a job for another machine."""
SAME = Decimal("0.00005")
"""Holes whose distances differ by less are in one row: finer than any dial shows."""


@dataclass(frozen=True)
class Place:
    """Where one hole is, from the datum corner, in the job's unit."""

    number: int
    """In the order in which they are come to, from 1."""
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


Places = list[tuple[Decimal, Decimal]]


def read_places(fields: Fields, unit: str, signs: tuple[int, int]) -> tuple[Places, Circle | None]:
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


def in_rows(places: Places) -> tuple[Place, ...]:
    """Row by row away from the datum, each row in the same direction: never the shortest tour,
    since every arrival must be from the same side."""
    rows: list[tuple[Decimal, list[Decimal]]] = []
    for x, y in sorted(places, key=lambda place: place[1]):
        if not rows or y - rows[-1][0] > SAME:
            rows.append((y, []))
        rows[-1][1].append(x)
    holes: list[Place] = []
    for row, (y, xs) in enumerate(rows, 1):
        for x in sorted(xs):
            holes.append(Place(len(holes) + 1, row, x, y))
    return tuple(holes)


def read_work(fields: Fields, unit: str) -> tuple[Decimal, Decimal] | None:
    if "work" not in fields.table:
        return None
    work = fields.table_at("work")
    size = magnitude(work.length("x", unit), unit), magnitude(work.length("y", unit), unit)
    work.done()
    return size


def check_room(
    fields: Fields, holes: tuple[Place, ...], dia: Decimal, work: tuple[Decimal, Decimal] | None,
    unit: str,
) -> None:  # fmt: skip
    """Holes that break through an edge or into each other are slips, not jobs."""
    symbol = "in" if unit == "inch" else unit
    half = dia / 2
    for place, hole in enumerate(holes):
        where = f"{hole.x:.4f}, {hole.y:.4f} {symbol}"
        if min(hole.x, hole.y) < half:
            fields.fail(
                "holes", where, f"nearer than half the hole's width, {half:.4f}, to the datum edge"
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
