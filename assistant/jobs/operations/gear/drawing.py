"""A spur gear on its arbor: the blank, the tooth spaces cut so far, the one to cut now."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence

from assistant.drawing import (
    Anchor,
    Circle,
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
    depths,
)
from assistant.jobs.moment import Moment, Now, Sizes, coming_cut, in_unit
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Cut

NEEDS = ("teeth", "blank", "depth_full")
"""Teeth, outside diameter of the blank, full depth of a space."""
FLANK = 20.0
"""Degrees of a flank from the space's middle line: straight ones stand for the involute."""


def gear_blank(dims: Mapping[str, float]) -> Drawing:
    """From the end, the space at hand on top under the cutter.

    Also: `at` (number of the space at hand, from 1), `round_now` and `round_before` (depths that
    this round of the wheel has come to and that the one before it left), `depth_now`,
    `depth_after`.
    """
    teeth, radius = max(4, int(dims["teeth"])), dims["blank"] / 2
    now, after, full = depths(dims)
    at = int(dims.get("at", 0))
    deep = dims.get("round_now", 0.0)
    before = dims.get("round_before", 0.0)
    # half the width of a space where it is as wide as the tooth, one addendum under the outside
    half = math.pi * radius / (teeth + 2) / 2
    items: list[Primitive] = [
        Polygon(arc_points((0, 0), radius, 0, 360), Ink.METAL),
        Circle((0, 0), radius * 0.2, Ink.VOID, filled=True),
        Circle((0, 0), radius * 0.2, Ink.EDGE),
    ]
    for number in range(1, teeth + 1):
        if number == at:
            continue
        # the wheel is turned so that the space at hand is on top; those done lie to the right
        angle = 90 - 360 * (at - number) / teeth if at else 90 - 360 * number / teeth
        depth = max(deep if number < at else before, 0.0)
        space = _space(radius, teeth, half, full, depth or full, angle)
        if depth > 0:
            items.append(Polygon(space, Ink.VOID))
        else:
            items.append(Line((*space, space[0]), Ink.FAINT, Weight.THIN))
    if at:
        for depth, ink in ((full, Ink.TOGO), (after, Ink.NEXT), (now, Ink.VOID)):
            if depth > 0 and not (ink is Ink.NEXT and after <= now):
                items.append(Polygon(_space(radius, teeth, half, full, depth, 90), ink))
        items.append(_cutter(radius, teeth, half, full, now))
    items.append(Circle((0, 0), radius - full, Ink.FAINT, weight=Weight.THIN, dashed=True))
    title = f"{teeth} teeth, space {at} at hand" if at else f"blank for {teeth} teeth"
    edge = radius * 1.04
    if not at:
        return Drawing(tuple(items), (-edge, -edge, edge, radius * 1.1), title)
    # near by: some spaces to either side, and in the metal below how far round it is
    wide = min(edge, 3.2 * 2 * math.pi * radius / teeth)
    high = wide * 1.25
    if high < 2 * radius:
        middle, ring = (0.0, radius - full - high * 0.42), high * 0.24
        items += [
            Circle(middle, ring, Ink.VOID, filled=True),
            Circle(middle, ring, Ink.EDGE, weight=Weight.NORMAL),
        ]
        if at > 1:
            sweep = arc_points(middle, ring, 90, 90 - 360 * (at - 1) / teeth)
            items.append(Line(sweep, Ink.MARK, Weight.HEAVY))
        items.append(Text(middle, f"{at}", Anchor.CENTRE, 1.2, bold=True, ink=Ink.EDGE))
    low = max(radius - high, -edge)
    return Drawing(tuple(items), (-wide, low, wide, radius + full * 1.6), title)


def _width(radius: float, teeth: int, half: float, y: float) -> float:
    """Half of a space's width at a distance from the middle of the gear."""
    pitch_radius = radius - 2 * radius / (teeth + 2)
    return max(half + (y - pitch_radius) * math.tan(math.radians(FLANK)), half * 0.3)


def _space(
    radius: float, teeth: int, half: float, full: float, depth: float, angle: float
) -> tuple[Point, ...]:
    """A space that has come to `depth`: the cutter's own shape, sunk so far."""
    floor = radius - depth
    lift = full - depth  # the cutter is not down yet by so much
    bottom = _width(radius, teeth, half, floor - lift)
    mouth = _width(radius, teeth, half, radius - lift)
    mouth_y = math.sqrt(max(radius**2 - mouth**2, 0.0))
    outside = [
        (x, math.sqrt(max(radius**2 - x**2, 0.0)) * 1.002)
        for x in (mouth * (1 - i / 3) for i in range(7))
    ]
    shape = [(-mouth, mouth_y), (-bottom, floor), (bottom, floor), *outside]
    turn = math.radians(angle - 90)
    cos, sin = math.cos(turn), math.sin(turn)
    return tuple((x * cos - y * sin, x * sin + y * cos) for x, y in shape)


def _cutter(radius: float, teeth: int, half: float, full: float, now: float) -> Line:
    """The cutter seen along the work: its tooth, and its body above."""
    floor, lift = radius - now, full - now
    bottom = _width(radius, teeth, half, floor - lift)
    shoulder = floor + full * 1.3
    wide = _width(radius, teeth, half, shoulder - lift)
    top = radius * 1.4
    return Line(
        ((-wide, top), (-wide, shoulder), (-bottom, floor), (bottom, floor), (wide, shoulder),
         (wide, top)),
        Ink.TOOL, Weight.HEAVY,
    )  # fmt: skip


_NUMBERS = re.compile(r"\d+")


def space_now(moment: Moment) -> Sizes:
    """The space at hand, the depth of this round of the wheel and of the one before it."""
    plan, step = moment.plan, moment.step
    found = _NUMBERS.search(step.id)
    rounds = ("rough", "finish")
    name = step.id.partition("-")[0]
    if name not in rounds or found is None:
        deepest = _deepest(plan, moment.done())
        if not deepest:
            return {"depth_now": 0.0, "depth_after": 0.0}
        spaces = [int(_NUMBERS.findall(cut.id)[0]) for cut in moment.done()]
        return {"at": float(spaces[-1]), "round_now": deepest, "round_before": 0.0,
                "depth_now": deepest, "depth_after": deepest}  # fmt: skip
    teeth = int(plan.drawn["teeth"])
    space = (int(found[0]) - 1) % teeth + 1
    cuts = [step for step in plan.steps if isinstance(step, Cut)]
    this = _deepest(plan, [cut for cut in cuts if cut.id.startswith(name)])
    left = 0.0
    if name == "finish":
        left = _deepest(plan, [cut for cut in cuts if not cut.id.startswith(name)])
    here = moment.done(f"{name}-{found[0]}-")
    now = max((in_unit(cut.depth, plan.unit) for cut in here), default=left)
    cut = coming_cut(plan, step)
    after = in_unit(cut.depth, plan.unit) if cut is not None else now
    return {"at": float(space), "round_now": this, "round_before": left,
            "depth_now": now, "depth_after": max(now, after)}  # fmt: skip


def _deepest(plan: Plan, cuts: Sequence[Cut]) -> float:
    return in_unit(max(cut.depth for cut in cuts), plan.unit) if cuts else 0.0


DRAWINGS: Drawings = {"gear": (NEEDS, gear_blank)}
NOW: Now = {"gear": space_now}
