"""A drawing on paper: black on white, with patterns where the screen has colours."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from fpdf import FPDF

from assistant.drawing import (
    Anchor,
    Circle,
    Dimension,
    Drawing,
    Ink,
    Line,
    Point,
    Polygon,
    Text,
    Weight,
)

WIDTHS = {Weight.THIN: 0.25, Weight.NORMAL: 0.5, Weight.HEAVY: 0.9}
"""Millimetres; 0.25 and 0.5 are line widths of ISO 128-2, from memory."""
BLACK, GREY, METAL, WHITE = 26, 107, 212, 255
FILLS = {Ink.METAL: METAL, Ink.NEXT: BLACK, Ink.VOID: WHITE, Ink.MARK: BLACK, Ink.EDGE: BLACK}
HATCH = 1.6
"""Millimetres between the lines of metal that is to go."""
HEAD = 2.5
"""Length of an arrow head in mm."""


class Inker:
    """Draws into a box of the page, in mm from its top left."""

    def __init__(
        self, pdf: FPDF, drawing: Drawing, box: tuple[float, float, float, float], points: float
    ) -> None:
        """`box` is left, top, width, height; `points` the size of type."""
        self.pdf, self.points_size = pdf, points
        left, top, width, height = box
        before, below, after, above = room_of(drawing, points)
        self.area = (left, top, width, height)
        left, top = left + before, top + above
        width, height = width - before - after, height - above - below
        self.across, self.up = width / drawing.width, height / drawing.height
        if not drawing.stretch:
            self.across = self.up = min(self.across, self.up)
        self.left = left - drawing.box[0] * self.across
        self.top = top + drawing.box[3] * self.up
        if not any(drawing.room):
            self.area = (left, top, drawing.width * self.across, drawing.height * self.up)

    def place(self, at: Point) -> Point:
        """Real dimensions to mm on the page."""
        return self.left + at[0] * self.across, self.top - at[1] * self.up

    def draw(self, drawing: Drawing) -> None:
        """All of it; what lies outside the box is cut off where the drawing wants that."""
        if drawing.clip:
            left, top, width, height = self.area
            # the clip ends with the page's state as it was before: what the library remembers of
            # colours and type has to end with it
            with self.pdf.local_context(), self.pdf.rect_clip(left, top, width, height):
                self._items(drawing)
        else:
            self._items(drawing)

    def _items(self, drawing: Drawing) -> None:
        for item in drawing.items:
            match item:
                case Line():
                    self.line(item)
                case Polygon():
                    self.polygon(item)
                case Circle():
                    self.circle(item)
                case Text():
                    x, y = self.place(item.at)
                    self.pdf.set_text_color(255 if item.ink is Ink.VOID else BLACK)
                    self.words(x, y, item.text, item.anchor, bold=item.bold, scale=item.scale)
                    self.pdf.set_text_color(BLACK)
                case Dimension():
                    self.dimension(item)

    def _pen(self, ink: Ink, weight: Weight, *, dashed: bool = False) -> None:
        wide = WIDTHS[weight]
        self.pdf.set_draw_color(GREY if ink is Ink.FAINT else BLACK)
        self.pdf.set_line_width(wide)
        if dashed:
            self.pdf.set_dash_pattern(dash=wide * 5, gap=wide * 3)
        else:
            self.pdf.set_dash_pattern()

    def line(self, item: Line) -> None:
        points = [self.place(point) for point in item.points]
        self._pen(item.ink, item.weight, dashed=item.dashed)
        self.pdf.polyline(points)
        self.pdf.set_dash_pattern()
        if item.arrow and len(points) > 1:
            self.head(points[-2], points[-1])

    def head(self, tail: Point, tip: Point) -> None:
        angle = math.atan2(tip[1] - tail[1], tip[0] - tail[0])
        wings = [
            (tip[0] - HEAD * math.cos(angle + turn), tip[1] - HEAD * math.sin(angle + turn))
            for turn in (0.38, -0.38)
        ]
        self.pdf.set_fill_color(BLACK)
        self.pdf.polygon([tip, *wings], style="F")

    def polygon(self, item: Polygon) -> None:
        points = [self.place(point) for point in item.points]
        if item.ink is Ink.TOGO:
            self.pdf.set_fill_color(FILLS[Ink.VOID])
            self.pdf.polygon(points, style="F")
            self._pen(Ink.EDGE, Weight.THIN)
            for start, end in hatching(points, HATCH):
                self.pdf.line(*start, *end)
        elif item.ink in FILLS:
            self.pdf.set_fill_color(FILLS[item.ink])
            self.pdf.polygon(points, style="F")
        if item.outline or item.ink not in FILLS:
            self._pen(Ink.EDGE, Weight.NORMAL)
            self.pdf.polygon(points, style="D")

    def circle(self, item: Circle) -> None:
        x, y = self.place(item.centre)
        wide, high = item.radius * self.across, item.radius * self.up
        self._pen(item.ink, item.weight, dashed=item.dashed)
        filled = item.filled and item.ink in FILLS
        if filled:
            self.pdf.set_fill_color(FILLS[item.ink])
        self.pdf.ellipse(x - wide, y - high, 2 * wide, 2 * high, style="DF" if filled else "D")
        self.pdf.set_dash_pattern()

    def words(
        self, x: float, y: float, text: str, anchor: Anchor, *, bold: bool = False, scale: float = 1
    ) -> None:
        """Text whose capitals stand centred on `y`."""
        self.pdf.set_font("B612", "B" if bold else "", self.points_size * scale)
        wide = self.pdf.get_string_width(text)
        share = {Anchor.LEFT: 0.0, Anchor.CENTRE: 0.5, Anchor.RIGHT: 1.0}[anchor]
        capital = self.points_size * scale * 0.3528 * 0.73
        self.pdf.text(x - wide * share, y + capital / 2, text)

    def dimension(self, item: Dimension) -> None:
        start, end = self.place(item.start), self.place(item.end)
        self._pen(Ink.EDGE, Weight.THIN)
        self.pdf.line(*start, *end)
        self.head(start, end)
        self.head(end, start)
        x, y = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
        if abs(end[1] - start[1]) > abs(end[0] - start[0]):
            anchor = Anchor.LEFT if item.side > 0 else Anchor.RIGHT
            self.words(x + 1.4 * item.side, y, item.text, anchor)
        else:
            self.words(x, y - 3 * item.side, item.text, Anchor.CENTRE)


def room_of(drawing: Drawing, points: float) -> tuple[float, float, float, float]:
    """What a drawing keeps free for labels in mm, at a size of type: left, below, right, above."""
    left, below, right, above = (share * points * 25.4 / 72 for share in drawing.room)
    return left, below, right, above


def hatching(points: Sequence[Point], spacing: float) -> Iterator[tuple[Point, Point]]:
    """The parts inside a polygon of lines that rise at 45 degrees, `spacing` apart."""
    corners = [*points, points[0]]
    offsets = [x + y for x, y in points]  # a line is x + y = offset
    first = math.floor(min(offsets) / (spacing * math.sqrt(2))) + 1
    step = spacing * math.sqrt(2)
    number = first
    while number * step < max(offsets):
        offset = number * step
        crossed = []
        for (x1, y1), (x2, y2) in pairwise(corners):
            one, other = x1 + y1 - offset, x2 + y2 - offset
            if (one < 0) != (other < 0):
                share = one / (one - other)
                crossed.append((x1 + (x2 - x1) * share, y1 + (y2 - y1) * share))
        crossed.sort()
        yield from zip(crossed[::2], crossed[1::2], strict=False)
        number += 1
