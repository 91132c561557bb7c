"""Drawings to scale, from the job's own numbers; pure, and rendered elsewhere.

A plan gives the kind and its dimensions by name, all in one unit; what they are, and what draws
them, stands in the operation's folder (`drawing.py`). What changes from step to step (`depth_now`,
`depth_after`, `touch_side`, `at` ...) comes from the state of the job, in `present.drawn_now`.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from assistant.drawing import Draw, Drawing
from assistant.jobs.operations import OPERATIONS


@cache
def _drawn(kind: str) -> tuple[tuple[str, ...], Draw] | None:
    """What a kind of drawing can't do without, and what draws it; None where nothing does."""
    for operation in OPERATIONS.values():
        if kind in operation.draws:
            return operation.drawings[kind]
    return None


def drawable(kind: str, dims: Iterable[tuple[str, float]]) -> bool:
    """Whether there is such a drawing and its dimensions suffice."""
    found = _drawn(kind)
    return found is not None and {name for name, _ in dims}.issuperset(found[0])


def draw(kind: str, dims: Iterable[tuple[str, float]]) -> Drawing | None:
    """The drawing of that kind; None where there is none or a dimension is missing."""
    given, found = tuple(dims), _drawn(kind)
    return found[1](dict(given)) if found is not None and drawable(kind, given) else None
