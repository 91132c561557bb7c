"""Slots in a flat face, and tapers."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.present.drawings.model import (
    Dimension,
    Drawing,
    Ink,
    Line,
    Polygon,
    Primitive,
    Weight,
    rectangle,
    size_label,
    touched,
)

SLOT_NEEDS = ("width", "depth_full")
"""Width and full depth of the slot."""
TAPER_NEEDS = ("large", "small", "length")
"""Both diameters and the length between them."""


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


def taper_outline(dims: Mapping[str, float]) -> Drawing:
    """A cone from the side, with both diameters and the length to scale; `labels` are the
    renderer's. Also: `done` (0 to 1), how much of the length has been cut."""
    large, small, length = dims["large"] / 2, dims["small"] / 2, dims["length"]
    body = ((0.0, large), (length, small), (length, -small), (0.0, -large))
    stub = rectangle(-length * 0.25, -large, 0.0, large)
    items: list[Primitive] = [
        Polygon(stub, Ink.METAL),
        Polygon(body, Ink.METAL),
        Line(((-length * 0.3, 0), (length * 1.08, 0)), Ink.FAINT, Weight.THIN, dashed=True),
        # beside the work: a slender end has no room for its own size
        Dimension((-length * 0.34, -large), (-length * 0.34, large), size_label(dims["large"]), -1),
        Dimension((length * 1.1, -small), (length * 1.1, small), size_label(dims["small"])),
    ]
    box = (-length * 0.35, -large * 1.15, length * 1.12, large * 1.15)
    title = f"taper, {size_label(dims['large'])} to {size_label(dims['small'])}"
    return Drawing(tuple(items), box, title, room=(3.6, 0, 3.6, 0))
