"""Where the spindle has to be: edges, centres, rows, bolt circles, triangles.

Points are pairs of quantities, X along the table and Y along the saddle, from a datum. A result
is in the unit of the first size given. Formulas are plane geometry, common practice, no source,
where a function names none.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple

from assistant.calc import trig
from assistant.calc.exact import in_unit, leg, positive, shown, system
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import Quantity, quantity


class Point(NamedTuple):
    """A place on the work, from the datum."""

    x: Quantity
    y: Quantity


MOST_HOLES = 1000


def side_to_centre(shaft: Quantity, cutter: Quantity, paper: Quantity | None = None) -> Quantity:
    """Move from touching the side of a shaft to its centre line: (shaft + cutter) / 2 + paper.

    `cutter` is the measured width of a slotting cutter or diameter of an end mill. Source: US
    Army TC 9-524, milling Woodruff key slots.
    """
    unit = system(shaft)
    sizes = in_unit(positive("shaft diameter", shaft), unit) + in_unit(
        positive("cutter", cutter), unit
    )
    return quantity(sizes / 2 + (in_unit(paper, unit) if paper is not None else 0), unit)


def edge_to_spindle(tip: Quantity, feeler: Quantity | None = None) -> Quantity:
    """How far the spindle's centre is from an edge just touched: half the tip + the feeler."""
    unit = system(tip)
    half = in_unit(positive("tip diameter", tip), unit) / 2
    return quantity(half + (in_unit(feeler, unit) if feeler is not None else 0), unit)


@dataclass(frozen=True, slots=True)
class Centre:
    """The middle of a feature, from two touches."""

    position: Quantity
    """On the same scale as the touches."""
    size: Quantity
    """Across the feature: a check that both touches were good."""
    back: Quantity
    """Signed travel from the second touch to the middle."""


def centre_of(first: Quantity, second: Quantity, tip: Quantity, *, inside: bool = False) -> Centre:
    """The middle between two touches with the same tip, on a boss or plate, or inside a bore.

    The tip's size cancels out of the middle; it matters only to the size across. Raises
    `ImpossibleInput` where the touches are closer together than the tip (outside).
    """
    unit = system(first)
    a, b, d = in_unit(first, unit), in_unit(second, unit), in_unit(tip, unit)
    across = abs(b - a) + (d if inside else -d)
    if across <= 0:
        raise ImpossibleInput(
            "touches", f"{shown(first)} and {shown(second)}",
            f"closer together than the tip of {shown(tip)}: count the whole turns again",
        )  # fmt: skip
    middle = (a + b) / 2
    return Centre(quantity(middle, unit), quantity(across, unit), quantity(middle - b, unit))


def centre_correction(near_wall: Quantity, far_wall: Quantity) -> Quantity:
    """How far a slot is off centre, from its two walls to the shaft's sides: half the difference.

    Positive: the near wall is thicker, so the cutter goes toward the near side.
    """
    unit = system(near_wall)
    return quantity((in_unit(near_wall, unit) - in_unit(far_wall, unit)) / 2, unit)


def row(count: int, pitch: Quantity, first: Quantity | None = None) -> tuple[Quantity, ...]:
    """Places of `count` holes at equal pitch; each from the datum, never by adding moves."""
    _hole_count(count)
    unit = system(pitch)
    begin = in_unit(first, unit) if first is not None else Decimal(0)
    step = in_unit(pitch, unit)
    return tuple(quantity(begin + step * i, unit) for i in range(count))


def grid(
    columns: int,
    rows: int,
    pitch_x: Quantity,
    pitch_y: Quantity,
    first_x: Quantity | None = None,
    first_y: Quantity | None = None,
) -> tuple[Point, ...]:
    """Holes in rows and columns, row by row, each row in the same direction.

    Not the shortest tour: every hole of a row is then reached from the same side.
    """
    _hole_count(columns * rows)
    xs, ys = row(columns, pitch_x, first_x), row(rows, pitch_y, first_y)
    return tuple(Point(x, y) for y in ys for x in xs)


def bolt_circle(
    diameter: Quantity,
    holes: int,
    first_angle: Quantity | None = None,
    centre_x: Quantity | None = None,
    centre_y: Quantity | None = None,
    *,
    clockwise: bool = False,
) -> tuple[Point, ...]:
    """Holes on a circle: x = R cos a, y = R sin a from the centre.

    `first_angle` (0 if not given) is from +X, counter-clockwise, as the holes follow unless
    `clockwise`. Plane geometry.
    """
    _hole_count(holes)
    unit = system(diameter)
    radius = in_unit(positive("bolt circle", diameter), unit) / 2
    x0 = in_unit(centre_x, unit) if centre_x is not None else Decimal(0)
    y0 = in_unit(centre_y, unit) if centre_y is not None else Decimal(0)
    begin = in_unit(first_angle, "degree") if first_angle is not None else Decimal(0)
    step = Decimal(-360 if clockwise else 360) / holes
    return tuple(
        Point(
            quantity(x0 + radius * trig.cos(begin + step * i), unit),
            quantity(y0 + radius * trig.sin(begin + step * i), unit),
        )
        for i in range(holes)
    )


def chord_factor(holes: int, apart: int = 1) -> Decimal:
    """Chord between holes on a circle of diameter 1: sin(180 k / N), plane geometry."""
    _hole_count(holes)
    if holes < 2:
        raise ImpossibleInput("holes", holes, "a chord needs two holes or more")
    return trig.sin(Decimal(180 * apart) / holes)


def chord(diameter: Quantity, holes: int, apart: int = 1) -> Quantity:
    """Distance between neighbouring holes (or holes `apart`) of a bolt circle: the check."""
    unit = system(diameter)
    return quantity(in_unit(positive("bolt circle", diameter), unit) * chord_factor(holes, apart),
                    unit)  # fmt: skip


def distance(first: Point, second: Point) -> Quantity:
    """Straight distance between two points."""
    unit = system(first.x)
    dx = in_unit(second.x, unit) - in_unit(first.x, unit)
    dy = in_unit(second.y, unit) - in_unit(first.y, unit)
    return quantity((dx * dx + dy * dy).sqrt(), unit)


def _hole_count(count: int) -> None:
    if not 1 <= count <= MOST_HOLES:
        raise ImpossibleInput("holes", count, f"wanted 1 to {MOST_HOLES} holes")


@dataclass(frozen=True, slots=True)
class Triangle:
    """A right triangle."""

    base: Quantity
    """Along."""
    rise: Quantity
    """Up."""
    hypotenuse: Quantity
    angle: Quantity
    """Between base and hypotenuse, in degrees."""


def right_triangle(
    base: Quantity | None = None,
    rise: Quantity | None = None,
    hypotenuse: Quantity | None = None,
    angle: Quantity | None = None,
) -> Triangle:
    """The whole of a right triangle from two of its parts, at least one of them a side.

    `angle`, more than 0 and less than 90 degrees, lies between base and hypotenuse. Raises
    `BadInput` for fewer or more than two parts, `ImpossibleInput` for parts that don't fit.
    """
    given = [part for part in (base, rise, hypotenuse) if part is not None]
    if len(given) + (angle is not None) != 2 or not given:
        raise BadInput("triangle", f"{len(given)} sides", "give two parts, one of them a side")
    unit = system(given[0])
    b, r, h = (
        None if part is None else in_unit(positive(name, part), unit)
        for name, part in (("base", base), ("rise", rise), ("hypotenuse", hypotenuse))
    )
    corner = None if angle is None else in_unit(angle, "degree")
    if corner is not None and not 0 < corner < 90:
        raise ImpossibleInput(
            "angle", f"{corner} deg", "must be more than 0 and less than 90 degrees"
        )
    if h is not None and max(b or 0, r or 0) >= h:
        raise ImpossibleInput("hypotenuse", h, "must be longer than either other side")
    zero = Decimal(0)
    if corner is None:
        h = h or ((b or zero) ** 2 + (r or zero) ** 2).sqrt()
        b = b or leg(h, r or zero)
        r = r or leg(h, b)
        corner = trig.atan2(r, b)
    else:
        sin, cos = trig.sin(corner), trig.cos(corner)
        h = h or (b / cos if b is not None else (r or zero) / sin)
        b, r = b or h * cos, r or h * sin
    return Triangle(
        quantity(b, unit), quantity(r, unit), quantity(h, unit), quantity(corner, "degree")
    )
