"""The one drawing model: primitives in real dimensions, rendered on the screen and as SVG.

Coordinates are in the drawing's own length unit, x to the right and y up. Angles are in degrees,
counter-clockwise from the x axis. Widths of lines and heights of text are given as `Weight` and
`Scale`, since they belong to paper and eye, not to the part. What a thing is (`Ink`) is told by
fill and pattern as well as by colour.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

Point = tuple[float, float]


class Ink(StrEnum):
    """What is drawn; each renderer gives it a colour and, where filled, a pattern."""

    VOID = "void"
    """Where there is no metal any more."""
    METAL = "metal"
    """The work as it is now."""
    TOGO = "to go"
    """Metal still to be cut away later: hatched."""
    NEXT = "next"
    """What this pass takes: solid."""
    TOOL = "tool"
    """Cutter: outlined, empty."""
    GHOST = "ghost"
    """The key or the finished shape: dashed."""
    EDGE = "edge"
    """Outline and dial lines."""
    MARK = "mark"
    """Where to stop; the measured value."""
    FAINT = "faint"
    """Centre and dimension lines."""


class Weight(StrEnum):
    """Line widths."""

    THIN = "thin"
    NORMAL = "normal"
    HEAVY = "heavy"


class Anchor(StrEnum):
    """Which point of a text stands at its place."""

    LEFT = "left"
    CENTRE = "centre"
    RIGHT = "right"


@dataclass(frozen=True, slots=True)
class Line:
    """A polyline."""

    points: tuple[Point, ...]
    ink: Ink = Ink.EDGE
    weight: Weight = Weight.NORMAL
    dashed: bool = False
    arrow: bool = False
    """An arrow head at the last point."""


@dataclass(frozen=True, slots=True)
class Polygon:
    """A closed area, filled as its ink says."""

    points: tuple[Point, ...]
    ink: Ink
    outline: bool = True


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle: filled as its ink says, or only drawn."""

    centre: Point
    radius: float
    ink: Ink = Ink.EDGE
    filled: bool = False
    weight: Weight = Weight.NORMAL
    dashed: bool = False


@dataclass(frozen=True, slots=True)
class Text:
    """A label; never smaller than what is legible, so a renderer may leave it out."""

    at: Point
    text: str
    anchor: Anchor = Anchor.CENTRE
    scale: float = 1.0
    """Height as a multiple of the smallest legible type."""
    ink: Ink = Ink.EDGE
    bold: bool = False
    ringed: bool = False
    """With a ring about it, that is never smaller than the label."""


@dataclass(frozen=True, slots=True)
class Dimension:
    """A dimension line between two points, with arrows at both ends and a label beside it."""

    start: Point
    end: Point
    text: str
    side: int = 1
    """+1: the label stands right of (or above) the line, -1 left of (or below) it."""


Primitive = Line | Polygon | Circle | Text | Dimension


@dataclass(frozen=True, slots=True)
class Drawing:
    """Primitives with the box that must be in view."""

    items: tuple[Primitive, ...]
    box: tuple[float, float, float, float]
    """left, bottom, right, top."""
    title: str = ""
    """In words, for those who can't see it, and under the drawing on paper."""
    stretch: bool = False
    """True where x and y need not have the same scale (a bar, a chart)."""
    clip: bool = field(default=True)
    """Whether what lies outside the box is cut off."""
    room: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)
    """Kept free around the box for labels: left, bottom, right, top, each as a multiple of the
    height of the smallest type, since type does not shrink with the drawing."""

    @property
    def width(self) -> float:
        """Width of the box."""
        return self.box[2] - self.box[0]

    @property
    def height(self) -> float:
        """Height of the box."""
        return self.box[3] - self.box[1]


def arc_points(
    centre: Point, radius: float, start: float, end: float, step: float = 3.0
) -> tuple[Point, ...]:
    """Points along an arc from angle `start` to `end` in degrees, at most `step` apart."""
    count = max(2, math.ceil(abs(end - start) / step) + 1)
    return tuple(
        (
            centre[0] + radius * math.cos(math.radians(start + (end - start) * i / (count - 1))),
            centre[1] + radius * math.sin(math.radians(start + (end - start) * i / (count - 1))),
        )
        for i in range(count)
    )


def rectangle(left: float, bottom: float, right: float, top: float) -> tuple[Point, ...]:
    """Corners, counter-clockwise."""
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def size_label(value: float, places: int = 3) -> str:
    """To so many places at most: a picture's label, not a size to work to."""
    return f"{value:.{places}f}".rstrip("0").rstrip(".")


def depths(dims: Mapping[str, float], prefix: str = "depth") -> tuple[float, float, float]:
    """Depth now, after the pass at hand, and full: each at least the one before it."""
    full = dims[f"{prefix}_full"]
    now = min(max(dims.get(f"{prefix}_now", 0.0), 0.0), full)
    return now, min(max(now, dims.get(f"{prefix}_after", now)), full), full


def touched(at: Point, size: float) -> list[Primitive]:
    """Where tool and work touch; `size` is that of the work."""
    return [
        Circle(at, size * 0.07, Ink.MARK, filled=True),
        Circle(at, size * 0.16, Ink.MARK, weight=Weight.HEAVY),
    ]


Draw = Callable[[Mapping[str, float]], Drawing]
"""What draws from dimensions by name, all in one unit."""
Drawings = Mapping[str, tuple[tuple[str, ...], Draw]]
"""Kind of drawing, as a plan names it -> the dimensions it can't do without, and what draws it."""
