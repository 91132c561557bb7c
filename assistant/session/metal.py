"""What has been cut, where only a measurement can tell it."""

from __future__ import annotations

from assistant.jobs.steps import Measure
from assistant.session.state import State
from assistant.units import Quantity


def depth_measure(state: State) -> Measure | None:
    """The next measurement that tells how deep it is; a thread stopped by a gauge has none."""
    if state.plan is None or not state.step_id:
        return None
    for step in state.plan.steps[state.plan.index(state.step_id) :]:
        if isinstance(step, Measure) and step.at_axis:
            return step
    return None


def what_tells(state: State) -> str:
    """What has to be measured, in the words of the step that measures it: `the diameter`, `the
    slot, over the key`."""
    step = depth_measure(state)
    what = step.figure.what if step is not None and step.figure is not None else ""
    what = what.removeprefix("about now, ").removesuffix(", about")
    if not what:
        return "it"
    on_lathe = state.machine is not None and state.machine.kind == "lathe"
    return what if what.startswith("the ") or on_lathe else f"the slot, {what}"


def plausible(step: Measure) -> tuple[Quantity | None, Quantity | None]:
    """Between which a size lies that was cut nobody knows how deep. One that shrinks is not far
    below its limits, so that a depth told for it (`a hundred and forty`) is asked back."""
    low, high = step.low, step.high
    if low is not None:
        low = low * 0 if step.grows or step.band_low is None else step.band_low
    return low, None if high is None else high * 2
