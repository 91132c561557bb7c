"""A dovetail, from the end."""

from __future__ import annotations

import math
from collections.abc import Mapping

from assistant.drawing import Circle, Drawing, Drawings, Ink, Polygon, Primitive, touched
from assistant.jobs.moment import Moment, Now, Sizes, coming_cut, in_unit
from assistant.jobs.steps import Cut

DOVETAIL_NEEDS = ("wide", "narrow", "depth")
"""Width at the root and at the opening, and the depth."""


def dovetail(dims: Mapping[str, float]) -> Drawing:
    """The female dovetail in its block, each side undercut as far as it is.

    Also: `pin`, the diameter that it is measured over; `first_now`, `first_after`, `second_now`,
    `second_after` (how far each wall has moved at the root, the first drawn at the left; whole
    where they are missing); `touch_first`, `touch_second` or `touch_top`.
    """
    wide, narrow, depth = dims["wide"] / 2, dims["narrow"] / 2, dims["depth"]
    side, floor = wide * 1.5, -depth * 2.2
    whole = wide - narrow
    block = (
        (-side, 0.0), (-side, floor), (side, floor), (side, 0.0),
        (narrow, 0.0), (narrow, -depth), (-narrow, -depth), (-narrow, 0.0),
    )  # fmt: skip
    items: list[Primitive] = [Polygon(block, Ink.METAL)]
    planned = any(name.startswith(("first_", "second_")) for name in dims)
    for sign, name in ((-1, "first"), (1, "second")):
        now = min(dims.get(f"{name}_now", 0.0), whole) if planned else whole
        after = min(max(now, dims.get(f"{name}_after", now)), whole)
        for moved, ink in ((whole, Ink.TOGO), (after, Ink.NEXT), (now, Ink.VOID)):
            if moved > 0 and not (ink is Ink.NEXT and after <= now):
                corners = (
                    (sign * narrow, -depth),
                    (sign * (narrow + moved), -depth),
                    (sign * narrow, -depth + moved * depth / whole),
                )
                items.append(Polygon(corners, ink))
        if dims.get(f"touch_{name}"):
            items += touched((sign * narrow, -depth * 0.6), side * 0.6)
    if dims.get("touch_top"):
        items += touched((0.0, -depth), side * 0.6)
    pin = dims.get("pin", 0.0) / 2
    if pin:
        # it touches the floor and the flank, whose angle to the floor is that of its half
        angle = math.atan2(depth, whole)
        at = wide - pin / math.tan(angle / 2)
        items += [
            Circle((sign * at, -depth + pin), pin, Ink.GHOST, dashed=True) for sign in (1, -1)
        ]
    box = (-side * 1.02, floor * 1.02, side * 1.02, depth * 0.4)
    return Drawing(tuple(items), box, "dovetail, from the end")


def walls_now(moment: Moment) -> Sizes:
    """How far each wall has moved at the root."""
    plan, step = moment.plan, moment.step
    sizes: Sizes = {}
    cut = coming_cut(plan, step)
    for side in ("first", "second"):
        cuts = [s for s in plan.steps if isinstance(s, Cut) and s.id.startswith(side)]
        if not cuts:
            continue
        whole = in_unit(cuts[0].taken + cuts[0].left, plan.unit)

        def moved(one: Cut, whole: float = whole) -> float:
            return whole - in_unit(one.left, plan.unit)

        now = max((moved(one) for one in cuts if one.id in moment.confirmed), default=0.0)
        sizes[f"{side}_now"] = now
        sizes[f"{side}_after"] = max(now, moved(cut)) if cut is not None and cut in cuts else now
        if step.id.startswith(f"touch-{side}"):
            sizes[f"touch_{side}"] = 1.0
    return sizes


DRAWINGS: Drawings = {"dovetail": (DOVETAIL_NEEDS, dovetail)}
NOW: Now = {"dovetail": walls_now}
