"""One groove of a 60 degree thread, with the passes that cut it."""

from __future__ import annotations

import math
from collections.abc import Mapping

from assistant.drawing import Drawing, Drawings, Ink, Line, Point, Polygon, Primitive, Weight
from assistant.jobs.moment import Moment, Now, Planned, Sizes, in_unit
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Cut

NEEDS = ("pitch", "depth_full")
"""Pitch and depth of the groove, measured square to the axis."""


def thread_flanks(dims: Mapping[str, float]) -> Drawing:
    """Along the axis. Also: `angle` (60), `infeed` (degrees from square to the axis, 0 for
    straight in), `depth_now`, `depth_after`, `pass_1` ... cumulative depths square to the axis."""
    pitch, full = dims["pitch"], dims["depth_full"]
    flank = math.tan(math.radians(dims.get("angle", 60.0) / 2))
    lean = math.tan(math.radians(dims.get("infeed", 0.0)))
    now = min(max(dims.get("depth_now", 0.0), 0.0), full)
    after = min(max(now, dims.get("depth_after", now)), full)
    wide = pitch * 0.75
    block = ((-wide, 0.0), (-wide, -full * 1.6), (wide, -full * 1.6), (wide, 0.0))
    items: list[Primitive] = [Polygon(block, Ink.METAL)]
    if full > after:
        items.append(Polygon(_groove(full, full, flank, lean), Ink.TOGO))
    if after > now:
        items.append(Polygon(_groove(after, full, flank, lean), Ink.NEXT))
    if now > 0:
        items.append(Polygon(_groove(now, full, flank, lean), Ink.VOID))
    for name, depth in sorted(dims.items()):
        if name.startswith("pass_") and depth > after:
            items.append(Line(_groove(depth, full, flank, lean), Ink.EDGE, Weight.THIN))
    tip = _groove(now, full, flank, lean)[1]
    top = full * 0.7
    rise = top - tip[1]
    tool = ((tip[0] - rise * flank, top), tip, (tip[0] + rise * flank, top))
    items.append(Line(tool, Ink.TOOL, Weight.HEAVY))
    return Drawing(tuple(items), (-wide, -full * 1.6, wide, top), "thread groove with its passes")


def _groove(depth: float, full: float, flank: float, lean: float) -> tuple[Point, Point, Point]:
    """The V at a depth; with the compound set over, the tip comes in along one flank."""
    tip = (full - depth) * lean
    return ((tip - depth * flank, 0.0), (tip, -depth), (tip + depth * flank, 0.0))


def passes(plan: Plan) -> Sizes:
    """The depth of every pass, as the dial counts."""
    cuts = (s for s in plan.steps if isinstance(s, Cut) and s.kind != "spring")
    depths = sorted({in_unit(cut.depth, plan.unit) for cut in cuts})
    return {f"pass_{number}": depth for number, depth in enumerate(depths, 1)}


def passes_now(moment: Moment) -> Sizes:
    """The marks of the passes."""
    return passes(moment.plan)


DRAWINGS: Drawings = {"thread": (NEEDS, thread_flanks)}
NOW: Now = {"thread": passes_now}
PLANNED: Planned = {"thread": passes}
