"""Turned and bored diameters, seen from the side with the chuck at the left."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.drawing import Drawing, Ink, Line, Polygon, Primitive, Weight, rectangle, touched


def turned(dims: Mapping[str, float]) -> Drawing:
    """An outside diameter. Also: `depth_now`, `depth_after`."""
    stock, now, after, last = _radii(dims)
    length = dims["length"]
    left = -length * 0.35
    items: list[Primitive] = [
        Polygon(rectangle(left, -stock, 0, stock), Ink.METAL),
        Polygon(rectangle(0, -last, length, last), Ink.METAL),
    ]
    for high, low, ink in ((now, after, Ink.NEXT), (after, last, Ink.TOGO)):
        if high > low:
            items.append(Polygon(rectangle(0, low, length, high), ink))
            items.append(Polygon(rectangle(0, -high, length, -low), ink))
    touching = bool(dims.get("touch_top"))
    tip, at = (stock, length * 0.8) if touching else (max(now, last), length * 1.04)
    items += [_centre(left, length * 1.15), _tool(at, -tip, -stock * 0.8)]
    if touching:
        items += touched((at, -tip), stock)
    box = (left * 1.05, -stock * 1.9, length * 1.25, stock * 1.15)
    return Drawing(tuple(items), box, "turned diameter, from the side")


def bored(dims: Mapping[str, float]) -> Drawing:
    """A bore in section. Also: `depth_now`, `depth_after`."""
    stock, now, after, last = _radii(dims)
    length = dims["length"]
    outer = max(last * 1.5, last + length * 0.2)
    items: list[Primitive] = []
    for sign in (1, -1):
        items.append(Polygon(rectangle(0, sign * last, length, sign * outer), Ink.METAL))
        for low, high, ink in ((now, after, Ink.NEXT), (after, last, Ink.TOGO)):
            if high > low:
                items.append(Polygon(rectangle(0, sign * low, length, sign * high), ink))
    bar = max(stock * 0.35, 1e-9)
    top = -now + bar
    items += [
        _centre(-length * 0.1, length * 1.3),
        Line(
            ((length * 1.4, -now + bar * 0.3), (length * 1.02, -now + bar * 0.3),
             (length * 1.02, -now), (length * 1.1, top), (length * 1.4, top)),
            Ink.TOOL, Weight.HEAVY,
        ),
    ]  # fmt: skip
    box = (-length * 0.12, -outer * 1.05, length * 1.4, outer * 1.05)
    return Drawing(tuple(items), box, "bore, in section")


def _radii(dims: Mapping[str, float]) -> tuple[float, float, float, float]:
    """Radius at first, now, after this pass, at last."""
    first, last, full = dims["stock"] / 2, dims["finished"] / 2, dims["depth_full"]

    def radius(depth: float) -> float:
        share = min(max(depth / full, 0.0), 1.0) if full > 0 else 0.0
        return first + (last - first) * share

    now = dims.get("depth_now", 0.0)
    return first, radius(now), radius(max(now, dims.get("depth_after", now))), last


def _centre(left: float, right: float) -> Line:
    return Line(((left, 0), (right, 0)), Ink.FAINT, Weight.THIN, dashed=True)


def _tool(x: float, tip: float, size: float) -> Line:
    """A tool that comes from the operator's side, with its tip at `tip`."""
    side = abs(size) * 0.35
    return Line(
        ((x, tip + size), (x, tip), (x + side, tip - side * 0.6), (x + side, tip + size)),
        Ink.TOOL,
        Weight.HEAVY,
    )


def broken_end(x: float, radius: float, step: float) -> tuple[tuple[float, float], ...]:
    """The broken end of a bar, from the bottom up."""
    return tuple(
        (x + (step if row % 2 else 0.0), -radius + 2 * radius * row / 8) for row in range(9)
    )
