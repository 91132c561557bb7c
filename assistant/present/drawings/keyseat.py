"""A keyseat in section: shaft, key and cutter to scale, the depth now and what is to go."""

from __future__ import annotations

import math
from collections.abc import Mapping

from assistant.present.drawings.model import (
    Anchor,
    Drawing,
    Ink,
    Line,
    Point,
    Polygon,
    Primitive,
    Text,
    Weight,
    arc_points,
    rectangle,
)

NEEDS = ("shaft", "key_width", "depth")
"""Without these there is no drawing: shaft diameter, key width, full depth from the top."""


def keyseat_section(dims: Mapping[str, float]) -> Drawing:
    """Looking along the shaft.

    Besides `NEEDS`: `key_height`, `cutter` (width or diameter), `depth_now`, `depth_after`.
    """
    radius = dims["shaft"] / 2
    half = dims["key_width"] / 2
    full = dims["depth"]
    now = min(max(dims.get("depth_now", 0.0), 0.0), full * 1.5)
    after = max(now, dims.get("depth_after", now))
    items: list[Primitive] = [Polygon(_shaft(radius, half, now), Ink.METAL)]
    shoulder = math.sqrt(max(radius**2 - half**2, 0.0))
    if after > now:
        items.append(Polygon(_slab(radius, half, now, after, shoulder), Ink.NEXT))
    if full > after:
        items.append(Polygon(_slab(radius, half, after, full, shoulder), Ink.TOGO))
    height = dims.get("key_height")
    floor = radius - full
    if height:
        items.append(
            Line(_closed(rectangle(-half, floor, half, floor + height)), Ink.GHOST, dashed=True)
        )
    top = radius * 1.42
    cutter = dims.get("cutter")
    if cutter:
        foot = radius - now
        items.append(
            Line(
                ((-cutter / 2, top), (-cutter / 2, foot), (cutter / 2, foot), (cutter / 2, top)),
                Ink.TOOL,
                Weight.HEAVY,
            )
        )
    bottom = -radius * 0.3
    items.append(
        Line(((0, bottom), (0, top)), Ink.FAINT, Weight.THIN, dashed=True)
    )
    box = (-radius * 1.08, bottom, radius * 1.08, top)
    return Drawing(
        tuple(items), box, f"keyseat section: {_percent(now, full)} of the depth is cut"
    )


def _percent(now: float, full: float) -> str:
    return f"{round(100 * now / full)} %" if full > 0 else "none"


def _shaft(radius: float, half: float, depth: float) -> tuple[Point, ...]:
    """The shaft's outline with the keyseat cut to `depth` from the top."""
    angle = math.degrees(math.acos(min(1.0, half / radius)))
    floor = radius - depth
    shoulder = math.sqrt(max(radius**2 - half**2, 0.0))
    if depth <= 0 or half >= radius:
        return arc_points((0, 0), radius, 0, 360)
    if floor >= shoulder:  # the cutter has not reached the sides yet: a flat on the top
        flat = math.degrees(math.acos(max(0.0, min(1.0, math.sqrt(radius**2 - floor**2) / radius))))
        return arc_points((0, 0), radius, 180 - flat, 360 + flat)
    around = arc_points((0, 0), radius, 180 - angle, 360 + angle)
    return (*around, (half, floor), (-half, floor))


def _slab(
    radius: float, half: float, start: float, end: float, shoulder: float
) -> tuple[Point, ...]:
    """Metal between two depths from the top, bounded above by the shaft's own roundness."""
    bottom, top = radius - end, radius - start
    if top <= shoulder:
        return rectangle(-half, bottom, half, top)
    crown = [p for p in arc_points((0, 0), radius, 20, 160, 1.0) if abs(p[0]) <= half]
    upper = [(x, min(y, top)) for x, y in crown]
    if bottom >= shoulder:
        upper = [(x, max(bottom, y)) for x, y in upper if y >= bottom] or [(0.0, bottom)]
        left, right = min(x for x, _ in upper), max(x for x, _ in upper)
        return ((left, bottom), (right, bottom), *upper)
    return ((-half, bottom), (half, bottom), *upper)


def _closed(points: tuple[Point, ...]) -> tuple[Point, ...]:
    return (*points, points[0])


def caption(text: str, at: Point) -> Text:
    """A label of the section."""
    return Text(at, text, Anchor.LEFT)
