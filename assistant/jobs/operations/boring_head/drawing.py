"""A bore and the boring head over it, along the spindle."""

from __future__ import annotations

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
    Weight,
    arc_points,
    rectangle,
    size_label,
    touched,
)
from assistant.jobs.moment import Moment, Now, Sizes, in_unit
from assistant.jobs.steps import Cut, Note

NEEDS = ("bore", "hole", "depth")
"""Diameter of the finished bore, of the hole there is, and how deep it is bored."""


def boring_head(dims: Mapping[str, float]) -> Drawing:
    """Rings from the hole there is to the bore; the head's slide runs out as far as the tool.

    Also: `depth_now`, `depth_after` from the hole there is, as the head's dial counts them, and
    `share`, how much of what the bore grows by that is; `touch_top` (1) where the tool touches the
    wall of the hole.
    """
    first, last = dims["hole"] / 2, dims["bore"] / 2
    a_side = 0.5 / dims.get("share", 0.5)
    now = min(first + max(dims.get("depth_now", 0.0) * a_side, 0.0), last)
    after = min(max(now, first + dims.get("depth_after", 0.0) * a_side), last)
    side = last * 1.35
    items: list[Primitive] = [Polygon(rectangle(-side, -side, side, side), Ink.METAL)]
    for radius, ink in ((last, Ink.TOGO), (after, Ink.NEXT), (now, Ink.VOID)):
        if ink is Ink.VOID or radius > now:
            if ink is Ink.TOGO:
                items.append(Polygon(arc_points((0, 0), radius, 0, 360), ink))
            else:
                items.append(Circle((0, 0), radius, ink, filled=True))
            items.append(Circle((0, 0), radius, Ink.EDGE))
    slide, tool = first * 0.34, first * 0.12
    tip = after
    items += [
        Circle((0, 0), first * 0.62, Ink.TOOL, weight=Weight.NORMAL),
        Line(((-slide, slide), (tip - first * 0.2, slide), (tip - first * 0.2, -slide),
              (-slide, -slide), (-slide, slide)), Ink.TOOL, Weight.NORMAL),
        Polygon(((tip, 0.0), (tip - first * 0.24, tool), (tip - first * 0.24, -tool)), Ink.MARK),
        Line(((-tool, 0), (tool, 0), (0, 0), (0, tool), (0, -tool)), Ink.EDGE, Weight.THIN),
    ]  # fmt: skip
    if dims.get("touch_top"):
        items += touched((now, 0.0), last)
    items.append(Dimension((-last, -side * 1.12), (last, -side * 1.12), size_label(2 * last), -1))
    box = (-side * 1.02, -side * 1.16, side * 1.02, side * 1.02)
    title = f"bore {size_label(2 * now)} now, {size_label(2 * last)} to be"
    return Drawing(tuple(items), box, title, room=(0, 1.6, 0, 0))


def head_now(moment: Moment) -> Sizes:
    """A note that sets the head is for the cut after it."""
    plan, step = moment.plan, moment.step
    sizes: Sizes = {"touch_top": 1.0} if step.id == "touch-bore" else {}
    if isinstance(step, Note) and step.id.endswith("-set"):
        later = (s for s in plan.steps[plan.index(step.id) :] if isinstance(s, Cut))
        cut = next(later, None)
        if cut is not None:
            sizes["depth_after"] = in_unit(cut.depth, plan.unit)
    return sizes


DRAWINGS: Drawings = {"bore": (NEEDS, boring_head)}
NOW: Now = {"bore": head_now}
