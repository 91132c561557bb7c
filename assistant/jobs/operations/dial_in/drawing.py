"""The four jaws and the indicator."""

from __future__ import annotations

import math
from collections.abc import Mapping

from assistant.drawing import (
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
    size_label,
)
from assistant.jobs.moment import Moment, Now, Sizes

DIAL_IN_NEEDS = ("within", "inside")
"""Swing allowed in a turn; 1 where the indicator runs in a bore."""
INDICATED = 4
"""Places of an indicator's readings."""


def four_jaws(dims: Mapping[str, float]) -> Drawing:
    """The chuck from the tailstock, the jaws numbered, the pair at hand across the indicator.

    Also: `swing` (as last read), `pair` (1: jaws one and three, 2: two and four, 0: a whole turn).
    The work is drawn off the centre by the swing, its allowance being a twentieth of the work.
    """
    pair = int(dims.get("pair", 0))
    swing, within = dims.get("swing", 0.0), dims["within"]
    # half the swing is how far the work is off; not to scale, and never more than looks like work
    off = min(0.16, swing / within * 0.025) if swing > within and within > 0 else 0.0
    turn = 90 * (pair - 1) if pair else 0
    centre = (0.0, off)
    items: list[Primitive] = [
        Circle((0, 0), 1.0, Ink.METAL, filled=True),
        Circle((0, 0), 1.0, Ink.EDGE),
    ]
    for number in range(1, 5):
        angle = 90 - 90 * (number - 1) + turn
        at_hand = not pair or number % 2 == pair % 2
        items.append(_jaw(angle, at_hand))
    inside = bool(dims["inside"])
    items += [
        Circle(centre, 0.5, Ink.VOID, filled=True),
        Circle(centre, 0.5, Ink.EDGE, weight=Weight.HEAVY),
    ]
    if inside:
        items.append(Circle(centre, 0.3, Ink.EDGE, weight=Weight.HEAVY))
    touch = (0.3 if inside else 0.5) + off
    items += [
        Line(((-0.12, 0), (0.12, 0), (0, 0), (0, 0.12), (0, -0.12)), Ink.FAINT, Weight.NORMAL),
    ]
    if off:
        items.append(Circle((0.0, touch), 0.07, Ink.MARK, filled=True))
        arrow = ((0.0, off + 0.02), (0.0, off - 0.3)) if not inside else ((0.0, off), (0.0, -0.3))
        items.append(Line(arrow, Ink.MARK, Weight.HEAVY, arrow=True))
    items += _indicator(0.0, touch, 1.32)
    items += [  # over the indicator's stem
        Text(_around(90 - 90 * (number - 1) + turn, 0.85, 0.0), str(number), bold=True, ringed=True)
        for number in range(1, 5)
    ]
    words = f"out {size_label(swing, INDICATED)}, drawn larger" if off else "the indicator on top"
    which = {0: "a whole turn", 1: "jaws one and three", 2: "jaws two and four"}[pair]
    return Drawing(tuple(items), (-1.05, -1.05, 1.05, 1.4), f"{which}, {words}")


def _jaw(angle: float, at_hand: bool) -> Polygon:
    """A jaw of the chuck."""
    corners = ((0.52, -0.13), (0.98, -0.16), (0.98, 0.16), (0.52, 0.13))
    shape = tuple(_around(angle, along, across) for along, across in corners)
    return Polygon(shape, Ink.NEXT if at_hand else Ink.VOID)


def _around(angle: float, along: float, across: float) -> Point:
    """A place along and across a radius at that angle in degrees."""
    turn = math.radians(angle)
    cos, sin = math.cos(turn), math.sin(turn)
    return (along * cos - across * sin, along * sin + across * cos)


def _indicator(x: float, y: float, top: float) -> list[Primitive]:
    """A dial indicator whose foot is at (x, y)."""
    return [
        Line(((x, top - 0.2), (x, y + 0.02)), Ink.TOOL, Weight.NORMAL),
        Circle((x, top - 0.08), 0.13, Ink.VOID, filled=True),
        Circle((x, top - 0.08), 0.13, Ink.TOOL, weight=Weight.NORMAL),
        Line(((x, top - 0.08), (x + 0.06, top)), Ink.MARK, Weight.NORMAL),
    ]


def jaws_now(moment: Moment) -> Sizes:
    """The pair of jaws at hand; before the first reading none is out."""
    plan, step = moment.plan, moment.step
    reading = next(
        (s for s in reversed(plan.steps[: plan.index(step.id) + 1]) if s.id.startswith("read-")),
        None,
    )
    if reading is None or "whole" in reading.title.lower() or step.id == "all-tight":
        return {"pair": 0.0}
    return {"pair": 1.0 if "one" in reading.title.lower() else 2.0}


DRAWINGS: Drawings = {"dial-in": (DIAL_IN_NEEDS, four_jaws)}
NOW: Now = {"dial-in": jaws_now}
