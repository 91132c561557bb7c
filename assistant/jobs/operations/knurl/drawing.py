"""A blank and its knurl."""

from __future__ import annotations

import math
from collections.abc import Mapping

from assistant.drawing import (
    Circle,
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
from assistant.jobs.lathe.drawing import turned
from assistant.jobs.moment import Moment, Now, Sizes

KNURLED_NEEDS = ("stock", "finished", "length", "depth_full", "teeth")
"""As for a turned diameter, and how many ridges go round."""


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


def knurl_now(moment: Moment) -> Sizes:
    """Whether the knurl is at hand, or rolled."""
    plan, step = moment.plan, moment.step
    place = plan.index(step.id)
    begins = next((n for n, s in enumerate(plan.steps) if s.id == "check-wheels"), len(plan.steps))
    return {
        "knurl_at": float(place >= begins),
        "knurl_now": float("knurl-cut" in moment.confirmed),
    }


DRAWINGS: Drawings = {"knurled": (KNURLED_NEEDS, knurled)}
NOW: Now = {"knurled": knurl_now}
