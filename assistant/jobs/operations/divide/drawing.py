"""The circle of a dividing plate, and a rotary table."""

from __future__ import annotations

import math
from collections.abc import Mapping

from assistant.drawing import (
    Anchor,
    Circle,
    Drawing,
    Drawings,
    Ink,
    Line,
    Point,
    Polygon,
    Primitive,
    Text,
    Weight,
    arc_points,
    size_label,
)
from assistant.jobs.moment import Moment, Now, Sizes
from assistant.jobs.steps import Cut, Index

INDEX_NEEDS = ("holes", "spaces")
"""Holes in the circle, and the spaces to move in it."""


def index_circle(dims: Mapping[str, float]) -> Drawing:
    """The circle of a dividing plate: the pin's hole on top, and where it goes, clockwise.

    Also: `turns`, the whole turns of the crank before it.
    """
    holes, spaces = max(3, int(dims["holes"])), int(dims["spaces"])
    size = min(0.35, max(2.0 / holes, 0.045))
    items: list[Primitive] = []

    def place(number: int, radius: float = 1.0) -> Point:
        angle = math.radians(90 - 360 * number / holes)
        return (radius * math.cos(angle), radius * math.sin(angle))

    crowded = holes > 30  # rings would run together
    for number in range(holes):
        items.append(
            Circle(place(number), size * (0.5 if crowded else 1), Ink.EDGE, filled=crowded)
        )
    items.append(Circle(place(0), size, Ink.EDGE, filled=True))
    items.append(Circle(place(spaces), size, Ink.MARK, filled=True))
    items.append(Circle(place(spaces), size * 1.9, Ink.MARK, weight=Weight.HEAVY))
    for number in (0, spaces):
        items.append(Line(((0.0, 0.0), place(number, 0.85)), Ink.EDGE, Weight.HEAVY))
    if spaces:
        sweep = arc_points((0, 0), 0.55, 88, 92 - 360 * (spaces % holes or holes) / holes)
        items.append(Line(sweep, Ink.MARK, Weight.HEAVY, arrow=True))
    turns = int(dims.get("turns", 0))
    title = f"{turns} turns and {spaces} spaces in the {holes} circle"
    return Drawing(tuple(items), (-1.3, -1.3, 1.3, 1.3), title)


TABLE_NEEDS = ("count", "step")
"""Places that are worked, and the angle from one to the next in degrees."""


def rotary_table(dims: Mapping[str, float]) -> Drawing:
    """Also: `at` (number of the place at hand, from 1; those before it are done), `turned` (1
    where the table is being turned to it)."""
    count, step = max(1, int(dims["count"])), dims["step"]
    at = int(dims.get("at", 0))
    here = max(at - 1, 0) * step

    def place(angle: float, radius: float) -> Point:
        turn = math.radians(90 - angle)
        return (radius * math.cos(turn), radius * math.sin(turn))

    items: list[Primitive] = [
        Circle((0, 0), 1.0, Ink.METAL, filled=True),
        Circle((0, 0), 1.0, Ink.EDGE, weight=Weight.HEAVY),
        Circle((0, 0), 0.1, Ink.VOID, filled=True),
        Circle((0, 0), 0.1, Ink.EDGE),
    ]
    size = min(0.09, 1.2 / count)
    for number in range(1, count + 1):
        # turned so that the place at hand is on top, under the spindle
        angle = (number - 1) * step - here
        spot = place(angle, 0.82)
        if number == at or (at > count and number == 1):
            items += [
                Circle(spot, size * 1.1, Ink.MARK, filled=True),
                Circle(spot, size * 2.0, Ink.MARK, weight=Weight.HEAVY),
            ]
        elif number < at:
            items.append(Circle(spot, size, Ink.EDGE, filled=True))
        else:
            items.append(Circle(spot, size, Ink.EDGE))
    if at > 1:
        # from the table's nought, which has gone round by what the screen's number says
        zero = place(-here, 1.0)
        items += [
            Line((place(-here, 0.5), zero), Ink.EDGE, Weight.NORMAL, dashed=True),
            Line(arc_points((0, 0), 0.52, 90 + min(here, 358.0), 92), Ink.MARK, Weight.HEAVY,
                 arrow=True),
            Text((0.0, -0.3 if here % 360 < 180 else 0.3), size_text(here % 360),
                 Anchor.CENTRE, bold=True),
        ]  # fmt: skip
    items.append(Polygon(((0.0, 1.02), (-0.09, 1.2), (0.09, 1.2)), Ink.MARK))
    title = f"{count} places, {size_text(step)} apart" + (f", at number {at}" if at else "")
    return Drawing(tuple(items), (-1.05, -1.05, 1.05, 1.22), title)


def size_text(step: float) -> str:
    """An angle to three places of a degree."""
    return f"{size_label(step)}°"


def division_now(moment: Moment) -> Sizes:
    """The division at hand."""
    plan, step = moment.plan, moment.step
    if isinstance(step, Index | Cut):
        return {"at": float(step.number)}
    places = [s.number for s in plan.steps[: plan.index(step.id)] if isinstance(s, Index | Cut)]
    return {"at": float(places[-1])} if places else {}


DRAWINGS: Drawings = {
    "index": (INDEX_NEEDS, index_circle),
    "table": (TABLE_NEEDS, rotary_table),
}
NOW: Now = {"table": division_now}
