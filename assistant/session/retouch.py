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
    first, here = _first_cut(plan), plan.index(was_at(state))
    touches = [place for place, step in enumerate(plan.steps) if isinstance(step, Touch)]
    return bool(touches) and max(touches) < first < here


def was_at(state: State) -> str:
    """The step that the job was at when it was left for a touch; else the one it is at."""
    assert state.plan is not None
    return state.plan.steps[_goal(state)].id if state.back_to else state.step_id


def origin(state: State) -> str:
    """The step to set out from again: the first setting since the last cut before the one that the
    job was at, since all of it is to be set anew; that step itself where there is none."""
    assert state.plan is not None
    goal, found = state.plan.steps[_goal(state)], ""
    for step in state.plan.steps[: _goal(state) + 1]:
        if isinstance(step, Cut) and step is not goal:
            found = ""
        elif not found and isinstance(step, Move | Index):
            found = step.id
    return found or goal.id


def set_anew(state: State) -> tuple[Step, bool]:
    """The next step on the way from there to where the job was, since what was measured holds; and
    whether the job is there with it."""
    assert state.plan is not None
    here, goal = state.plan.index(state.step_id), _goal(state)
    measured = state.confirmed | state.skipped
    for place, step in enumerate(state.plan.steps):
        if place > here and not (isinstance(step, Measure) and step.id in measured):
            return step, place >= goal
        if place > here and place == goal:
            return step, True
    raise AssertionError("past the end of the job")


def following(state: State) -> Step | None:
    """The next step to be done again after the one at hand; None where all is touched."""
    plan = state.plan
    assert plan is not None
    here, end = plan.index(state.step_id), min(_first_cut(plan), _goal(state))
    return next((step for step in plan.steps[here + 1 : end] if _again(step, state)), None)


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


def _goal(state: State) -> int:
    """Where in the plan the job was. Worked out again, as for another cutter, the plan may have no
    such step any more: then at the first cut that isn't made."""
    assert state.plan is not None
    steps = state.plan.steps
    for place, step in enumerate(steps):
        if step.id == state.back_to:
            return place
    to_come = (
        place
        for place, step in enumerate(steps)
        if isinstance(step, Cut) and step.id not in state.confirmed
    )
    return next(to_come, len(steps) - 1)


def _first_cut(plan: Plan) -> int:
    cuts = (place for place, step in enumerate(plan.steps) if isinstance(step, Cut))
    return next(cuts, len(plan.steps))
