"""Setting up by an indicator: work in four jaws, a head or a vice swept, two collars of a bar.

What is out is far too small to be seen to scale: it is drawn larger, and the drawing says so.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from assistant.present.drawings.model import (
    Anchor,
    Circle,
    Dimension,
    Drawing,
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

DIAL_IN_NEEDS = ("within", "inside")
"""Swing allowed in a turn; 1 where the indicator runs in a bore."""
SWEPT_NEEDS = ("sweep", "limit", "vice")
"""From one reading to the other, the difference allowed, 1 for a vice and 0 for a head."""
COLLARS_NEEDS = ("collar", "spacing", "length")
"""Diameter of the collars, from one to the other, length between centres."""
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
