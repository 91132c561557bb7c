"""A dovetail, from the end."""

from __future__ import annotations

import math
from collections.abc import Mapping

from assistant.drawing import Circle, Drawing, Drawings, Ink, Polygon, Primitive, touched

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


DRAWINGS: Drawings = {"dovetail": (DOVETAIL_NEEDS, dovetail)}
