"""Touching again in the middle of a job: what was touched is touched once more, and the job goes on
where it was.

The setting up is walked again as it stands in the plan, up to the first cut; what was cut is not
cut again. The depth of what is being cut is not touched again either: its surface is gone. It is
measured, and come back to.
"""

from __future__ import annotations

from assistant.jobs.steps import Check, Cut, Index, Measure, Move, Note, Plan, Step, Touch
from assistant.session.metal import sets_a_pass
from assistant.session.state import State


def possible(state: State) -> bool:
    """Whether something is cut, by a tool that all was touched with: a second tool has another
    size, and touches of its own."""
    plan = state.plan
    if plan is None or not state.step_id:
        return False
    first, here = _first_cut(plan), plan.index(state.back_to or state.step_id)
    touches = [place for place, step in enumerate(plan.steps) if isinstance(step, Touch)]
    return bool(touches) and max(touches) < first < here


def origin(state: State) -> str:
    """The step to set out from again: the first setting since the last cut before the one that the
    job was at, since all of it is to be set anew; that step itself where there is none."""
    assert state.plan is not None
    found = ""
    for step in state.plan.steps[: state.plan.index(state.back_to) + 1]:
        if isinstance(step, Cut) and step.id != state.back_to:
            found = ""
        elif not found and isinstance(step, Move | Index):
            found = step.id
    return found or state.back_to


def set_anew(state: State) -> Step:
    """The next step on the way from there to where the job was: what was measured holds."""
    assert state.plan is not None
    steps = state.plan.steps[state.plan.index(state.step_id) + 1 :]
    measured = state.confirmed | state.skipped
    return next(
        step
        for step in steps
        if step.id == state.back_to or not (isinstance(step, Measure) and step.id in measured)
    )


def following(state: State) -> Step | None:
    """The next step to be done again after the one at hand; None where all is touched."""
    plan = state.plan
    assert plan is not None
    here, last = plan.index(state.step_id), plan.index(state.back_to)
    for step in plan.steps[here + 1 : last]:
        if plan.index(step.id) < _first_cut(plan) and _again(step, state):
            return step
    return None


def _again(step: Step, state: State) -> bool:
    if isinstance(step, Touch):
        return step.axis in state.retouching
    if isinstance(step, Move):
        return step.axis in state.retouching and not sets_a_pass(step)
    return state.setting_up and isinstance(step, Check | Note)


def out_of_the_way(state: State) -> frozenset[str]:
    """The axes that have to be moved out of the way of a touch: what sets the depth, and what is
    fed by its dial. The others stay locked."""
    plan = state.plan
    assert plan is not None
    fed = {
        step.feed_axis
        for step in plan.steps
        if isinstance(step, Cut) and step.feed_target is not None
    }
    return frozenset({plan.depth_axis} | fed) & frozenset(state.axes)


def _first_cut(plan: Plan) -> int:
    cuts = (place for place, step in enumerate(plan.steps) if isinstance(step, Cut))
    return next(cuts, len(plan.steps))
