"""Lathe work at the end of a bar, from above: faced to length, parted off, knurled."""

from __future__ import annotations

import math
from collections.abc import Mapping

from assistant.present.drawings.lathe import turned
from assistant.present.drawings.model import (
    Circle,
    Dimension,
    Drawing,
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

FACED_NEEDS = ("diameter", "length", "depth_full")
"""Diameter, length before, and what comes off the end."""
PARTED_NEEDS = ("diameter", "bore", "length", "blade", "depth_full")
"""Diameter, bore (0 where there is none), length of the piece, width of the blade, and how far the
dial goes in; that may count the diameter, so only its share that is done is used."""
KNURLED_NEEDS = ("stock", "finished", "length", "depth_full", "teeth")
"""As for a turned diameter, and how many ridges go round."""


def faced(dims: Mapping[str, float]) -> Drawing:
    """The end to be faced, the bar broken off towards the chuck.

    Also: `bore`, `depth_now`, `depth_after`, `touch_top` (1) where the tool touches the face.
    """
    radius, bore = dims["diameter"] / 2, dims.get("bore", 0.0) / 2
    now, after, full = depths(dims)
    # so much of the length that what comes off can be seen
    shown = min(dims["length"], max(full * 7, radius * 0.8))
    ragged = _ragged(-shown + full, radius, shown * 0.05)
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


def _ragged(x: float, radius: float, step: float) -> tuple[tuple[float, float], ...]:
    """The broken end of a bar, from the bottom up."""
    return tuple(
        (x + (step if row % 2 else 0.0), -radius + 2 * radius * row / 8) for row in range(9)
    )


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
        Polygon((*_ragged(left, radius, radius * 0.06), (length, radius), (length, -radius)),
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


def knurled(dims: Mapping[str, float]) -> Drawing:
    """The blank turned, then the knurl in it; the pitch of the ridges to scale.

    Also: `depth_now`, `depth_after`; `knurl_at` (1 where the knurl is at hand), `knurl_now` (1 once
    it is rolled); `diamond` (1).
    """
    if not dims.get("knurl_at") and not dims.get("knurl_now"):
        return turned(dims)
    radius, length = dims["finished"] / 2, dims["length"]
    left, count = -length * 0.35, max(3, int(dims["teeth"]))
    items: list[Primitive] = [
        Polygon(rectangle(left, -dims["stock"] / 2, 0, dims["stock"] / 2), Ink.METAL),
        Polygon(rectangle(0, -radius, length, radius), Ink.METAL),
    ]
    rolled = bool(dims.get("knurl_now"))
    ink = Ink.EDGE if rolled else Ink.GHOST
    diamond = bool(dims.get("diamond"))
    for number in range(count // 2 + 1):
        y = radius * math.cos(2 * math.pi * number / count)
        if diamond:
            lean = length * 0.5
            x = length * number / (count // 2 or 1)
            for way in (1, -1):
                line = ((max(0.0, x - lean / 2), -way * radius), (min(length, x + lean / 2),
                                                                  way * radius))  # fmt: skip
                items.append(Line(line, ink, Weight.THIN, dashed=not rolled))
        else:
            items.append(Line(((0, y), (length, y)), ink, Weight.THIN, dashed=not rolled))
    wheel = radius * 0.55
    at = length * (1.0 if rolled else 0.5)
    items += [
        Circle((at, -radius - wheel), wheel, Ink.VOID, filled=True),
        Circle((at, -radius - wheel), wheel, Ink.TOOL, weight=Weight.HEAVY),
        Circle((at, -radius - wheel), wheel * 0.2, Ink.TOOL),
    ]
    items.append(Line(((left, 0), (length * 1.15, 0)), Ink.FAINT, Weight.THIN, dashed=True))
    if dims.get("touch_top"):
        items += touched((at, -radius), radius)
    box = (left * 1.05, -radius - wheel * 2.1, length * 1.25, dims["stock"] / 2 * 1.06)
    return Drawing(tuple(items), box, f"knurl, {count} ridges round")
