"""A piece and the cut beside it."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.drawing import Drawing, Drawings, Ink, Polygon, rectangle

NEEDS = ("length", "kerf")
"""Length of a piece, and what the saw takes."""


def sawn_bar(dims: Mapping[str, float]) -> Drawing:
    """The piece at the left, what goes at the right."""
    length, kerf = dims["length"], dims["kerf"]
    high = length * 0.2
    items = (
        Polygon(rectangle(0, 0, length, high), Ink.METAL),
        Polygon(rectangle(length, 0, length + kerf, high), Ink.TOGO),
    )
    return Drawing(items, (-kerf, -kerf, length + 2 * kerf, high + kerf), "a piece, and the cut")


DRAWINGS: Drawings = {"sawn bar": (NEEDS, sawn_bar)}
