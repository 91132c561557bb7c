"""A block in the vice: which side is up, which is down, which is against the fixed jaw."""

from __future__ import annotations

import re
from collections.abc import Mapping

from assistant.drawing import (
    Circle,
    Dimension,
    Drawing,
    Drawings,
    Ink,
    Line,
    Polygon,
    Primitive,
    Text,
    Weight,
    rectangle,
    size_label,
    touched,
)
from assistant.jobs.moment import Moment, Now, Sizes, coming_cut, in_unit
from assistant.jobs.steps import Cut

NEEDS = ("thickness", "width", "length")
"""The finished sizes: face 1 to face 4, face 2 to face 3, end to end."""
HELD = {
    1: (1, 4, 2, 3),
    2: (2, 3, 1, 4),
    3: (3, 2, 1, 4),
    4: (4, 1, 2, 3),
    5: (5, 6, 1, 4),
    6: (6, 5, 1, 4),
}
"""For the face that is milled: up, down, at the fixed jaw, at the moving jaw. Faces 1 and 4, 2 and
3, 5 and 6 lie opposite each other: the usual order of squaring a block (common practice, no
source)."""
BARRED = (2, 3)
"""Faces milled with a round bar at the moving jaw: the side there is still rough."""


def block_in_vice(dims: Mapping[str, float]) -> Drawing:
    """Seen along the jaws, the fixed one at the left.

    Also: `at` (the face being milled, 1 to 6), `done` (faces finished before it), `depth_now`,
    `depth_after`, `depth_full` of the cut at hand, `touch_top`.
    """
    at = min(6, max(1, int(dims.get("at", 1))))
    up, down, fixed, moving = HELD[at]
    across = {1: "width", 4: "width", 2: "thickness", 3: "thickness"}.get(at, "thickness")
    tall = {1: "thickness", 4: "thickness", 2: "width", 3: "width"}.get(at, "length")
    wide, high = dims[across], dims[tall]
    off = dims.get("depth_full", 0.0)
    now = min(max(dims.get("depth_now", 0.0), 0.0), off)
    after = min(max(now, dims.get("depth_after", now)), off)
    unit = max(wide, min(high, wide * 2))
    shown = min(high, wide * 2.0)  # a long block on end is broken off: its ends are what matters
    jaw_top = shown * 0.62
    items: list[Primitive] = [
        Polygon(rectangle(0.0, 0.0, wide, shown), Ink.METAL),
        Polygon(rectangle(-unit * 0.38, -unit * 0.22, 0.0, jaw_top), Ink.VOID),
        *_fixed(unit, jaw_top),
        *_moving_jaw(wide, jaw_top, unit, barred=at in BARRED),
    ]
    if off > 0:
        for low, top, ink in ((after, off, Ink.TOGO), (now, after, Ink.NEXT)):
            if top > low:
                items.append(
                    Polygon(rectangle(0.0, shown + off - top, wide, shown + off - low), ink)
                )
    surface = shown + max(off - now, 0.0)
    items.append(Line(((0.0, shown), (wide, shown)), Ink.MARK, Weight.HEAVY))
    for left in (0.08, 0.72):  # parallels
        parallel = rectangle(wide * left, -unit * 0.22, wide * (left + 0.2), 0.0)
        items.append(Polygon(parallel, Ink.VOID))
    if high > shown:
        items += _break(wide, shown * 0.3, wide)
    inset = min(wide, shown) * 0.2
    done = int(dims.get("done", at - 1))
    under_ring = inset * 0.7 if dims.get("touch_top") else 0.0
    for number, x, y in (
        (up, wide / 2, shown - inset - under_ring),
        (down, wide / 2, inset),
        (fixed, inset, shown * 0.55),
        (moving, wide - inset, shown * 0.55),
    ):
        finished = number <= done
        items.append(Text((x, y), str(number), bold=number == at, ringed=finished))
    if dims.get("touch_top"):
        items += touched((wide / 2, surface), unit * 0.7)
    at_right = wide + unit * 0.6
    items.append(Dimension((at_right, 0.0), (at_right, shown), size_label(high)))
    box = (-unit * 0.4, -unit * 0.24, at_right, shown + max(off, unit * 0.12))
    title = f"face {up} up, face {down} down, face {fixed} to the fixed jaw"
    if done:
        title += "; face 1 finished" if done == 1 else f"; faces 1 to {done} finished"
    return Drawing(tuple(items), box, title, room=(0, 0, 3.6, 0.3))


def _fixed(unit: float, jaw_top: float) -> list[Primitive]:
    """That the jaw at the left does not move: the strokes of solid ground behind it, and the face
    that the work is true to."""
    left, step = -unit * 0.38, jaw_top / 5
    strokes: list[Primitive] = [
        Line(((left, y), (left + unit * 0.13, y + step * 0.7)), Ink.EDGE, Weight.THIN)
        for y in (step * n - unit * 0.1 for n in range(5))
    ]
    return [*strokes, Line(((0.0, -unit * 0.22), (0.0, jaw_top)), Ink.EDGE, Weight.HEAVY)]


def _moving_jaw(wide: float, jaw_top: float, unit: float, *, barred: bool) -> list[Primitive]:
    """The moving jaw, with the round bar between it and a side that is still rough."""
    radius = unit * 0.09
    left = wide + (2 * radius if barred else 0.0)
    items: list[Primitive] = [
        Polygon(rectangle(left, -unit * 0.22, left + unit * 0.34, jaw_top), Ink.VOID)
    ]
    y = jaw_top * 0.2
    push = ((left + unit * 0.3, y), (left + unit * 0.06, y))
    items.append(Line(push, Ink.EDGE, Weight.NORMAL, arrow=True))
    if barred:
        items.append(Circle((wide + radius, jaw_top * 0.55), radius, Ink.EDGE))
    return items


def _break(wide: float, y: float, unit: float) -> list[Primitive]:
    """The sign of a part left out: two broken lines across."""
    step = unit * 0.05
    lines: list[Primitive] = []
    for low in (y, y + unit * 0.07):
        points = tuple((wide * i / 8, low + (step if i % 2 else 0.0)) for i in range(9))
        lines.append(Line(points, Ink.EDGE, Weight.THIN))
    return lines


def face_now(moment: Moment) -> Sizes:
    """The face at hand and what comes off it."""
    plan, step = moment.plan, moment.step
    found = re.search(r"face-(\d)", step.id)
    faces = [int(f[1]) for s in plan.steps if (f := re.search(r"face-(\d)", s.id))]
    place = plan.index(step.id)
    if found is None:
        coming = (re.search(r"face-(\d)", s.id) for s in plan.steps[place:])
        found = next((one for one in coming if one), None)
    at = int(found[1]) if found is not None else max(faces, default=6)
    cuts = [s for s in plan.steps if isinstance(s, Cut) and s.id.startswith(f"face-{at}-")]
    done = [cut for cut in cuts if cut.id in moment.confirmed]
    full = max((in_unit(cut.depth, plan.unit) for cut in cuts), default=0.0)
    now = max((in_unit(cut.depth, plan.unit) for cut in done), default=0.0)
    cut = coming_cut(plan, step)
    after = in_unit(cut.depth, plan.unit) if cut in cuts and cut is not None else now
    whole = plan.steps[place].id == "deburr"
    return {"at": float(at), "done": 6.0 if whole else float(at - 1), "depth_full": full,
            "depth_now": now, "depth_after": max(now, after)}  # fmt: skip


DRAWINGS: Drawings = {"block": (NEEDS, block_in_vice)}
NOW: Now = {"block": face_now}
