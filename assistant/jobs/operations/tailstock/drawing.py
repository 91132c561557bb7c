"""Two collars between centres."""

from __future__ import annotations

import math
from collections.abc import Mapping

from assistant.drawing import (
    Anchor,
    Dimension,
    Drawing,
    Drawings,
    Ink,
    Line,
    Point,
    Polygon,
    Primitive,
    Text,
    Weight,
    rectangle,
    size_label,
)
from assistant.jobs.common.facts import last_told
from assistant.jobs.moment import Moment, Now, Sizes, in_unit
from assistant.jobs.steps import Touch

COLLARS_NEEDS = ("collar", "spacing", "length")
"""Diameter of the collars, from one to the other, length between centres."""
INDICATED = 4
"""Places of an indicator's readings."""


def collars(dims: Mapping[str, float]) -> Drawing:
    """The test bar between centres from above, headstock at the left, the tool's side below.

    Also: `head`, `tail` (the collars as measured last), `head_at` or `tail_at` (1) where one is
    being measured. The bar's slant is drawn larger than it is.
    """
    radius, spacing = dims["collar"] / 2, dims["spacing"]
    head, tail = dims.get("head"), dims.get("tail")
    wide, bar, point = radius * 1.3, radius * 0.55, radius * 0.5
    # the bar is broken off between the collars: their diameters are what matters
    between = min(spacing, radius * 5)
    broken = between < spacing
    first = wide
    second = first + between
    length = second + wide
    slant = 0.0
    if head is not None and tail is not None and head != tail:
        # larger at the tailstock: the tailstock stands away from the tool, towards the top
        slant = math.copysign(radius * 0.35, tail - head)

    def y(x: float) -> float:
        return slant * (x / length)

    def collar(x: float, at_hand: bool) -> Polygon:
        return Polygon(
            rectangle(x - wide / 2, y(x) - radius, x + wide / 2, y(x) + radius),
            Ink.NEXT if at_hand else Ink.METAL,
        )

    items: list[Primitive] = [
        Line(((-point * 2, 0.0), (length + point * 2, 0.0)), Ink.FAINT, Weight.THIN, dashed=True),
        Polygon(((0.0, -bar), (length, y(length) - bar), (length, y(length) + bar), (0.0, bar)),
                Ink.METAL),
        collar(first, bool(dims.get("head_at"))),
        collar(second, bool(dims.get("tail_at"))),
        Line(((-point * 2, -point), (0.0, 0.0), (-point * 2, point)), Ink.TOOL, Weight.HEAVY),
        Line(((length + point * 2, y(length) - point), (length, y(length)),
              (length + point * 2, y(length) + point)), Ink.TOOL, Weight.HEAVY),
    ]  # fmt: skip
    if broken:
        middle = (first + second) / 2
        gap = radius * 0.14
        edges = [_zigzag(x, bar * 1.15, gap) for x in (middle - gap, middle + gap)]
        items.append(Polygon((*edges[0], *reversed(edges[1])), Ink.VOID, outline=False))
        items += [Line(edge, Ink.EDGE, Weight.NORMAL) for edge in edges]
    for x, size in ((first, head), (second, tail)):
        if size is not None:
            items.append(
                Text(
                    (x, y(x) - radius * 1.45), size_label(size, INDICATED), Anchor.CENTRE, bold=True
                )
            )
    if dims.get("shift"):
        toward = math.copysign(radius * 1.2, -dims["shift"])
        items.append(
            Line(((length + point, y(length)), (length + point, y(length) + toward)), Ink.MARK,
                 Weight.HEAVY, arrow=True)
        )  # fmt: skip
    above = radius * 1.3 + abs(slant)
    items.append(Dimension((first, above), (second, above), size_label(spacing)))
    box = (-point * 2.1, -radius * 1.8 - abs(slant), length + point * 2.1, above)
    title = f"two collars {size_label(spacing)} apart" + (
        ", the slant drawn larger" if slant else ""
    )
    return Drawing(tuple(items), box, title, room=(0, 0, 0, 1.6))


def _zigzag(x: float, half: float, step: float) -> tuple[Point, ...]:
    """The edge of a bar that is broken off at x."""
    return tuple((x + (step / 2 if i % 2 else -step / 2), half * (1 - i / 2)) for i in range(5))


def collars_now(moment: Moment) -> Sizes:
    """Which collar is measured, and what both were at the last trial."""
    plan, step = moment.plan, moment.step
    sizes: Sizes = {}
    for end in ("head", "tail"):
        trial = last_told(moment.facts, "collar", end)
        if trial is not None:
            sizes[end] = in_unit(trial[1], plan.unit)
        if step.id.startswith(f"measure-{end}"):
            sizes[f"{end}_at"] = 1.0
    if step.id.startswith("shift") and "head" in sizes and "tail" in sizes:
        sizes["shift"] = sizes["tail"] - sizes["head"]
    if isinstance(step, Touch):
        sizes["head_at"] = 1.0
    return sizes


DRAWINGS: Drawings = {"collars": (COLLARS_NEEDS, collars)}
NOW: Now = {"collars": collars_now}
