"""The outline of a taper."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.drawing import (
    Dimension,
    Drawing,
    Drawings,
    Ink,
    Line,
    Polygon,
    Primitive,
    Weight,
    rectangle,
    size_label,
)

TAPER_NEEDS = ("large", "small", "length")
"""Both diameters and the length between them."""


def taper_outline(dims: Mapping[str, float]) -> Drawing:
    """A cone from the side, with both diameters and the length to scale; `labels` are the
    renderer's. Also: `done` (0 to 1), how much of the length has been cut."""
    large, small, length = dims["large"] / 2, dims["small"] / 2, dims["length"]
    body = ((0.0, large), (length, small), (length, -small), (0.0, -large))
    stub = rectangle(-length * 0.25, -large, 0.0, large)
    items: list[Primitive] = [
        Polygon(stub, Ink.METAL),
        Polygon(body, Ink.METAL),
        Line(((-length * 0.3, 0), (length * 1.08, 0)), Ink.FAINT, Weight.THIN, dashed=True),
        # beside the work: a slender end has no room for its own size
        Dimension((-length * 0.34, -large), (-length * 0.34, large), size_label(dims["large"]), -1),
        Dimension((length * 1.1, -small), (length * 1.1, small), size_label(dims["small"])),
    ]
    box = (-length * 0.35, -large * 1.15, length * 1.12, large * 1.15)
    title = f"taper, {size_label(dims['large'])} to {size_label(dims['small'])}"
    return Drawing(tuple(items), box, title, room=(3.6, 0, 3.6, 0))


DRAWINGS: Drawings = {"taper": (TAPER_NEEDS, taper_outline)}
