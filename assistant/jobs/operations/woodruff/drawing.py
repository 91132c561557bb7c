"""A Woodruff keyseat, cut lengthwise: the cutter's own circle sunk into the shaft."""

from __future__ import annotations

import math
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
    rectangle,
    touched,
)

NEEDS = ("shaft", "cutter", "depth_full")
"""Shaft diameter, cutter diameter, full depth from the top of the shaft."""


def woodruff_section(dims: Mapping[str, float]) -> Drawing:
    """Seen from the side, the shaft cut through its axis. Also: `depth_now`, `depth_after`,
    `key_over` (how far the key stands above the shaft)."""
    radius = dims["cutter"] / 2
    shaft = dims["shaft"] / 2
    full = dims["depth_full"]
    now = min(max(dims.get("depth_now", 0.0), 0.0), full)
    after = min(max(now, dims.get("depth_after", now)), full)
    half = max(radius * 1.5, _chord(radius, full) * 1.6)
    items: list[Primitive] = [
        Polygon(rectangle(-half * 1.2, -shaft * 1.1, half * 1.2, 0.0), Ink.METAL),
    ]
    if full > after:
        items.append(Polygon(_segment(radius, full), Ink.TOGO))
    if after > now:
        items.append(Polygon(_segment(radius, after), Ink.NEXT))
    if now > 0:
        items.append(Polygon(_segment(radius, now), Ink.VOID))
    items.append(Line(((-half, -shaft), (half, -shaft)), Ink.FAINT, Weight.THIN, dashed=True))
    items.append(Circle((0, radius - now), radius, Ink.TOOL, weight=Weight.HEAVY))
    if dims.get("touch_top"):
        items += touched((0.0, 0.0), shaft)
    over = dims.get("key_over", 0.0)
    if over:
        items.append(Line(((-half * 0.6, over), (half * 0.6, over)), Ink.GHOST, dashed=True))
    box = (-half, -max(full * 1.5, shaft * 0.6), half, max(radius * 1.1, over * 2))
    return Drawing(tuple(items), box, "Woodruff keyseat, along the shaft")


def _chord(radius: float, depth: float) -> float:
    """Half the length of the seat at the top of the shaft."""
    return math.sqrt(max(radius**2 - (radius - depth) ** 2, 0.0))


def _segment(radius: float, depth: float) -> tuple[Point, ...]:
    """What a cutter sunk to `depth` takes out of the shaft."""
    half = _chord(radius, depth)
    return tuple(
        (x, radius - depth - math.sqrt(max(radius**2 - x**2, 0.0)))
        for x in (half * (i / 24 - 1) for i in range(49))
    )


DRAWINGS: Drawings = {"woodruff": (NEEDS, woodruff_section)}
