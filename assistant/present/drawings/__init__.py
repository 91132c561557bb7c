"""Drawings to scale, from the job's own numbers; pure, and rendered elsewhere.

A plan gives the kind and its dimensions by name, all in one unit; what they are, and what draws
them, stands in the operation's folder (`drawing.py`). How deep it is and which side is touched
(`depth_now`, `depth_after`, `touch_side` ...) comes from the state of the job, in
`present.drawn_now`; what else a kind shows of the step at hand stands beside it in the folder.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from assistant.drawing import Draw, Drawing
from assistant.jobs.moment import Moment, Sizes
from assistant.jobs.operation import Operation
from assistant.jobs.operations import OPERATIONS
from assistant.jobs.plan import Plan


@cache
def _whose(kind: str) -> Operation | None:
    """The operation whose drawing that kind is; None where there is none."""
    return next((one for one in OPERATIONS.values() if kind in one.draws), None)


def _drawn(kind: str) -> tuple[tuple[str, ...], Draw] | None:
    """What a kind of drawing can't do without, and what draws it; None where nothing does."""
    operation = _whose(kind)
    return None if operation is None else operation.drawings[kind]


def shown_now(kind: str, moment: Moment) -> Sizes:
    """What that kind shows of the step at hand, beside a depth and a touch."""
    operation = _whose(kind)
    shown = operation.shown_now.get(kind) if operation is not None else None
    return {} if shown is None else shown(moment)


def shown_on_paper(plan: Plan) -> Sizes:
    """What the plan's drawing shows on paper, beside the sizes of the plan."""
    operation = _whose(plan.drawing_kind)
    shown = operation.shown_on_paper.get(plan.drawing_kind) if operation is not None else None
    return {} if shown is None else shown(plan)


def drawable(kind: str, dims: Iterable[tuple[str, float]]) -> bool:
    """Whether there is such a drawing and its dimensions suffice."""
    found = _drawn(kind)
    return found is not None and {name for name, _ in dims}.issuperset(found[0])


def draw(kind: str, dims: Iterable[tuple[str, float]]) -> Drawing | None:
    """The drawing of that kind; None where there is none or a dimension is missing."""
    given, found = tuple(dims), _drawn(kind)
    return found[1](dict(given)) if found is not None and drawable(kind, given) else None
