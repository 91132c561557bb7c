"""What drawings of cuts in a block have in common."""

from __future__ import annotations

from assistant.drawing import Ink, Line, Polygon, Primitive, Weight, rectangle


def layers(left: float, right: float, now: float, after: float, full: float) -> list[Primitive]:
    """What this pass takes, and what is to go."""
    layers: list[Primitive] = []
    if after > now:
        layers.append(Polygon(rectangle(left, -after, right, -now), Ink.NEXT))
    if full > after:
        layers.append(Polygon(rectangle(left, -full, right, -after), Ink.TOGO))
    return layers


def cutter_over(left: float, right: float, foot: float, top: float) -> Line:
    return Line(((left, top), (left, foot), (right, foot), (right, top)), Ink.TOOL, Weight.HEAVY)
