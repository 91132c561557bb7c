"""Drawings to scale, from the job's own numbers; pure, and rendered elsewhere.

A plan's `drawing` gives dimensions by name, its operation the kind:

    keyseat    shaft, key_width, depth; key_height, cutter, depth_now, depth_after
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from assistant.present.drawings.keyseat import NEEDS, keyseat_section
from assistant.present.drawings.model import Drawing

_KINDS: Mapping[str, tuple[tuple[str, ...], Callable[[Mapping[str, float]], Drawing]]] = {
    "keyseat": (NEEDS, keyseat_section),
}


def drawing_kind(operation: str, dims: Iterable[tuple[str, float]]) -> str:
    """The kind of drawing for an operation, or '' where its dimensions don't suffice."""
    names = {name for name, size in dims if size > 0}
    for kind, (needs, _) in _KINDS.items():
        if kind in operation and names.issuperset(needs):
            return kind
    return ""


def draw(kind: str, dims: Iterable[tuple[str, float]]) -> Drawing | None:
    """The drawing of that kind; None where there is none."""
    entry = _KINDS.get(kind)
    return entry[1](dict(dims)) if entry else None
