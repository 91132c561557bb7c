"""A keyseat in section: shaft, key and cutter to scale, the depth now and what is to go."""

from __future__ import annotations

import math
from collections.abc import Mapping

from assistant.drawing import (
    Drawing,
    Drawings,
    Ink,
    Line,
    Point,
    Polygon,
    Primitive,
    Weight,
    arc_points,
    rectangle,
    touched,
)

NEEDS = ("shaft", "width", "depth_full")
"""Shaft diameter, width of the seat, full depth from the top of the shaft."""


def keyseat_section(dims: Mapping[str, float]) -> Drawing:
    """Looking along the shaft.

    Besides `NEEDS`: `height` of the key, `cutter_width`, `depth_now`, `depth_after`, and
    `touch_side` or `touch_top` (1) where the cutter is being touched off there.
    """
    radius = dims["shaft"] / 2
    half = dims["width"] / 2
    full = dims["depth_full"]
    now = min(max(dims.get("depth_now", 0.0), 0.0), full * 1.5)
    after = max(now, dims.get("depth_after", now))
    shoulder = math.sqrt(max(radius**2 - half**2, 0.0))
    items: list[Primitive] = [Polygon(_shaft(radius, half, now), Ink.METAL)]
    if after > now:
        items.append(Polygon(_slab(radius, half, now, after, shoulder), Ink.NEXT))
    if full > after:
        items.append(Polygon(_slab(radius, half, after, full, shoulder), Ink.TOGO))
    touching_side = bool(dims.get("touch_side"))
    height = dims.get("height", 0.0)
    if height and not dims.get("touch_top"):
        floor = radius - full
        key = rectangle(-half, floor, half, floor + height)
        items.append(Line((*key, key[0]), Ink.GHOST, dashed=True))
    top = radius * 1.42
    bottom = -radius * 0.3
    items.append(Line(((0, bottom), (0, top)), Ink.FAINT, Weight.THIN, dashed=True))
    width = dims.get("cutter_width") or dims["width"]
    left = -radius * 1.08
    if touching_side:
        items += _cutter(-radius - width, -radius, -radius * 0.12, top)
        items += touched((-radius, 0.0), radius)
        left -= width
    else:
        items += _cutter(-width / 2, width / 2, radius - now, top)
        if dims.get("touch_top"):
            items += touched((0.0, radius), radius)
    title = f"keyseat section, {_percent(now, full)} of the depth cut"
    return Drawing(tuple(items), (left, bottom, radius * 1.08, top), title)


def _cutter(left: float, right: float, foot: float, top: float) -> list[Primitive]:
    """The cutter seen along the shaft: as wide as it cuts, open above."""
    outline = ((left, top), (left, foot), (right, foot), (right, top))
    return [Line(outline, Ink.TOOL, Weight.HEAVY)]


def _percent(now: float, full: float) -> str:
    return f"{round(100 * now / full)} %" if full > 0 else "none"


def _shaft(radius: float, half: float, depth: float) -> tuple[Point, ...]:
    """The shaft's outline with the keyseat cut to `depth` from the top."""
    floor = radius - depth
    shoulder = math.sqrt(max(radius**2 - half**2, 0.0))
    if depth <= 0 or half >= radius:
        return arc_points((0, 0), radius, 0, 360)
    if floor >= shoulder:  # the cutter has not reached the sides yet: a flat on the top
        flat = math.degrees(math.asin(floor / radius))
        return arc_points((0, 0), radius, 180 - flat, 360 + flat)
    angle = math.degrees(math.acos(half / radius))
    around = arc_points((0, 0), radius, 180 - angle, 360 + angle)
    return (*around, (half, floor), (-half, floor))


def _slab(
    radius: float, half: float, start: float, end: float, shoulder: float
) -> tuple[Point, ...]:
    """Metal between two depths from the top, bounded above by the shaft's own roundness."""
    bottom, top = radius - end, radius - start
    if top <= shoulder:
        return rectangle(-half, bottom, half, top)

    def half_width(y: float) -> float:
        return min(half, math.sqrt(max(radius**2 - y**2, 0.0)))

    low = max(bottom, shoulder)
    levels = [low + (top - low) * i / 16 for i in range(17)]
    right = [(half_width(y), y) for y in levels]
    left = [(-x, y) for x, y in reversed(right)]
    foot = half_width(bottom) if bottom > shoulder else half
    return ((-foot, bottom), (foot, bottom), *right, *left)


DRAWINGS: Drawings = {"keyseat": (NEEDS, keyseat_section)}
