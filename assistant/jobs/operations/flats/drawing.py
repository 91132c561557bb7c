"""Flats on a round bar, from the end."""

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
    depths,
)

FLATS_NEEDS = ("stock", "sides", "across", "depth_full")
"""Diameter of the bar, number of flats, size across them (across a flat and the round opposite
where the number is odd), and what comes off each."""


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


DRAWINGS: Drawings = {"flats": (FLATS_NEEDS, flats)}
