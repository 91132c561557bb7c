"""A slot in a flat face."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.drawing import (
    Drawing,
    Drawings,
    Ink,
    Line,
    Polygon,
    Primitive,
    Weight,
    rectangle,
    touched,
)

SLOT_NEEDS = ("width", "depth_full")
"""Width and full depth of the slot."""


def slot_section(dims: Mapping[str, float]) -> Drawing:
    """Across the slot. Also: `cutter_width`, `depth_now`, `depth_after`."""
    half, full = dims["width"] / 2, dims["depth_full"]
    now = min(max(dims.get("depth_now", 0.0), 0.0), full * 1.5)
    after = max(now, dims.get("depth_after", now))
    side = max(half * 2.6, full * 1.6)
    floor = -max(full * 1.7, side * 0.5)
    block = (
        (-side, 0.0), (-side, floor), (side, floor), (side, 0.0),
        (half, 0.0), (half, -now), (-half, -now), (-half, 0.0),
    )  # fmt: skip
    items: list[Primitive] = [Polygon(block, Ink.METAL)]
    if after > now:
        items.append(Polygon(rectangle(-half, -after, half, -now), Ink.NEXT))
    if full > after:
        items.append(Polygon(rectangle(-half, -full, half, -after), Ink.TOGO))
    width = (dims.get("cutter_width") or dims["width"]) / 2
    top = side * 0.5
    if dims.get("touch_side"):
        cutter = ((-side - 2 * width, top), (-side - 2 * width, -side * 0.25),
                  (-side, -side * 0.25), (-side, top))  # fmt: skip
        items += [Line(cutter, Ink.TOOL, Weight.HEAVY), *touched((-side, 0.0), side)]
        box = (-side * 1.02 - 2 * width, floor * 1.02, side * 1.02, top)
        return Drawing(tuple(items), box, "touching the side")
    cutter = ((-width, top), (-width, -now), (width, -now), (width, top))
    items.append(Line(cutter, Ink.TOOL, Weight.HEAVY))
    if dims.get("touch_top"):
        items += touched((0.0, 0.0), side)
    return Drawing(tuple(items), (-side * 1.02, floor * 1.02, side * 1.02, top), "slot, in section")


DRAWINGS: Drawings = {"slot": (SLOT_NEEDS, slot_section)}
