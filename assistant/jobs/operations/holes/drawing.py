"""A pattern of holes, from above."""

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
    Primitive,
    Weight,
    touched,
)
from assistant.jobs.moment import Moment, Now, Sizes
from assistant.jobs.steps import Touch

HOLES_NEEDS = ("x_1", "y_1")
"""Place of each hole from the datum: `x_1`, `y_1`, `x_2` ..."""
_CROWDED = 5.0
"""So many times the distance of neighbours across, and more, a map is shown near by."""


def hole_map(dims: Mapping[str, float]) -> Drawing:
    """Seen from above. Also: `hole` (diameter), `circle` (of the bolt circle, about `centre_x`,
    `centre_y`), `at` (number of the hole at hand: those before it are done), `touch_x` or
    `touch_y` (1 where the edge that it counts from is touched, across or along).

    A hole that is done is filled, the one at hand ringed, the next has a dot, those to come are
    open, one that is left out (`out_3`) is struck out. A crowded map shows the neighbourhood of
    the hole at hand, and the whole beside it.
    """
    places: list[Point] = []
    while f"x_{len(places) + 1}" in dims:
        number = len(places) + 1
        places.append((dims[f"x_{number}"], dims[f"y_{number}"]))
    out = frozenset(number for number in range(1, len(places) + 1) if dims.get(f"out_{number}"))
    at = int(dims.get("at", 0))
    centre = (dims.get("centre_x", 0.0), dims.get("centre_y", 0.0))
    xs, ys = [x for x, _ in places], [y for _, y in places]
    span = max(max(xs) - min(xs), max(ys) - min(ys), dims.get("circle", 0.0), 1e-6)
    apart = _nearest(places) or span
    radius = min(max(dims.get("hole", 0.0) / 2, span * 0.055), apart * 0.36)
    circle = Circle(centre, dims.get("circle", 0.0) / 2, Ink.FAINT, weight=Weight.THIN)
    title = f"{len(places)} holes, at number {at}" if at else f"{len(places)} holes"
    if 0 < at <= len(places) and span > apart * _CROWDED:
        return _near_by(places, at, apart, min(radius, apart * 0.3), title, out)
    items: list[Primitive] = []
    if dims.get("circle"):
        items.append(circle)
        half = dims["circle"] / 2
        xs += [centre[0] - half, centre[0] + half]
        ys += [centre[1] - half, centre[1] + half]
    items.append(_cross((0.0, 0.0), span * 0.08))
    items += _marks(places, at, radius, out=out)
    edge = radius * 2.2
    # The datum is drawn where it lies in view; the map is made smaller for it as it is touched.
    for name, along in (("touch_x", xs), ("touch_y", ys)):
        if dims.get(name):
            along += [-span * 0.1, span * 0.1]
    box = (min(xs) - edge, min(ys) - edge, max(xs) + edge, max(ys) + edge)
    middle = ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
    if dims.get("touch_x"):
        items.append(Line(((0.0, box[1]), (0.0, box[3])), Ink.EDGE, Weight.HEAVY))
        items += touched((0.0, middle[1]), span * 0.6)
    if dims.get("touch_y"):
        items.append(Line(((box[0], 0.0), (box[2], 0.0)), Ink.EDGE, Weight.HEAVY))
        items += touched((middle[0], 0.0), span * 0.6)
    return Drawing(tuple(items), box, title)


def _nearest(places: list[Point]) -> float:
    """The least distance of two holes; 0 for a single one."""
    pairs = (math.dist(one, other) for i, one in enumerate(places) for other in places[:i])
    return min((far for far in pairs if far > 0), default=0.0)


def _marks(
    places: list[Point], at: int, radius: float, shown: Box | None = None,
    out: frozenset[int] = frozenset(),
) -> list[Primitive]:  # fmt: skip
    """Every hole with its mark, and the way from the last one; only those within `shown`."""
    items: list[Primitive] = []
    last = max((number for number in range(1, at) if number not in out), default=0)
    if last and at <= len(places) and _within(places[last - 1], shown):
        start, end = places[last - 1], places[at - 1]
        far = math.dist(start, end)
        if far > radius * 3:  # from rim to ring, so that neither mark is struck through
            (x1, y1), (x2, y2) = start, end
            near, end_at = radius / far, 1 - radius * 1.8 / far
            line = (
                (x1 + (x2 - x1) * near, y1 + (y2 - y1) * near),
                (x1 + (x2 - x1) * end_at, y1 + (y2 - y1) * end_at),
            )
            # without an arrow: on the page one is the way of the table, against that of the tool
            items.append(Line(line, Ink.EDGE, Weight.THIN, dashed=True))
    for number, place in enumerate(places, 1):
        if not _within(place, shown):
            continue
        if number in out and number != at:
            items.append(Circle(place, radius, Ink.FAINT))
            items += _struck_out(place, radius)
            continue
        if number < at:
            items.append(Circle(place, radius, Ink.EDGE, filled=True))
            continue
        items.append(Circle(place, radius, Ink.EDGE))
        if number == at:
            items.append(Circle(place, radius * 0.55, Ink.MARK, filled=True))
            items.append(Circle(place, radius * 1.55, Ink.MARK, weight=Weight.HEAVY))
        elif number == at + 1 and at:
            items.append(Circle(place, radius * 0.35, Ink.EDGE, filled=True))
    return items


def _struck_out(at: Point, radius: float) -> list[Primitive]:
    (x, y), far = at, radius * 1.3
    return [
        Line(((x - far, y - far), (x + far, y + far)), Ink.EDGE, Weight.NORMAL),
        Line(((x - far, y + far), (x + far, y - far)), Ink.EDGE, Weight.NORMAL),
    ]


Box = tuple[float, float, float, float]


def _within(at: Point, box: Box | None) -> bool:
    return box is None or (box[0] <= at[0] <= box[2] and box[1] <= at[1] <= box[3])


def _near_by(
    places: list[Point], at: int, apart: float, radius: float, title: str, out: frozenset[int]
) -> Drawing:
    """The holes about the one at hand; beside them the whole pattern, with a frame about those."""
    half_x, half_y = apart * 2.4, apart * 1.6
    xs, ys = [px for px, _ in places], [py for _, py in places]
    # At the rim of the pattern the one at hand stands at the side, and there is no empty room.
    rim = apart * 0.5
    x = _held(places[at - 1][0], min(xs) - rim + half_x, max(xs) + rim - half_x)
    y = _held(places[at - 1][1], min(ys) - rim + half_y, max(ys) + rim - half_y)
    window = (x - half_x, y - half_y, x + half_x, y + half_y)
    items = _marks(places, at, radius, window, out)
    wide, high = max(xs) - min(xs) or apart, max(ys) - min(ys) or apart
    scale = min(half_x * 1.25 / wide, half_y * 1.9 / high)
    left, top = window[2] + apart * 0.6, y + high * scale / 2

    def there(place: Point) -> Point:
        return (left + (place[0] - min(xs)) * scale, top - (max(ys) - place[1]) * scale)

    dot = apart * scale * 0.3
    for number, place in enumerate(places, 1):
        if number != at:
            size = dot if number < at else dot * 0.45
            items.append(Circle(there(place), size, Ink.EDGE, filled=True))
    items.append(Circle(there(places[at - 1]), dot * 1.6, Ink.MARK, filled=True))
    # A narrow pattern doesn't fill the window: a frame as wide would cross the holes near by.
    shown = (
        max(window[0], min(xs) - rim), max(window[1], min(ys) - rim),
        min(window[2], max(xs) + rim), min(window[3], max(ys) + rim),
    )  # fmt: skip
    (x1, y1), (x2, y2) = there((shown[0], shown[1])), there((shown[2], shown[3]))
    frame = ((x1, y1), (x2, y1), (x2, y2), (x1, y2), (x1, y1))
    items.append(Line(frame, Ink.MARK, Weight.NORMAL))
    right = max(left + wide * scale + dot * 2, x2)
    low = min(window[1], y1, top - high * scale - dot * 2)
    box = (window[0], low, right, max(window[3], y2, top + dot * 2))
    return Drawing(tuple(items), box, title)


def _held(value: float, low: float, high: float) -> float:
    """`value`, held between the two; their middle where they leave no room."""
    return max(low, min(high, value)) if low < high else (low + high) / 2


def _cross(at: Point, size: float) -> Line:
    x, y = at
    return Line(
        ((x - size, y), (x + size, y), (x, y), (x, y + size), (x, y - size)), Ink.FAINT, Weight.THIN
    )


def edge_now(moment: Moment) -> Sizes:
    """The edge that is being touched."""
    step = moment.step
    if not isinstance(step, Touch) or step.axis not in ("table", "saddle"):
        return {}
    return {"touch_x" if step.axis == "table" else "touch_y": 1.0}


DRAWINGS: Drawings = {"holes": (HOLES_NEEDS, hole_map), "bolt circle": (HOLES_NEEDS, hole_map)}
NOW: Now = {"holes": edge_now, "bolt circle": edge_now}
