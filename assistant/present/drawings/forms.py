"""Flats on a round bar, and a dovetail, seen from the end."""

from __future__ import annotations

import math
from collections.abc import Mapping

from assistant.present.drawings.model import (
    Circle,
    Drawing,
    Ink,
    Line,
    Point,
    Polygon,
    Primitive,
    Weight,
    arc_points,
    depths,
    touched,
)

FLATS_NEEDS = ("stock", "sides", "across", "depth_full")
"""Diameter of the bar, number of flats, size across them (across a flat and the round opposite
where the number is odd), and what comes off each."""
DOVETAIL_NEEDS = ("wide", "narrow", "depth")
"""Width at the root and at the opening, and the depth."""


def flats(dims: Mapping[str, float]) -> Drawing:
    """The bar with its flats, the one on top at hand. Also: `depth_now`, `depth_after`."""
    radius, sides = dims["stock"] / 2, max(1, int(dims["sides"]))
    now, after, full = depths(dims)
    items: list[Primitive] = [Polygon(arc_points((0, 0), radius, 0, 360), Ink.METAL)]
    for number in range(1, sides):
        items.append(Line(_chord(radius, full, 90 - 360 * number / sides), Ink.GHOST, dashed=True))
    for high, low, ink in ((after, full, Ink.TOGO), (now, after, Ink.NEXT), (0.0, now, Ink.VOID)):
        if low > high:
            items.append(Polygon(_segment(radius, high, low), ink))
    items.append(Line(_chord(radius, full, 90), Ink.MARK, Weight.HEAVY))
    box = (-radius * 1.05, -radius * 1.05, radius * 1.05, radius * 1.1)
    return Drawing(tuple(items), box, f"{sides} flats on a round bar")


def _chord(radius: float, depth: float, angle: float) -> tuple[Point, Point]:
    """The flat at `depth` under the round, facing `angle` degrees."""
    reach = radius - depth
    half = math.degrees(math.acos(max(-1.0, min(1.0, reach / radius))))
    ends = (angle + half, angle - half)
    first, last = (
        (radius * math.cos(math.radians(a)), radius * math.sin(math.radians(a))) for a in ends
    )
    return first, last


def _segment(radius: float, high: float, low: float) -> tuple[Point, ...]:
    """What lies on top between two depths, bounded at the sides by the round."""
    outer = math.degrees(math.acos(max(-1.0, min(1.0, (radius - high) / radius))))
    inner = math.degrees(math.acos(max(-1.0, min(1.0, (radius - low) / radius))))
    left = arc_points((0, 0), radius, 90 + inner, 90 + outer)
    right = arc_points((0, 0), radius, 90 - outer, 90 - inner)
    return (*left, *right)


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
