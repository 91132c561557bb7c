"""A head or a vice as the indicator sweeps it."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.drawing import (
    Anchor,
    Circle,
    Drawing,
    Drawings,
    Ink,
    Line,
    Polygon,
    Primitive,
    Text,
    Weight,
    rectangle,
    size_label,
)
from assistant.jobs.moment import Moment, Now, Planned, Sizes, in_unit
from assistant.jobs.plan import Plan
from assistant.units import is_quantity

SWEPT_NEEDS = ("sweep", "limit", "vice")
"""From one reading to the other, the difference allowed, 1 for a vice and 0 for a head."""
INDICATED = 4
"""Places of an indicator's readings."""


def swept(dims: Mapping[str, float]) -> Drawing:
    """What the indicator sweeps, from above: the table under the head, or the fixed jaw.

    Also: `across` (1 where it goes front to back), `at` (1 where it is being swept), `left` and
    `right` (the readings told last; for front and back in that order).
    """
    radius = dims["sweep"] / 2
    vice, across = bool(dims["vice"]), bool(dims.get("across"))
    both = "left" in dims and "right" in dims
    items: list[Primitive] = []
    if vice:
        deep = radius * 0.42
        items += [
            Polygon(rectangle(-radius * 1.2, 0.0, radius * 1.2, deep), Ink.METAL),
            Line(((-radius * 1.2, 0.0), (radius * 1.2, 0.0)), Ink.MARK, Weight.HEAVY),
        ]
        low, high = -radius * 0.62, deep * 1.05
    else:
        table = rectangle(-radius * 1.45, -radius * 1.25, radius * 1.45, radius * 1.25)
        items.append(Polygon(table, Ink.METAL))
        for y in (-0.62, 0.0, 0.62):
            slot = ((-radius * 1.45, radius * y), (radius * 1.45, radius * y))
            items.append(Line(slot, Ink.EDGE, Weight.THIN))
        items += [
            Circle((0, 0), radius, Ink.TOOL, weight=Weight.NORMAL),
            Circle((0, 0), radius * 0.08, Ink.EDGE, filled=True),
        ]
        low, high = -radius * 1.28, radius * 1.28
    ends = ((0.0, -radius), (0.0, radius)) if across else ((-radius, 0.0), (radius, 0.0))
    if not dims.get("at") and not both:
        ends_shown: tuple[tuple[float, float], ...] = ()
    else:
        ends_shown = ends
        items.append(Line(ends, Ink.MARK, Weight.NORMAL, dashed=True))
    for number, (x, y) in enumerate(ends_shown):
        y -= radius * 0.1 if vice else 0.0
        items += [
            Circle((x, y), radius * 0.1, Ink.MARK, filled=True),
            Circle((x, y), radius * 0.2, Ink.MARK, weight=Weight.HEAVY),
        ]
        if both:
            reading = dims["left"] if number == 0 else dims["right"]
            place = (x, y - radius * 0.42) if not across else (x + radius * 0.3, y)
            anchor = Anchor.CENTRE if not across else Anchor.LEFT
            items.append(Text(place, size_label(reading, INDICATED), anchor, bold=True))
    side = radius * (1.25 if vice else 1.5)
    words = "the fixed jaw" if vice else "the table under the head"
    way = "front to back" if across else "left to right"
    title = f"{words}, swept {way} over {size_label(dims['sweep'])}"
    return Drawing(tuple(items), (-side, low, side, high), title)


def sweep_now(moment: Moment) -> Sizes:
    """The direction that is swept, and what was read last in it."""
    plan, step = moment.plan, moment.step
    words = step.id.split("-")
    if words[0] not in ("sweep", "correct"):
        return {}
    name, number = words[1], int(words[2])
    sizes: Sizes = {"at": 1.0, "across": float(name == "y")}
    told = number if words[0] == "correct" else number - 1
    for side in ("left", "right"):
        value = moment.facts.get(f"{name}.{told}.{side}")
        if is_quantity(value):
            sizes[side] = in_unit(value, plan.unit)
    return sizes


def first_reading(plan: Plan) -> Sizes:
    """Where the indicator touches."""
    return {"at": 1.0}


DRAWINGS: Drawings = {"swept": (SWEPT_NEEDS, swept)}
NOW: Now = {"swept": sweep_now}
PLANNED: Planned = {"swept": first_reading}
