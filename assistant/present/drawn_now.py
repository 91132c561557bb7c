"""What the drawing of a job shows at the step at hand: the sizes of the plan, and how far it is.

The plan tells kind and sizes; which side is touched, how deep it is, which hole or face is at hand
is read from the steps and from what was confirmed and told. Lengths are in the plan's unit.
"""

from __future__ import annotations

import re

from assistant.jobs.moment import Moment, Sizes
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Index, Measure, Note, Step, Touch
from assistant.present.bar_of import depths_now
from assistant.present.drawings import drawable, shown_now, shown_on_paper
from assistant.present.glance import Bar
from assistant.session.state import State

_WORDS_ONLY = frozenset({"speed", "feed"})
"""Notes about these are not about the work."""
_NO_PICTURE = frozenset({"machine-notes", "check-person", "check-spindle", "check-hands"})


def drawn_now(state: State, bar: Bar | None) -> tuple[str, tuple[tuple[str, float], ...]]:
    """Kind and dimensions of the drawing for the step at hand; '' where there is none."""
    plan, step = state.plan, state.step
    if step is None:
        return "", ()
    if isinstance(step, Index) and step.circle:
        return "index", _circle(step)
    sizes: Sizes = dict(plan.drawn)
    sizes.update(depths_now(state, bar))
    if isinstance(step, Touch):
        sizes["touch_top" if step.axis == plan.depth_axis else "touch_side"] = 1.0
    hole = _HOLE.search(step.id)
    if hole is not None:
        sizes["at"] = float(hole[1])
    moment = Moment(plan, step, state.confirmed, state.facts)
    sizes.update(shown_now(plan.drawing_kind, moment))
    dims = tuple(sizes.items())
    return (plan.drawing_kind, dims) if drawable(plan.drawing_kind, dims) else ("", ())


def about_the_work(step: Step) -> bool:
    """Whether a step without a move or cut is shown with the drawing of the work."""
    if isinstance(step, Note):
        return step.setting not in _WORDS_ONLY and step.id not in _NO_PICTURE
    return isinstance(step, Measure)


_HOLE = re.compile(r"hole-(\d+)")


def _circle(step: Index) -> tuple[tuple[str, float], ...]:
    """The hole circle that an index step counts on."""
    return (
        ("holes", float(step.circle)),
        ("spaces", float(step.holes)),
        ("turns", float(step.turns)),
    )


def planned_sizes(plan: Plan) -> Sizes:
    """The sizes of the plan's drawing for paper: with what its kind shows there beside them."""
    return {**plan.drawn, **shown_on_paper(plan)}
