"""Renders a `Drawing` onto a part of the screen, to scale."""

from __future__ import annotations

import pygame

from assistant.devices.screen import shapes, typeset
from assistant.devices.screen.needs import CAPITAL
from assistant.devices.screen.theme import Theme
from assistant.drawing import (
    Circle,
    Dimension,
    Drawing,
    Ink,
    Line,
    Polygon,
    Text,
    Weight,
)


class Fitted:
    """Where the parts of a drawing come to lie in a box; `smallest` is the least type size."""

    def __init__(
        self, box: pygame.Rect, drawing: Drawing, smallest: int, align: str = "centre"
    ) -> None:
        self.smallest = smallest
        self.labelled = labelled(box, drawing, smallest)
        if self.labelled:
            left, bottom, right, top = (round(share * smallest) for share in drawing.room)
            box = pygame.Rect(
                box.left + left, box.top + top,
                box.width - left - right, box.height - top - bottom,
            )  # fmt: skip
        scale_x = box.width / drawing.width
        scale_y = box.height / drawing.height
        if not drawing.stretch:
            scale_x = scale_y = min(scale_x, scale_y)
        self.scale_x, self.scale_y = scale_x, scale_y
        spare = box.width - drawing.width * scale_x
        share = {"left": 0.0, "centre": 0.5, "right": 1.0}[align]
        self.left = box.left + spare * share - drawing.box[0] * scale_x
        self.top = box.top + (box.height - drawing.height * scale_y) / 2 + drawing.box[3] * scale_y

    def point(self, at: tuple[float, float]) -> tuple[float, float]:
        """Real dimensions to pixels."""
        return (self.left + at[0] * self.scale_x, self.top - at[1] * self.scale_y)

    def label(self, item: Text | Dimension) -> pygame.Rect:
        """The box of a label's capitals."""
        size = round(self.smallest * (item.scale if isinstance(item, Text) else 1.0))
        high = round(size * CAPITAL)
        bold = isinstance(item, Text) and item.bold
        wide = typeset.width_of(item.text, size, bold=bold)
        if isinstance(item, Text):
            x, y = self.point(item.at)
            anchor, top = item.anchor.value, round(y - high / 2)
        else:
            start, end = self.point(item.start), self.point(item.end)
            x, y = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
            gap = self.smallest * 0.4
            if abs(end[1] - start[1]) > abs(end[0] - start[0]):
                anchor, top = "left" if item.side > 0 else "right", round(y - high / 2)
                x += gap * item.side
            else:
                anchor, top = "centre", round(y - (gap + high if item.side > 0 else -gap))
        left = round(x) - {"left": 0, "centre": wide // 2, "right": wide}[anchor]
        return pygame.Rect(left, top, wide, high)


class Sketcher(Fitted):
    """Draws into one box of a surface."""

    def __init__(
        self,
        surface: pygame.Surface,
        box: pygame.Rect,
        drawing: Drawing,
        theme: Theme,
        smallest: int,
        align: str = "centre",
    ) -> None:
        super().__init__(box, drawing, smallest, align)
        self.surface, self.theme = surface, theme
        self.unit = max(1.0, smallest / 20)
        """Width of a normal line."""

    def width(self, weight: Weight) -> float:
        """Line width in pixels."""
        return self.unit * {Weight.THIN: 0.7, Weight.NORMAL: 1.3, Weight.HEAVY: 2.6}[weight]

    def line(self, item: Line) -> None:
        points = [self.point(p) for p in item.points]
        width, colour = self.width(item.weight), self.theme.of(item.ink)
        shapes.stroke(self.surface, points, width, colour, dashed=item.dashed)
        if item.arrow and len(points) > 1:
            shapes.arrow_head(self.surface, points[-2], points[-1], width * 5.5, colour)

    def polygon(self, item: Polygon) -> None:
        points = [self.point(p) for p in item.points]
        colour = self.theme.of(item.ink)
        if item.ink is Ink.TOGO:
            shapes.hatch(
                self.surface, points, self.unit * 7, max(1, round(self.unit * 1.4)), colour,
                self.theme.paper,
            )  # fmt: skip
        else:
            shapes.fill(self.surface, points, colour)
        if item.outline:
            edge = self.theme.of(Ink.EDGE)
            closed = [*points, points[0]]
            shapes.stroke(self.surface, closed, self.width(Weight.NORMAL), edge)

    def circle(self, item: Circle) -> None:
        centre, radius = self.point(item.centre), item.radius * self.scale_x
        colour = self.theme.of(item.ink)
        if item.filled:
            shapes.disc(self.surface, centre, radius, colour)
        else:
            shapes.ring(self.surface, centre, radius, self.width(item.weight), colour)

    def text(self, item: Text) -> None:
        box, size = self.label(item), round(self.smallest * item.scale)
        if item.ringed:
            radius = max(box.width, box.height) / 2 + size * 0.3
            ink = self.theme.of(Ink.EDGE)
            shapes.disc(self.surface, box.center, radius, self.theme.paper)
            shapes.ring(self.surface, box.center, radius, self.width(Weight.NORMAL), ink)
        typeset.write(
            self.surface, item.text, box.topleft, size, self.theme.of(item.ink), bold=item.bold
        )

    def dimension(self, item: Dimension) -> None:
        start, end = self.point(item.start), self.point(item.end)
        colour, width = self.theme.ink, self.width(Weight.THIN)
        shapes.stroke(self.surface, [start, end], width, colour)
        shapes.arrow_head(self.surface, start, end, self.unit * 7, colour)
        shapes.arrow_head(self.surface, end, start, self.unit * 7, colour)
        at = self.label(item).topleft
        typeset.write(self.surface, item.text, at, self.smallest, colour)


def labelled(box: pygame.Rect, drawing: Drawing, smallest: int) -> bool:
    """Whether labels have room beside the drawing: it keeps most of the box."""
    left, bottom, right, top = (share * smallest for share in drawing.room)
    return left + right <= 0.3 * box.width and bottom + top <= 0.25 * box.height


def sketch(
    surface: pygame.Surface,
    box: pygame.Rect,
    drawing: Drawing,
    theme: Theme,
    smallest: int,
    align: str = "centre",
) -> None:
    """Draw `drawing` as large as the box allows."""
    if box.width < 8 or box.height < 8:
        return
    if drawing.clip:
        before = surface.get_clip()
        surface.set_clip(box.clip(before))
    sketcher = Sketcher(surface, box, drawing, theme, smallest, align)
    for item in drawing.items:
        match item:
            case Line():
                sketcher.line(item)
            case Polygon():
                sketcher.polygon(item)
            case Circle():
                sketcher.circle(item)
            case Text():
                if sketcher.labelled:
                    sketcher.text(item)
            case Dimension():
                if sketcher.labelled:
                    sketcher.dimension(item)
    if drawing.clip:
        surface.set_clip(before)
