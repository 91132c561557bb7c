"""Holes in a pattern, and the hole circle of a dividing plate."""

from __future__ import annotations

import math
from collections.abc import Mapping

from assistant.present.drawings.model import (
    Circle,
    Drawing,
    Ink,
    Line,
    Point,
    Primitive,
    Weight,
    arc_points,
)

HOLES_NEEDS = ("x_1", "y_1")
"""Place of each hole from the datum: `x_1`, `y_1`, `x_2` ..."""
INDEX_NEEDS = ("holes", "spaces")
"""Holes in the circle, and the spaces to move in it."""


def hole_map(dims: Mapping[str, float]) -> Drawing:
    """Seen from above. Also: `hole` (diameter), `circle` (of the bolt circle, about `centre_x`,
    `centre_y`), `at` (number of the hole at hand: those before it are done)."""
    places: list[Point] = []
    while f"x_{len(places) + 1}" in dims:
        number = len(places) + 1
        places.append((dims[f"x_{number}"], dims[f"y_{number}"]))
    at = int(dims.get("at", 0))
    centre = (dims.get("centre_x", 0.0), dims.get("centre_y", 0.0))
    xs, ys = [x for x, _ in places], [y for _, y in places]
    span = max(max(xs) - min(xs), max(ys) - min(ys), dims.get("circle", 0.0), 1e-6)
    radius = min(max(dims.get("hole", 0.0) / 2, span * 0.025), span * 0.12)
    items: list[Primitive] = []
    if dims.get("circle"):
        items.append(Circle(centre, dims["circle"] / 2, Ink.FAINT, weight=Weight.THIN))
    items.append(_cross((0.0, 0.0), span * 0.08))
    if 1 < at <= len(places):
        items.append(Line((places[at - 2], places[at - 1]), Ink.MARK, Weight.NORMAL, arrow=True))
    for number, place in enumerate(places, 1):
        done = number < at
        items.append(Circle(place, radius, Ink.METAL if done else Ink.EDGE, filled=done))
        if done:
            items.append(Circle(place, radius, Ink.EDGE))
        if number == at:
            items.append(Circle(place, radius * 0.5, Ink.MARK, filled=True))
            items.append(Circle(place, radius * 1.6, Ink.MARK, weight=Weight.HEAVY))
    edge = radius * 2.2
    if dims.get("circle"):
        half = dims["circle"] / 2
        xs += [centre[0] - half, centre[0] + half]
        ys += [centre[1] - half, centre[1] + half]
    # The datum is drawn where it lies in view; the map is not made smaller for it.
    box = (min(xs) - edge, min(ys) - edge, max(xs) + edge, max(ys) + edge)
    return Drawing(tuple(items), box, f"{len(places)} holes, at number {at}" if at else "holes")


def _cross(at: Point, size: float) -> Line:
    x, y = at
    return Line(
        ((x - size, y), (x + size, y), (x, y), (x, y + size), (x, y - size)), Ink.FAINT, Weight.THIN
    )


def index_circle(dims: Mapping[str, float]) -> Drawing:
    """The circle of a dividing plate: the pin's hole on top, and where it goes, clockwise.

    Also: `turns`, the whole turns of the crank before it.
    """
    holes, spaces = max(3, int(dims["holes"])), int(dims["spaces"])
    size = min(0.35, 2.0 / holes)
    items: list[Primitive] = []

    def place(number: int, radius: float = 1.0) -> Point:
        angle = math.radians(90 - 360 * number / holes)
        return (radius * math.cos(angle), radius * math.sin(angle))

    for number in range(holes):
        items.append(Circle(place(number), size, Ink.EDGE))
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
