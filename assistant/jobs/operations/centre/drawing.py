"""Finding a corner or a middle: the work from above, and where the tip touches it."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.drawing import (
    Circle,
    Drawing,
    Drawings,
    Ink,
    Line,
    Point,
    Polygon,
    Primitive,
    Weight,
    arc_points,
    rectangle,
    touched,
)
from assistant.jobs.moment import Moment, Now, Planned, Sizes, in_unit
from assistant.jobs.plan import Plan

NEEDS = ("tip", "first_x", "first_y")
"""Diameter of the tip, and the side that is touched first in each direction: -1 left or front,
+1 right or back."""


def centre_finding(dims: Mapping[str, float]) -> Drawing:
    """From above, the operator's side below.

    Also: `x`, `y` (across, none for a corner), `inside`, `round`; `tip_x` and `tip_y` (-1, 0, +1:
    the side that the tip is at, 0 the middle) with `touching` (1); `done_x`, `done_y` (touches made
    in that direction, 2 once it is settled).
    """
    corner = not dims.get("x")
    tip = dims["tip"]
    wide = dims.get("x") or tip * 7
    deep = dims.get("y") or tip * 7
    inside = bool(dims.get("inside"))
    half_x, half_y = wide / 2, deep / 2
    size = max(wide, deep)
    edge = (size * 0.28 if inside else tip * 1.35) + size * 0.03
    items = _work(half_x, half_y, size, dims, corner=corner)
    box = (-half_x - edge, -half_y - edge, half_x + edge, half_y + edge)
    lean = -1 if inside else 1
    made: list[Point] = []
    for axis in ("x", "y"):
        first = dims[f"first_{axis}"]
        for number in range(min(2, int(dims.get(f"done_{axis}", 0)))):
            if corner and number:
                continue
            side = first if number == 0 else -first
            made.append(_touch_point(axis, side, half_x, half_y))
        if dims.get(f"done_{axis}", 0) >= 2:
            items.append(_middle(axis, first, half_x, half_y, edge, corner=corner))
    for at in made:
        items.append(Circle(at, size * 0.035, Ink.EDGE, filled=True))
    if "tip_x" in dims or "tip_y" in dims:
        x, y = dims.get("tip_x", 0.0), dims.get("tip_y", 0.0)
        touching = bool(dims.get("touching"))
        away = tip / 2 * lean if touching else 0.0
        centre = (x * (half_x + away if x else 0.0), y * (half_y + away if y else 0.0))
        if corner and not touching:
            centre = (
                dims["first_x"] * half_x if x or dims.get("done_x", 0) >= 1 else 0.0,
                dims["first_y"] * half_y if y or dims.get("done_y", 0) >= 1 else -half_y * 0.2,
            )
        items.append(Circle(centre, tip / 2, Ink.TOOL, weight=Weight.HEAVY))
        if touching:
            axis, side = ("x", x) if x else ("y", y)
            items += touched(_touch_point(axis, side, half_x, half_y), size * 0.45)
        else:
            items.append(_cross(centre, tip * 0.9))
    what = "corner" if corner else "bore" if inside else "middle"
    return Drawing(tuple(items), box, f"finding the {what}, from above")


def _work(
    half_x: float, half_y: float, size: float, dims: Mapping[str, float], *, corner: bool
) -> list[Primitive]:
    if dims.get("inside"):
        around = rectangle(-half_x - size * 0.26, -half_y - size * 0.26,
                           half_x + size * 0.26, half_y + size * 0.26)  # fmt: skip
        hole = (
            arc_points((0, 0), half_x, 0, 360)
            if dims.get("round")
            else rectangle(-half_x, -half_y, half_x, half_y)
        )
        return [Polygon(around, Ink.METAL), Polygon(hole, Ink.VOID)]
    if dims.get("round"):
        return [Polygon(arc_points((0, 0), half_x, 0, 360), Ink.METAL)]
    work: list[Primitive] = [Polygon(rectangle(-half_x, -half_y, half_x, half_y), Ink.METAL)]
    if corner:  # the corner itself stands out; the rest of the work is not known
        at = (dims["first_x"] * half_x, dims["first_y"] * half_y)
        work.append(Line(((at[0], -at[1]), at, (-at[0], at[1])), Ink.EDGE, Weight.HEAVY))
    return work


def _touch_point(axis: str, side: float, half_x: float, half_y: float) -> Point:
    return (side * half_x, 0.0) if axis == "x" else (0.0, side * half_y)


def _middle(
    axis: str, first: float, half_x: float, half_y: float, edge: float, *, corner: bool
) -> Line:
    """The line that is settled: through the middle, or along the edge of a corner."""
    if axis == "x":
        x = first * half_x if corner else 0.0
        ends: tuple[Point, Point] = ((x, -half_y - edge), (x, half_y + edge))
    else:
        y = first * half_y if corner else 0.0
        ends = ((-half_x - edge, y), (half_x + edge, y))
    return Line(ends, Ink.MARK, Weight.NORMAL, dashed=True)


def _cross(at: Point, size: float) -> Line:
    x, y = at
    return Line(
        ((x - size, y), (x + size, y), (x, y), (x, y + size), (x, y - size)),
        Ink.MARK,
        Weight.NORMAL,
    )


def tip_now(moment: Moment) -> Sizes:
    """Where the tip is, and what was touched before."""
    plan, step = moment.plan, moment.step
    place = plan.index(step.id)
    first = {axis: in_unit(dict(plan.drawing)[f"first_{axis}"], plan.unit) for axis in "xy"}
    sizes: Sizes = {}
    for s in plan.steps[:place]:
        words = s.id.split("-")
        if len(words) > 1 and words[1] in first and words[0] in ("touch", "middle", "edge"):
            made = 1.0 if s.id.startswith("touch") and words[-1] == "1" else 2.0
            sizes[f"done_{words[1]}"] = made
    words = step.id.split("-")
    if len(words) > 1 and words[1] in first:
        axis = words[1]
        other = "y" if axis == "x" else "x"
        sizes[f"tip_{other}"] = 0.0
        if words[0] == "touch":
            sizes[f"tip_{axis}"] = first[axis] * (1 if words[-1] == "1" else -1)
            sizes["touching"] = 1.0
        else:
            sizes[f"tip_{axis}"] = 0.0
            sizes[f"done_{axis}"] = 2.0
    elif "done_y" in sizes:
        sizes.update(tip_x=0.0, tip_y=0.0)
    return sizes


def touched_places(plan: Plan) -> Sizes:
    """Both places where it is touched."""
    return {"done_x": 2.0, "done_y": 2.0}


DRAWINGS: Drawings = {"centre": (NEEDS, centre_finding)}
NOW: Now = {"centre": tip_now}
PLANNED: Planned = {"centre": touched_places}
