"""What has been cut, where only a measurement can tell it."""

from __future__ import annotations

from collections.abc import Sequence

from assistant.jobs.steps import IN_ONE_GO, Cut, Measure, Move, Step
from assistant.session.state import State
from assistant.units import Quantity


def depth_measure(state: State) -> Measure | None:
    """The next measurement that tells how deep it is, on the axis by which the cut at hand is set;
    a thread stopped by a gauge has none, nor the first space of a gear."""
    if state.plan is None or not state.step_id:
        return None
    cut = last_cut(state)
    if cut is not None and cut.alone:
        return None
    here = state.plan.index(state.step_id)
    axis = _set_by(state.plan.steps, here) or state.plan.depth_axis
    for step in state.plan.steps[here:]:
        if isinstance(step, Measure) and step.at_axis and step.at_axis == axis:
            return step
    return None


def _set_by(steps: Sequence[Step], here: int) -> str:
    """The axis by which the cut at hand was set, or the first one to come; '' without any."""
    settings = [
        (place, step.axis)
        for place, step in enumerate(steps)
        if isinstance(step, Move) and sets_a_pass(step)
    ]
    before = [axis for place, axis in settings if place <= here]
    return before[-1] if before else (settings[0][1] if settings else "")


def sets_a_pass(move: Move) -> bool:
    """Whether the move sets the depth of a cut."""
    told = (move.depth_after, move.limit, move.leaves_inside)
    return bool(move.pass_number) or any(one is not None for one in told)


def pass_at_hand(state: State) -> tuple[str, int]:
    """The pass that is set next, or being cut: the prefix of its facts, and its number. After the
    last pass of its kind, one more than that."""
    assert state.plan is not None
    measure = depth_measure(state)
    if measure is None:
        return "", 0
    # `wall.size.2` is of the passes of `wall.`, of which there may be none but finishing cuts
    here, last = state.plan.index(state.step_id), (measure.fact.rpartition("size.")[0], 0)
    for place, step in enumerate(state.plan.steps[: state.plan.index(measure.id)]):
        if not isinstance(step, Move) or step.axis != measure.at_axis or not step.pass_fact:
            continue
        prefix = step.pass_fact.rpartition("pass.")[0]
        # a cut at hand is that of the move that set it
        cut = state.plan.steps[place + 1] if place + 1 <= here else None
        if place >= here or (cut is state.step and isinstance(cut, Cut)):
            return prefix, step.pass_number
        last = prefix, step.pass_number + 1
    return last


def bites_afresh(state: State) -> bool:
    """Whether the next cut is the first at its place: nothing was cut there that could be measured
    or come back to."""
    if state.plan is None or not state.step_id or isinstance(state.step, Cut):
        return False
    for step in state.plan.steps[state.plan.index(state.step_id) :]:
        if isinstance(step, Cut) and step.kind not in IN_ONE_GO:
            return bool(step.taken == step.depth)
    return False


def stood_in_the_cut(state: State, axis: str) -> tuple[Quantity, int]:
    """Where the axis stood in the last cut that it set or fed, and the way it came there; where it
    stands now, if there is none. It may have been moved away since: over to a next seat, or clear
    of a shoulder."""
    assert state.plan is not None
    now, step = state.axes[axis], state.step
    if isinstance(step, Cut):
        if step.feed_axis == axis and step.feed_target is not None:
            return step.feed_target, step.feed_approach
        return now.position, now.came
    if axis in state.cut_at:
        return state.cut_at[axis].position, state.cut_at[axis].came
    return _planned_for_the_cut(state, axis) or (now.position, now.came)


def has_cut_with(state: State, axis: str) -> bool:
    """Whether a cut was made that the axis set or fed, or stood in."""
    return axis in state.cut_at or _planned_for_the_cut(state, axis) is not None


def _planned_for_the_cut(state: State, axis: str) -> tuple[Quantity, int] | None:
    """The same from the plan: an axis that was touched again counts from another place since."""
    assert state.plan is not None
    set_to: Move | None = None
    found = None
    for step in state.plan.steps[: state.plan.index(state.step_id) + 1]:
        if isinstance(step, Move) and step.axis == axis and sets_a_pass(step):
            set_to = step
        elif isinstance(step, Cut) and set_to is not None and set_to.target is not None:
            found = set_to.target, set_to.approach
        elif isinstance(step, Cut) and step.feed_axis == axis and step.feed_target is not None:
            found = step.feed_target, step.feed_approach
    return found


def last_cut(state: State) -> Cut | None:
    """The cut at hand, or the last one before; None before the first."""
    assert state.plan is not None
    here = state.plan.index(state.step_id)
    cuts = [step for step in state.plan.steps[: here + 1] if isinstance(step, Cut)]
    return cuts[-1] if cuts else None


def measured_at(state: State, axis: str) -> Quantity:
    """Where the axis stood when what is measured now was cut: where its dial was told to stand,
    even a little beside the plan; but a quarter of a turn off it has been moved away since."""
    assert state.machine is not None
    now: Quantity = state.axes[axis].position
    place, _ = stood_in_the_cut(state, axis)
    return now if abs(now - place) * 4 <= state.machine.axis(axis).per_turn else place


def what_tells(state: State) -> str:
    """What has to be measured, in the words of the step that measures it: `the diameter`, `the
    slot, over the key`."""
    step = depth_measure(state)
    what = step.figure.what if step is not None and step.figure is not None else ""
    what = what.removeprefix("about now, ").removesuffix(", about")
    if not what:
        return "it"
    on_lathe = state.machine is not None and state.machine.kind == "lathe"
    whole = what.startswith(("the ", "across ", "from "))
    return what if whole or on_lathe else f"the slot, {what}"


def what_was_cut(state: State) -> str:
    """What the cutter is brought to again."""
    if state.plan is not None and state.plan.operation == "thread":
        return "the groove"
    on_lathe = state.machine is not None and state.machine.kind == "lathe"
    return "what was turned" if on_lathe else "the floor"


def plausible(step: Measure) -> tuple[Quantity | None, Quantity | None]:
    """Between which a size lies that was cut nobody knows how deep. One that shrinks is not far
    below its limits, so that a depth told for it (`a hundred and forty`) is asked back."""
    low, high = step.low, step.high
    if low is not None:
        low = low * 0 if step.grows or step.band_low is None else step.band_low
    return low, None if high is None else high * 2
