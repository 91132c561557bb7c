"""An angle set on a sine bar, and one set by tilting and proved by its rise over a run."""

from __future__ import annotations

import math
from collections.abc import Mapping

from assistant.drawing import (
    Anchor,
    Circle,
    Dimension,
    Drawing,
    Drawings,
    Ink,
    Line,
    Point,
    Polygon,
    Primitive,
    Text,
    Weight,
    arc_points,
    rectangle,
    size_label,
)
from assistant.jobs.common.facts import last_told
from assistant.jobs.moment import Moment, Now, Sizes, in_unit

NEEDS = ("angle", "run")
"""The angle in degrees, and the length over which the indicator is run."""


def angle_setting(dims: Mapping[str, float]) -> Drawing:
    """Also: `bar`, the length of a sine bar between its rolls; `rise`, as it was measured;
    `stack_at` and `rise_at` (1) where the step is about them."""
    return _sine_bar(dims) if dims.get("bar") else _tilted(dims)


def _sine_bar(dims: Mapping[str, float]) -> Drawing:
    """Bar, blocks and the work with its face level: everything but the work to the plan's sizes."""
    length, angle = dims["bar"], math.radians(dims["angle"])
    roll = length * 0.07
    stack = length * math.sin(angle)
    low, high = (0.0, roll), (length * math.cos(angle), stack + roll)
    normal = (-math.sin(angle), math.cos(angle))
    along = (math.cos(angle), math.sin(angle))

    def off(at: Point, across: float, ahead: float = 0.0) -> Point:
        return (
            at[0] + normal[0] * across + along[0] * ahead,
            at[1] + normal[1] * across + along[1] * ahead,
        )

    body = (
        off(low, roll * 0.4, -roll), off(high, roll * 0.4, roll),
        off(high, roll * 1.9, roll), off(low, roll * 1.9, -roll),
    )  # fmt: skip
    foot = off(low, roll * 1.9, length * 0.16)
    back = off(low, roll * 1.9, length * 0.84)
    level = back[1] + length * 0.05
    wedge = (foot, back, (back[0], level), (foot[0], level))
    blocks: list[Primitive] = []
    if stack > 0:
        half = roll * 1.3
        blocks.append(
            Polygon(rectangle(high[0] - half, 0.0, high[0] + half, stack),
                    Ink.NEXT if dims.get("stack_at") else Ink.METAL)
        )  # fmt: skip
    left, right = -length * 0.14, length * 1.16
    items: list[Primitive] = [
        Polygon(wedge, Ink.METAL),
        Line(((foot[0], level), (back[0], level)), Ink.MARK, Weight.HEAVY),
        Polygon(body, Ink.VOID),
        *blocks,
        *(Circle(at, roll, Ink.VOID, filled=True) for at in (low, high)),
        *(Circle(at, roll, Ink.EDGE) for at in (low, high)),
        Line(((left, 0.0), (right, 0.0)), Ink.EDGE, Weight.HEAVY),
        Dimension((right * 0.98, 0.0), (right * 0.98, stack), f"{stack:.4f}".rstrip("0")),
        Line(((high[0], stack), (right, stack)), Ink.FAINT, Weight.THIN),
        *_arc(low, length * 0.42, dims["angle"]),
    ]
    box = (left, -roll * 0.3, right, max(level, off(high, roll * 1.9)[1]) + roll * 0.4)
    title = f"sine bar at {size_label(dims['angle'])} degrees, stack {stack:.4f}"
    return Drawing(tuple(items), box, title, room=(0, 0, 4.2, 0))


def _arc(corner: Point, radius: float, angle: float) -> list[Primitive]:
    """The angle from level, with its size beside it."""
    level: tuple[Point, Point] = (corner, (corner[0] + radius * 1.15, corner[1]))
    return [
        Line(level, Ink.FAINT, Weight.THIN, dashed=True),
        Line(arc_points(corner, radius, 0, angle), Ink.EDGE, Weight.NORMAL),
        Text(
            (corner[0] + radius * 1.08, corner[1] + radius * math.sin(math.radians(angle / 2))),
            f"{size_label(angle)}°",
            Anchor.LEFT,
        ),
    ]


def _tilted(dims: Mapping[str, float]) -> Drawing:
    """The run and the rise as a triangle; the rise that was measured as a second line."""
    run, angle = dims["run"], math.radians(dims["angle"])
    rise = run * math.tan(angle)
    tip = (run, rise)
    tall = max(rise, run * 0.18)
    items: list[Primitive] = [
        Polygon(((0.0, 0.0), (run, 0.0), tip), Ink.METAL),
        Line(((-run * 0.06, 0.0), (run * 1.1, 0.0)), Ink.EDGE, Weight.HEAVY),
        Line(((0.0, 0.0), tip), Ink.MARK, Weight.HEAVY),
        *_arc((0.0, 0.0), run * 0.4, dims["angle"]),
        Dimension((run * 1.06, 0.0), (run * 1.06, rise), f"{rise:.4f}".rstrip("0")),
        Dimension((0.0, -tall * 0.16), (run, -tall * 0.16), size_label(run), -1),
    ]
    measured = dims.get("rise")
    if measured:
        items.append(Line(((0.0, 0.0), (run, measured)), Ink.EDGE, Weight.NORMAL, dashed=True))
    if dims.get("rise_at"):  # the indicator, where it ends
        items += [
            Line(((run, rise + tall * 0.5), (run, rise + tall * 0.04)), Ink.TOOL, Weight.HEAVY,
                 arrow=True),
        ]  # fmt: skip
    top = max(rise, measured or 0.0) + tall * 0.55
    title = f"{size_label(dims['angle'])} degrees: rise {rise:.4f} over a run of {size_label(run)}"
    box = (-run * 0.06, -tall * 0.2, run * 1.1, top)
    return Drawing(tuple(items), box, title, room=(0, 1.6, 4.2, 0))


def angle_now(moment: Moment) -> Sizes:
    """The stack, or the rise that was measured last."""
    plan, step = moment.plan, moment.step
    sizes: Sizes = {"stack_at": float(step.id == "stack")}
    sizes["rise_at"] = float(step.id.startswith("measure-rise"))
    rise = last_told(moment.facts, "rise")
    if rise is not None:
        sizes["rise"] = in_unit(rise[1], plan.unit)
    return sizes


DRAWINGS: Drawings = {"angle": (NEEDS, angle_setting)}
NOW: Now = {"angle": angle_now}
