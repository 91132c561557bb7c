"""A keyway in a bore, from the end."""

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
    arc_points,
    depths,
    rectangle,
)

KEYWAY_NEEDS = ("bore", "width", "depth_full")
"""Bore, width of the keyway, and its depth beyond the bore's own roundness."""


def keyway_section(dims: Mapping[str, float]) -> Drawing:
    """A hub along its bore, the keyway on top. Also: `depth_now`, `depth_after`."""
    radius, half = dims["bore"] / 2, dims["width"] / 2
    now, after, full = depths(dims)
    hub = max(radius * 1.5, radius + full * 3)
    items: list[Primitive] = [
        Circle((0, 0), hub, Ink.METAL, filled=True),
        Circle((0, 0), hub, Ink.EDGE),
        Circle((0, 0), radius, Ink.VOID, filled=True),
    ]
    for low, high, ink in (
        (0.0, now, Ink.VOID), (now, after, Ink.NEXT), (after, full, Ink.TOGO),
    ):  # fmt: skip
        if high > low:
            items.append(Polygon(_band(radius, half, low, high), ink))
    angle = math.degrees(math.asin(min(1.0, half / radius)))
    items.append(Line(arc_points((0, 0), radius, 90 - angle - 360, 90 - angle), Ink.EDGE))
    items.append(Line(((0, -radius * 0.3), (0, hub * 1.05)), Ink.FAINT, Weight.THIN, dashed=True))
    box = (-hub * 1.05, -radius * 0.35, hub * 1.05, hub * 1.08)
    return Drawing(tuple(items), box, "keyway in its bore, in section")


def _band(radius: float, half: float, low: float, high: float) -> tuple[Point, ...]:
    """Between two depths from the top of the bore; the first goes down to the bore itself."""
    if low > 0:
        return rectangle(-half, radius + low, half, radius + high)
    angle = math.degrees(math.asin(min(1.0, half / radius)))
    round_ = arc_points((0, 0), radius, 90 + angle, 90 - angle)
    return (*round_, (half, radius + high), (-half, radius + high))


DRAWINGS: Drawings = {"keyway": (KEYWAY_NEEDS, keyway_section)}
