"""The depth bar and the limits of a size, to scale."""

from __future__ import annotations

from assistant.drawing import (
    Anchor,
    Drawing,
    Ink,
    Line,
    Polygon,
    Primitive,
    Text,
    Weight,
    rectangle,
)
from assistant.present.glance import Bar, Limits


def depth_bar(bar: Bar) -> Drawing:
    """From the top of the work (above) to full depth (below): cut, this pass, to go."""
    full = max(bar.full, bar.after, bar.now, 1e-9)

    def y(depth: float) -> float:
        return 1.0 - depth / full

    items: list[Primitive] = []
    if bar.now > 0:
        items.append(Polygon(rectangle(0, y(bar.now), 1, 1), Ink.METAL))
    if bar.after > bar.now:
        items.append(Polygon(rectangle(0, y(bar.after), 1, y(bar.now)), Ink.NEXT))
    deepest = max(bar.after, bar.now)
    if full > deepest:
        items.append(Polygon(rectangle(0, 0, 1, y(deepest)), Ink.TOGO))
    for mark in bar.marks:
        items.append(Line(((-0.25, y(mark)), (0.0, y(mark))), Ink.EDGE, Weight.NORMAL))
    items.append(Line(((-0.4, y(bar.now)), (1.25, y(bar.now))), Ink.EDGE, Weight.HEAVY))
    return Drawing(
        tuple(items),
        (-0.5, -0.03, 1.3, 1.03),
        f"{bar.now / full:.0%} cut, {bar.after / full:.0%} after this pass",
        stretch=True,
    )


def limits_chart(limits: Limits) -> Drawing | None:
    """The band between the limits, and where the measured size lies; None without limits."""
    edges = [value for value in (limits.low, limits.high) if value is not None]
    if not edges:
        return None
    low, high = min(edges), max(edges)
    span = (high - low) or max(abs(high) * 0.001, 0.001)
    left, right = low - span * 0.6, high + span * 0.6
    at = limits.measured
    if at is not None:
        left, right = min(left, at - span * 0.2), max(right, at + span * 0.2)

    def x(value: float) -> float:
        return (value - left) / (right - left) * 10

    items: list[Primitive] = [
        Line(((0, 1), (10, 1)), Ink.EDGE, Weight.THIN),
        Polygon(rectangle(x(low), 0.75, x(high) if high > low else x(low) + 0.1, 1.25), Ink.METAL),
    ]
    if limits.low is not None:
        items.append(Line(((x(low), 0.6), (x(low), 1.4)), Ink.EDGE, Weight.HEAVY))
        items.append(Text((x(low), 0.2), limits.low_text, Anchor.CENTRE))
    if limits.high is not None:
        items.append(Line(((x(high), 0.6), (x(high), 1.4)), Ink.EDGE, Weight.HEAVY))
        items.append(Text((x(high), 0.2), limits.high_text, Anchor.CENTRE))
    if at is not None:
        where = x(at)
        items.append(Polygon(((where, 1.3), (where - 0.22, 1.75), (where + 0.22, 1.75)), Ink.MARK))
        items.append(Line(((where, 0.7), (where, 1.5)), Ink.MARK, Weight.HEAVY))
        if limits.measured_text:
            items.append(Text((where, 2.15), limits.measured_text, Anchor.CENTRE, bold=True))
    title = f"limits {limits.low_text or 'none'} to {limits.high_text or 'none'}"
    return Drawing(tuple(items), (-0.8, 0.0, 10.8, 2.4), title, stretch=True, clip=False)


def band_chart(low: float | None, high: float | None, at: float, title: str) -> Drawing:
    """A size against its limits on one line, without figures: for a row of a table.

    A limit that is not given has no mark, and the band runs out of the drawing there. The scale
    is such that the band takes the middle of it; a size far out stands at the end, as an arrow.
    """
    edges = [edge for edge in (low, high) if edge is not None]
    first, last = (min(edges), max(edges)) if edges else (at, at)
    span = last - first or max(abs(first) * 0.001, 1e-6)
    left, right = first - span, last + span

    def x(value: float) -> float:
        return min(10.0, max(0.0, (value - left) / (right - left) * 10))

    start, end = 0.0 if low is None else x(low), 10.0 if high is None else x(high)
    items: list[Primitive] = [
        Line(((0, 0), (10, 0)), Ink.EDGE, Weight.THIN),
        Polygon(rectangle(start, -0.22, max(end, start + 0.05), 0.22), Ink.METAL, outline=False),
    ]
    for edge in edges:
        items.append(Line(((x(edge), -0.4), (x(edge), 0.4)), Ink.EDGE, Weight.NORMAL))
    if left <= at <= right:
        items.append(Polygon(((x(at), 0.1), (x(at) - 0.2, 0.9), (x(at) + 0.2, 0.9)), Ink.MARK))
        items.append(Line(((x(at), -0.4), (x(at), 0.3)), Ink.MARK, Weight.HEAVY))
    else:
        tail, tip = (0.8, 0.0) if at < left else (9.2, 10.0)
        items.append(Line(((tail, 0.6), (tip, 0.6)), Ink.MARK, Weight.HEAVY, arrow=True))
    return Drawing(tuple(items), (-0.3, -0.6, 10.3, 1.0), title, stretch=True, clip=False)
