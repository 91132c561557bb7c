"""A face as it is milled, from the end."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.drawing import Drawing, Drawings, Ink, Polygon, Primitive, depths
from assistant.jobs.milling.drawing import cutter_over, layers

FACE_NEEDS = ("width", "depth_full")
"""Width of the face, and what comes off it."""


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
        *layers(0.0, right * 0.97, now, after, full),
    ]
    top = full * 1.6
    items.append(cutter_over(right * 0.28, right * 0.9, -now, top))
    return Drawing(tuple(items), (-full * 0.4, floor * 1.02, right + full * 0.2, top), "face")


DRAWINGS: Drawings = {"face": (FACE_NEEDS, face_section)}
