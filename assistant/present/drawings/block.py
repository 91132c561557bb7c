"""A step and a face on a block, seen along the feed; a broached keyway in its bore."""

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
    rectangle,
)

STEP_NEEDS = ("width", "depth_full")
"""Width of the step from its side, and its depth."""
FACE_NEEDS = ("width", "depth_full")
"""Width of the face, and what comes off it."""
KEYWAY_NEEDS = ("bore", "width", "depth_full")
"""Bore, width of the keyway, and its depth beyond the bore's own roundness."""


def step_section(dims: Mapping[str, float]) -> Drawing:
    """The step at the left of its block. Also: `cutter_width`, `depth_now`, `depth_after`."""
    width, (now, after, full) = dims["width"], depths(dims)
    right, floor = width * 2.4, -max(full * 2.2, width * 0.8)
    block = ((0.0, floor), (right, floor), (right, 0.0), (width, 0.0), (width, -full), (0.0, -full))
    items: list[Primitive] = [
        Polygon(block, Ink.METAL),
        *_layers(0.0, width, now, after, full),
    ]
    cutter = dims.get("cutter_width") or width
    top = full * 1.2
    edge = width  # its side stands at the wall
    items.append(_cutter(edge - cutter, edge, -now, top))
    left = min(0.0, width - cutter) - width * 0.1
    return Drawing(tuple(items), (left, floor * 1.02, right * 1.02, top), "step, in section")


def face_section(dims: Mapping[str, float]) -> Drawing:
    """A corner of the face, broken off at the right: a face is too wide for what comes off it.
    Also: `depth_now`, `depth_after`."""
    now, after, full = depths(dims)
    right = min(dims["width"], full * 9)
    floor = -full * 3.2
    ragged = tuple(
        (right - (full * 0.25 if row % 2 else 0.0), floor + (-full - floor) * row / 6)
        for row in range(7)
    )
    items: list[Primitive] = [
        Polygon(((0.0, -full), (0.0, floor), *ragged), Ink.METAL),
        *_layers(0.0, right * 0.97, now, after, full),
    ]
    top = full * 1.6
    items.append(_cutter(right * 0.28, right * 0.9, -now, top))
    return Drawing(tuple(items), (-full * 0.4, floor * 1.02, right + full * 0.2, top), "face")


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


def _layers(left: float, right: float, now: float, after: float, full: float) -> list[Primitive]:
    """What this pass takes, and what is to go."""
    layers: list[Primitive] = []
    if after > now:
        layers.append(Polygon(rectangle(left, -after, right, -now), Ink.NEXT))
    if full > after:
        layers.append(Polygon(rectangle(left, -full, right, -after), Ink.TOGO))
    return layers


def _cutter(left: float, right: float, foot: float, top: float) -> Line:
    return Line(((left, top), (left, foot), (right, foot), (right, top)), Ink.TOOL, Weight.HEAVY)
