"""A bar as it is parted off."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.drawing import (
    Dimension,
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

PARTED_NEEDS = ("diameter", "bore", "length", "blade", "depth_full")
"""Diameter, bore (0 where there is none), length of the piece, width of the blade, and how far the
dial goes in; that may count the diameter, so only its share that is done is used."""


def parted(dims: Mapping[str, float]) -> Drawing:
    """The blade beside the piece, the chuck at the left; the piece to come off at the right.

    Also: `depth_now`, `depth_after`, `touch_side` (the end face is touched), `touch_top` (the
    outside is).
    """
    radius, bore, length = dims["diameter"] / 2, dims["bore"] / 2, dims["length"]
    blade = dims["blade"]
    now, after, full = depths(dims)
    reach = radius - bore

    def deep(depth: float) -> float:
        return -radius + reach * (depth / full if full else 0.0)

    left = -blade - max(length * 0.5, radius * 0.5)
    items: list[Primitive] = [
        Polygon((*broken_end(left, radius, radius * 0.06), (length, radius), (length, -radius)),
                Ink.METAL),
    ]  # fmt: skip
    # the ring goes all round: above and below alike
    for near, far, ink in (
        (0.0, now, Ink.VOID), (now, after, Ink.NEXT), (after, full, Ink.TOGO),
    ):  # fmt: skip
        if far > near:
            for sign in (1, -1):
                low, high = sorted((sign * deep(near), sign * deep(far)))
                items.append(Polygon(rectangle(-blade, low, 0.0, high), ink))
    if bore:
        for sign in (1, -1):
            line = ((left, sign * bore), (length, sign * bore))
            items.append(Line(line, Ink.EDGE, Weight.NORMAL, dashed=True))
    items.append(Line(((left, 0.0), (length * 1.05, 0.0)), Ink.FAINT, Weight.THIN, dashed=True))
    touching_face = bool(dims.get("touch_side"))
    foot = -radius * 0.7 if touching_face else deep(now)
    at = length if touching_face else -blade
    low = -radius - max(reach, radius * 0.6)
    outline = ((at, low), (at, foot), (at + blade, foot), (at + blade, low))
    items.append(Line(outline, Ink.TOOL, Weight.HEAVY))
    if touching_face:
        items += touched((length, foot), radius)
    elif dims.get("touch_top"):
        items += touched((-blade / 2, -radius), radius)
    # the tool's side of the axis; the other side is the same
    high = radius * 0.2
    items += [
        Polygon(rectangle(left * 1.1, 0.0, length * 1.01, radius * 1.1), Ink.VOID, outline=False),
        Dimension((0.0, high), (length, high), size_label(length)),
    ]
    box = (left - radius * 0.06, low, length + blade * (1.3 if touching_face else 0.4), high)
    title = f"parted off at {size_label(length)}, blade {size_label(blade)}"
    return Drawing(tuple(items), box, title, room=(0, 0, 0, 1.6))


DRAWINGS: Drawings = {"parted": (PARTED_NEEDS, parted)}
