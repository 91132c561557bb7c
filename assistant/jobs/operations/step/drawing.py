"""A step in the side of a block, from the end."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.drawing import Drawing, Drawings, Ink, Polygon, Primitive, depths
from assistant.jobs.milling.drawing import cutter_over, layers

STEP_NEEDS = ("width", "depth_full")
"""Width of the step from its side, and its depth."""


def step_section(dims: Mapping[str, float]) -> Drawing:
    """The step at the left of its block. Also: `cutter_width`, `depth_now`, `depth_after`."""
    width, (now, after, full) = dims["width"], depths(dims)
    right, floor = width * 2.4, -max(full * 2.2, width * 0.8)
    block = ((0.0, floor), (right, floor), (right, 0.0), (width, 0.0), (width, -full), (0.0, -full))
    items: list[Primitive] = [
        Polygon(block, Ink.METAL),
        *layers(0.0, width, now, after, full),
    ]
    cutter = dims.get("cutter_width") or width
    top = full * 1.2
    edge = width  # its side stands at the wall
    items.append(cutter_over(edge - cutter, edge, -now, top))
    left = min(0.0, width - cutter) - width * 0.1
    return Drawing(tuple(items), (left, floor * 1.02, right * 1.02, top), "step, in section")


DRAWINGS: Drawings = {"step": (STEP_NEEDS, step_section)}
