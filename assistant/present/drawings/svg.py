"""A drawing as SVG, for paper: black on white, with patterns where the screen has colours."""

from __future__ import annotations

from collections.abc import Callable
from html import escape

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

_WIDTHS = {Weight.THIN: 0.25, Weight.NORMAL: 0.5, Weight.HEAVY: 0.9}
"""Millimetres on paper; 0.25, 0.5 and near 1 mm are the line widths of ISO 128-2, from memory."""
_FILLS = {
    Ink.METAL: "#d4d4d0",
    Ink.TOGO: "url(#togo)",
    Ink.NEXT: "#1a1a1a",
    Ink.VOID: "#ffffff",
    Ink.MARK: "#1a1a1a",
    Ink.EDGE: "#1a1a1a",
}
_STROKES = {Ink.FAINT: "#6b6b6b"}
_INK = "#1a1a1a"
TEXT_HEIGHT = 3.5
"""Height of type in mm (ISO 3098-1 lists 3.5, from memory)."""


def to_svg(drawing: Drawing, width: float = 120.0, height: float = 80.0) -> str:
    """The drawing as an SVG document that fits `width` by `height` mm, to scale.

    Coordinates inside it are millimetres on paper.
    """
    place = _Placed(drawing, width, height)
    body = "\n".join(place.item(item) for item in drawing.items)
    clip = ' clip-path="url(#box)"' if drawing.clip else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{place.width:.2f}mm" '
        f'height="{place.height:.2f}mm" viewBox="0 0 {place.width:.2f} {place.height:.2f}" '
        f'font-family="B612, sans-serif" font-size="{TEXT_HEIGHT / 0.75:.2f}" '
        f'role="img">\n<title>{escape(drawing.title)}</title>\n<defs>'
        '<pattern id="togo" width="2" height="2" patternUnits="userSpaceOnUse" '
        'patternTransform="rotate(45)"><rect width="2" height="2" fill="#ffffff"/>'
        f'<line x1="0" y1="0" x2="0" y2="2" stroke="{_INK}" stroke-width="0.5"/></pattern>'
        f'<clipPath id="box"><rect width="{place.width:.2f}" height="{place.height:.2f}"/>'
        f"</clipPath></defs>\n<g{clip}>\n{body}\n</g>\n</svg>\n"
    )


class _Placed:
    """A drawing laid out on paper."""

    def __init__(self, drawing: Drawing, width: float, height: float) -> None:
        left, bottom, right, top = (share * TEXT_HEIGHT for share in drawing.room)
        self.across = (width - left - right) / drawing.width
        self.up = (height - bottom - top) / drawing.height
        if not drawing.stretch:
            self.across = self.up = min(self.across, self.up)
        self.left = drawing.box[0] - left / self.across
        self.top = drawing.box[3] + top / self.up
        self.width = drawing.width * self.across + left + right
        self.height = drawing.height * self.up + bottom + top

    def point(self, at: Point) -> Point:
        """Real dimensions to millimetres on paper."""
        return (at[0] - self.left) * self.across, (self.top - at[1]) * self.up

    def item(self, item: object) -> str:
        """One primitive as an element."""
        draw: Callable[[object], str] = {
            Line: self.line,
            Polygon: self.polygon,
            Circle: self.circle,
            Text: self.text,
            Dimension: self.dimension,
        }[type(item)]  # type: ignore[assignment]
        return draw(item)

    def points(self, points: tuple[Point, ...]) -> str:
        return " ".join(f"{x:.3f},{y:.3f}" for x, y in map(self.point, points))

    def stroke(self, ink: Ink, weight: Weight, *, dashed: bool = False) -> str:
        wide = _WIDTHS[weight]
        dash = f' stroke-dasharray="{wide * 5:.2f} {wide * 3:.2f}"' if dashed else ""
        colour = _STROKES.get(ink, _INK)
        return (
            f'stroke="{colour}" stroke-width="{wide}" stroke-linejoin="round" '
            f'stroke-linecap="round"{dash}'
        )

    def line(self, item: Line) -> str:
        stroke = self.stroke(item.ink, item.weight, dashed=item.dashed)
        text = f'<polyline points="{self.points(item.points)}" fill="none" {stroke}/>'
        if item.arrow and len(item.points) > 1:
            text += self.head(item.points[-2], item.points[-1], 2.5)
        return text

    def head(self, tail: Point, tip: Point, size: float) -> str:
        (x1, y1), (x2, y2) = self.point(tail), self.point(tip)
        length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5 or 1.0
        dx, dy = (x2 - x1) / length * size, (y2 - y1) / length * size
        wings = ((x2 - dx - dy * 0.4, y2 - dy + dx * 0.4), (x2 - dx + dy * 0.4, y2 - dy - dx * 0.4))
        corners = " ".join(f"{x:.3f},{y:.3f}" for x, y in ((x2, y2), *wings))
        return f'<polygon points="{corners}" fill="{_INK}"/>'

    def polygon(self, item: Polygon) -> str:
        stroke = self.stroke(Ink.EDGE, Weight.NORMAL) if item.outline else 'stroke="none"'
        fill = _FILLS.get(item.ink, "none")
        return f'<polygon points="{self.points(item.points)}" fill="{fill}" {stroke}/>'

    def circle(self, item: Circle) -> str:
        x, y = self.point(item.centre)
        fill = _FILLS.get(item.ink, "none") if item.filled else "none"
        stroke = self.stroke(item.ink, item.weight, dashed=item.dashed)
        return (
            f'<ellipse cx="{x:.3f}" cy="{y:.3f}" rx="{item.radius * self.across:.3f}" '
            f'ry="{item.radius * self.up:.3f}" fill="{fill}" {stroke}/>'
        )

    def text(self, item: Text) -> str:
        x, y = self.point(item.at)
        words = self.words(x, y + TEXT_HEIGHT * item.scale / 2, item)
        if not item.ringed:
            return words
        radius = TEXT_HEIGHT * item.scale * (0.5 + 0.4 * max(1, len(item.text)))
        stroke = self.stroke(Ink.EDGE, Weight.NORMAL)
        return (
            f'<circle cx="{x:.3f}" cy="{y:.3f}" r="{radius:.3f}" fill="#ffffff" {stroke}/>{words}'
        )

    def words(self, x: float, y: float, item: Text) -> str:
        anchor = {Anchor.LEFT: "start", Anchor.CENTRE: "middle", Anchor.RIGHT: "end"}[item.anchor]
        bold = ' font-weight="bold"' if item.bold else ""
        size = f' font-size="{TEXT_HEIGHT / 0.75 * item.scale:.2f}"' if item.scale != 1 else ""
        colour = "#ffffff" if item.ink is Ink.VOID else _INK
        return (
            f'<text x="{x:.3f}" y="{y:.3f}" text-anchor="{anchor}" fill="{colour}"{bold}{size}>'
            f"{escape(item.text)}</text>"
        )

    def dimension(self, item: Dimension) -> str:
        (x1, y1), (x2, y2) = self.point(item.start), self.point(item.end)
        line = self.line(Line((item.start, item.end), Ink.EDGE, Weight.THIN))
        heads = self.head(item.start, item.end, 2.5) + self.head(item.end, item.start, 2.5)
        x, y = (x1 + x2) / 2, (y1 + y2) / 2
        if abs(y2 - y1) > abs(x2 - x1):
            anchor = Anchor.LEFT if item.side > 0 else Anchor.RIGHT
            label = self.words(
                x + 1.2 * item.side, y + TEXT_HEIGHT / 2, Text((0, 0), item.text, anchor)
            )
        else:
            rise = -1.2 if item.side > 0 else TEXT_HEIGHT + 1.2
            label = self.words(x, y + rise, Text((0, 0), item.text))
        return line + heads + label
