"""A handwheel's dial around the place where to stop, the way the hand goes, and the turns.

Drawn as the operator sees it on arriving: the fixed line of the machine on top, the graduation
to stop at under it, its neighbours left and right. Which side the larger numbers are on follows
from the way the wheel is turned; where the profile doesn't tell that, they are drawn at the right,
and no wheel is drawn, since a hand that goes the wrong way would be worse than none.
"""

from __future__ import annotations

import math

from assistant.drawing import (
    Anchor,
    Circle,
    Drawing,
    Ink,
    Line,
    Polygon,
    Primitive,
    Text,
    Weight,
    arc_points,
)
from assistant.present.formatting import dial_sense, dial_text, hand_sense
from assistant.spoken import DialMove
from assistant.units import magnitude, quantity

_SHOWN = 12
"""Divisions shown to either side of where to stop."""
_RADIUS = 20.0
"""Large against the length of the graduations: the part of a dial that faces the operator."""
_SPREAD = 24.0
"""Half the drawn sector in degrees."""


_WHEEL = (0.0, 10.4)
_RIM = 3.0
"""The handwheel under the dial: where, and its radius."""
_REACH = 70
"""Half the arc in degrees, from the top of the wheel, along which the hand is drawn going."""


def dial_sector(move: DialMove, way: str | None = None) -> Drawing:
    """The dial as it looks when it is set, with the wheel and the hand on it.

    `way` is that of the hand's travel where it is not the move's own; '' where nothing moves.
    """
    way = move.direction if way is None else way
    unit = str(move.wheel.per_turn.units)
    step = magnitude(move.wheel.graduation, unit)
    stop = magnitude(move.reading, unit)
    turn = magnitude(move.wheel.per_turn, unit)
    divisions = int(turn / step)
    at = stop / step
    sense, hand = dial_sense(move, way), hand_sense(move, way)
    # the top of a wheel that is turned clockwise goes right, so what comes stands at the left
    larger = -sense * hand or 1
    first = math.ceil(float(at) - _SHOWN)
    items: list[Primitive] = []
    items.append(Line(arc_points((0, 0), _RADIUS, 90 + _SPREAD, 90 - _SPREAD), Ink.EDGE))
    for number in range(first, math.floor(float(at) + _SHOWN) + 1):
        angle = 90 - larger * (number - float(at)) / _SHOWN * (_SPREAD - 1)
        place = number % divisions
        numbered = place % 10 == 0
        half = place % 5 == 0
        inner = _RADIUS - (1.6 if numbered else 1.2 if half else 0.8)
        weight = Weight.HEAVY if numbered else Weight.NORMAL
        items.append(Line((_polar(inner, angle), _polar(_RADIUS, angle)), Ink.EDGE, weight))
        if numbered:
            label = dial_text(quantity(place * step, unit), move.wheel)
            items.append(Text(_polar(_RADIUS - 2.5, angle), label, Anchor.CENTRE))
    items.append(
        Polygon(((0, _RADIUS + 0.1), (-0.5, _RADIUS + 1.4), (0.5, _RADIUS + 1.4)), Ink.MARK)
    )
    items.append(Line(((0, _RADIUS - 1.7), (0, _RADIUS + 0.2)), Ink.MARK, Weight.HEAVY))
    low = (_RADIUS - 3.0) * math.cos(math.radians(_SPREAD))
    if hand:
        items += _wheel(hand)
        low = _WHEEL[1] - _RIM - 0.3
    if way:
        words = "numbers rise" if sense > 0 else "numbers fall"
        items.append(Text((0.0, low - 1.0), words, Anchor.CENTRE))
        low -= 2.0
    side = _RADIUS * math.sin(math.radians(_SPREAD)) + 0.4
    box = (-side, low, side, _RADIUS + 1.5)
    return Drawing(tuple(items), box, f"dial set at {dial_text(move.reading, move.wheel)}")


def _wheel(hand: int) -> list[Primitive]:
    """The handwheel as its operator faces it, and the way its handle goes: +1 clockwise."""
    x, y = _WHEEL
    start, end = (90 + hand * _REACH, 90 - hand * _REACH)
    turn = math.radians(start)
    handle = (x + _RIM * math.cos(turn), y + _RIM * math.sin(turn))
    return [
        Circle(_WHEEL, _RIM, Ink.EDGE, weight=Weight.HEAVY),
        Line((_WHEEL, handle), Ink.EDGE, Weight.HEAVY),
        Circle(_WHEEL, _RIM * 0.2, Ink.EDGE, filled=True),
        Circle(handle, _RIM * 0.22, Ink.MARK, filled=True),
        Line(
            arc_points(_WHEEL, _RIM + 1.0, start - hand * 12, end), Ink.MARK, Weight.HEAVY,
            arrow=True,
        ),
    ]  # fmt: skip


def _polar(radius: float, angle: float) -> tuple[float, float]:
    return (radius * math.cos(math.radians(angle)), radius * math.sin(math.radians(angle)))


def turn_discs(move: DialMove, most: int = 12) -> Drawing:
    """Whole turns as full discs and the rest as a slice of one, to count at a glance."""
    unit = str(move.wheel.per_turn.units)
    share = float(move.part / magnitude(move.wheel.per_turn, unit))
    items: list[Primitive] = []
    turns = min(move.turns, most)
    for number in range(turns):
        items.append(Circle((number * 2.4, 0.0), 1.0, Ink.MARK, filled=True))
    if share or not turns:
        centre = (turns * 2.4, 0.0)
        items.append(Circle(centre, 1.0, Ink.EDGE, weight=Weight.NORMAL))
        if share:
            slice_ = arc_points(centre, 1.0, 90, 90 - 360 * share)
            items.append(Polygon((centre, *slice_), Ink.MARK, outline=False))
    count = turns + bool(share or not turns)
    more = move.turns - turns
    title = f"{move.turns} turns and {share:.0%} of one"
    if more:
        items.append(Text((count * 2.4, 0), f"+{more}", Anchor.CENTRE))
        count += 1
    return Drawing(tuple(items), (-1.1, -1.1, count * 2.4 - 1.3, 1.1), title)


def direction_arrow(direction: str) -> Drawing:
    """The way to move. In and out are drawn against a bar, the column; up and down are bare."""
    arrow: dict[str, tuple[tuple[float, float], tuple[float, float]]] = {
        "up": ((0, -1), (0, 1)),
        "down": ((0, 1), (0, -1)),
        "left": ((1, 0), (-1, 0)),
        "right": ((-1, 0), (1, 0)),
        "in": ((0, -1), (0, 0.75)),
        "out": ((0, 0.75), (0, -1)),
    }
    items: list[Primitive] = []
    if direction in arrow:
        items.append(Line(arrow[direction], Ink.MARK, Weight.HEAVY, arrow=True))
    if direction in ("in", "out"):
        items.append(Line(((-0.8, 1), (0.8, 1)), Ink.EDGE, Weight.HEAVY))
    return Drawing(tuple(items), (-1.15, -1.15, 1.15, 1.15), direction)
