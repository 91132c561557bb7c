"""The figure that is presented now: the same for ear and eye."""

from __future__ import annotations

from assistant.jobs.steps import Measure
from assistant.session.state import State
from assistant.spoken import Figure


def figure_of(state: State) -> Figure | None:
    """`state.figure`, or what the step itself gives to be measured; None under a doubt.

    A question does not take the number away: it has its own (see `glance`).
    """
    if state.doubts or state.stopped:
        return None
    if state.figure is not None:
        return state.figure
    step = state.step
    if isinstance(step, Measure) and step.kind == "size":
        size = step.nominal if step.nominal is not None else step.high
        if size is not None:
            return Figure(size, "expected", low=step.low, high=step.high)
    return step.figure if step is not None else None
