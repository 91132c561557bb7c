"""The block from above, with the cutter at the side that is milled and the way it goes."""

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
    Point,
    Polygon,
    Primitive,
    Text,
    Weight,
    depths,
    rectangle,
    size_label,
    touched,
)
from assistant.jobs.moment import Moment, Now, Sizes, coming_cut, in_unit
from assistant.jobs.operations.sides.side import ROUND
from assistant.jobs.steps import Cut, Touch

NEEDS = ("cutter", "side_1", "side_2")
"""Diameter of the cutter, and at which side of the machine the first two are milled: 0 right, 1
back, 2 left, 3 front. Also: `length` and `width` as far as they are milled."""
OTHER = 0.45
"""Of what is milled, how large the other size is drawn where the job has none."""


def seen_from_above(dims: Mapping[str, float]) -> Drawing:
    """The operator stands at the bottom. Also: `at` (which side is milled, from 1), `done` (sides
    finished), `turned`, `side_3`, `side_4`, `depth_now`, `depth_after`, `depth_full`, `climbs`,
    `touch_side`."""
    length = dims.get("length") or dims["width"] / OTHER
    width = dims.get("width") or length * OTHER
    at = max(1, int(dims.get("at", 1)))
    place = int(dims.get(f"side_{at}", dims["side_1"]))
    now, after, full = depths({"depth_full": 0.0, **dims})
    radius = dims["cutter"] / 2
    unit = max(length, width)
    items: list[Primitive] = [Polygon(rectangle(0.0, 0.0, length, width), Ink.METAL)]
    for low, high, ink in ((after, full, Ink.TOGO), (now, after, Ink.NEXT)):
        if high > low:
            items.append(Polygon(_strip(place, length, width, full - high, full - low), ink))
    start, end = _path(place, length, width, full - after + radius, bool(dims.get("climbs")))
    if dims.get("touch_side"):
        met = _middle(place, length, width, full - now)
        items += touched(met, unit * 0.3)
        start = _middle(place, length, width, full - now + radius)
    else:
        items.append(Line((start, end), Ink.FAINT, dashed=True, arrow=True))
    items.append(Circle(start, radius, Ink.TOOL, weight=Weight.HEAVY))
    items += _numbers(dims, at, length, width)
    room = 2.2 * radius + full
    off = max(room * 0.25, unit * 0.06)
    left, bottom = (room if place != 0 else off), (room if place != 1 else off)
    if place in (0, 2):
        items.append(Dimension((0.0, -room), (length, -room), size_label(length), side=-1))
    right, top = (room if place != 2 else off), (room if place != 3 else off)
    box = (-left, -bottom, length + right, width + top)
    way = "climbing" if dims.get("climbs") else "conventional"
    return Drawing(
        tuple(items),
        box,
        f"the {ROUND[place].called}, from above, {way}",
        room=(0, 1.4 if place in (0, 2) else 0, 0, 0),
    )


def _strip(place: int, length: float, width: float, low: float, high: float) -> tuple[Point, ...]:
    """What stands out of a side, from so far out to so far out."""
    if place == 0:
        return rectangle(length + low, 0.0, length + high, width)
    if place == 2:
        return rectangle(-high, 0.0, -low, width)
    if place == 1:
        return rectangle(0.0, width + low, length, width + high)
    return rectangle(0.0, -high, length, -low)


def _middle(place: int, length: float, width: float, out: float) -> Point:
    """Over the middle of a side, so far out of it."""
    return (
        (length + out, width / 2),
        (length / 2, width + out),
        (-out, width / 2),
        (length / 2, -out),
    )[place]


def _path(
    place: int, length: float, width: float, out: float, climbs: bool
) -> tuple[Point, Point]:  # fmt: skip
    """The way of the cutter's middle: counter-clockwise where it is conventional."""
    begin, end = (
        ((length + out, -out), (length + out, width + out)),
        ((length + out, width + out), (-out, width + out)),
        ((-out, width + out), (-out, -out)),
        ((-out, -out), (length + out, -out)),
    )[place]
    return (end, begin) if climbs else (begin, end)


def _numbers(dims: Mapping[str, float], at: int, length: float, width: float) -> list[Primitive]:
    """The sides by number, a ring about those that are done; turned round, the first lies across
    from the one at hand."""
    done = int(dims.get("done", at - 1))
    items: list[Primitive] = []
    for number in range(1, 5):
        if f"side_{number}" not in dims:
            continue
        place = int(dims[f"side_{number}"])
        if dims.get("turned") and number != at:
            place = (place + 2) % 4
        inset = -min(length, width) * 0.2
        items.append(
            Text(_middle(place, length, width, inset), str(number), bold=number == at,
                 ringed=number <= done)
        )  # fmt: skip
    return items


_SIDE = re.compile(r"side-(\d)-|-side-(\d)")


def side_now(moment: Moment) -> Sizes:
    """The side at hand, what comes off it, and which way it is fed."""
    plan, step = moment.plan, moment.step
    place = plan.index(step.id)
    numbers = [int(f[1]) for s in plan.steps[place:] if (f := _SIDE.match(s.id))]
    last = max((int(f[1]) for s in plan.steps if (f := _SIDE.match(s.id))), default=1)
    at = numbers[0] if numbers else last
    cuts = [s for s in plan.steps if isinstance(s, Cut) and s.id.startswith(f"side-{at}-")]
    cut = coming_cut(plan, step)
    full = max((in_unit(one.depth, plan.unit) for one in cuts), default=0.0)
    now = max(
        (in_unit(one.depth, plan.unit) for one in cuts if one.id in moment.confirmed), default=0.0
    )
    after = in_unit(cut.depth, plan.unit) if cut is not None and cut in cuts else now
    done = float(at - 1 if numbers else last)
    sizes = {"at": float(at), "done": done, "depth_full": full, "depth_now": now,
             "depth_after": max(now, after), "climbs": 0.0}  # fmt: skip
    if cut is not None:
        side = ROUND[int(in_unit(dict(plan.drawing)[f"side_{at}"], plan.unit))]
        sizes["climbs"] = float(cut.feed_approach != side.conventional)
    if isinstance(step, Touch):
        sizes["touch_side"] = 1.0 if step.axis in ("table", "saddle") else 0.0
    return sizes


DRAWINGS: Drawings = {"sides": (NEEDS, seen_from_above)}
NOW: Now = {"sides": side_now}
