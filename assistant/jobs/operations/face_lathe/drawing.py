"""The end of a bar as it is faced."""

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
    depths,
    rectangle,
    size_label,
    touched,
)
from assistant.jobs.lathe.drawing import broken_end

FACED_NEEDS = ("diameter", "length", "depth_full")
"""Diameter, length before, and what comes off the end."""


def faced(dims: Mapping[str, float]) -> Drawing:
    """The end to be faced, the bar broken off towards the chuck.

    Also: `bore`, `depth_now`, `depth_after`, `touch_top` (1) where the tool touches the face.
    """
    radius, bore = dims["diameter"] / 2, dims.get("bore", 0.0) / 2
    now, after, full = depths(dims)
    # so much of the length that what comes off can be seen
    shown = min(dims["length"], max(full * 7, radius * 0.8))
    ragged = broken_end(-shown + full, radius, shown * 0.05)
    items: list[Primitive] = [Polygon(((0.0, radius), (0.0, -radius), *ragged), Ink.METAL)]
    start = full  # the end as it was before the first cut; the finished face is at nought
    for near, far, ink in ((now, after, Ink.NEXT), (after, full, Ink.TOGO)):
        if far > near:
            items.append(Polygon(rectangle(start - far, -radius, start - near, radius), ink))
    if bore:
        for sign in (1, -1):
            line = ((-shown + full, sign * bore), (start - now, sign * bore))
            items.append(Line(line, Ink.EDGE, Weight.THIN, dashed=True))
    face = start - now
    size = radius * 0.55
    tip = (face, -radius * (0.6 if dims.get("touch_top") else 1.0))
    items += [
        Line(((-shown + full, 0), (start + size, 0)), Ink.FAINT, Weight.THIN, dashed=True),
        Line(
            ((tip[0] + size, tip[1] - size * 1.2), (tip[0] + size * 0.7, tip[1] + size * 0.1), tip,
             (tip[0] + size * 0.1, tip[1] - size * 1.2)),
            Ink.TOOL, Weight.HEAVY,
        ),
    ]  # fmt: skip
    if dims.get("touch_top"):
        items += touched(tip, radius * 0.55)
    # the tool's side of the axis; the other side is the same
    box = (-shown + full - shown * 0.06, -radius - size * 1.05, start + size * 1.1, radius * 0.12)
    final = dims["length"] - full
    title = f"faced to {size_label(final)}, {size_label(full)} off the end"
    return Drawing(tuple(items), box, title)


DRAWINGS: Drawings = {"faced": (FACED_NEEDS, faced)}
