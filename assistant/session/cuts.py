"""What was cut and where the axes stood, read from the plan and from what was told."""

from __future__ import annotations

from assistant.jobs.common.facts import ToldSize, told_sizes
from assistant.jobs.steps import NO_SURFACE, Cut, Measure, Move, Overrun, SurfaceKey
from assistant.session.state import State
from assistant.units import Quantity


def stood_in_the_cut(state: State, axis: str) -> tuple[Quantity, int]:
    """Where the axis stood in the last cut that it set or fed, and the way it came there; where it
    stands now, if there is none. It may have been moved away since: over to a next seat, or clear
    of a shoulder."""
    now, step = state.axes[axis], state.step
    if isinstance(step, Cut):
        if step.feed_axis == axis and step.feed_target is not None:
            return step.feed_target, step.feed_approach
        return now.position, now.came
    if axis in state.belief.cut_at:
        return state.belief.cut_at[axis].position, state.belief.cut_at[axis].came
    return _planned_for_the_cut(state, axis) or (now.position, now.came)


def _planned_for_the_cut(state: State, axis: str) -> tuple[Quantity, int] | None:
    """The same from the plan: an axis that was touched again counts from another place since."""
    set_to: Move | None = None
    found = None
    for step in state.plan.steps[: state.plan.index(state.step_id) + 1]:
        if isinstance(step, Move) and step.axis == axis and step.surface != NO_SURFACE:
            set_to = step
        elif isinstance(step, Cut) and set_to is not None and set_to.target is not None:
            found = set_to.target, set_to.approach
        elif isinstance(step, Cut) and step.feed_axis == axis and step.feed_target is not None:
            found = step.feed_target, step.feed_approach
    return found


def measured_at(state: State, axis: str) -> Quantity | None:
    """Where the axis stood when what is measured now was cut: where its dial was told to stand,
    even a little beside the plan; but a quarter of a turn off it has been moved away since. None
    where nobody knows."""
    if not axis or (state.belief.lost(axis) is not None and axis not in state.belief.cut_at):
        return None
    now: Quantity = state.axes[axis].position
    place, _ = stood_in_the_cut(state, axis)
    near = abs(now - place) * 4 <= state.machine.axis(axis).per_turn
    return now if near and state.belief.lost(axis) is None else place


def past_its_depth(state: State, cut: Cut, axis: str, position: Quantity) -> bool:
    """Whether a cut that is fed to its depth by that axis is deeper than it was meant to be."""
    deep = cut.overrun in (Overrun.DEPTH, Overrun.HOLE)
    plunged = deep and cut.feed_axis == axis == state.plan.depth_axis
    if not plunged or cut.feed_target is None:
        return False
    return bool((position - cut.feed_target).magnitude * cut.feed_approach > 0)


def last_cut(state: State, surface: SurfaceKey) -> Cut | None:
    """The last cut of a surface that is done; None before the first."""
    done = [
        step
        for step in state.plan.steps
        if isinstance(step, Cut) and step.surface == surface and step.id in state.confirmed
    ]
    return max(done, key=lambda cut: state.confirmed[cut.id], default=None)


def anything_cut(state: State) -> bool:
    """Whether any cut of the job is made."""
    return any(state.plan.steps[place].id in state.confirmed for place in state.plan.cuts)


def stands_cut(state: State, axis: str) -> tuple[SurfaceKey, ...]:
    """What the axis sets that was cut before the job came to it, and not here yet: it is told by
    its size alone."""
    return tuple(
        surface
        for surface, times in state.belief.sizes.items()
        if times and counted_by(state, surface) == axis and last_cut(state, surface) is None
    )


def counted_by(state: State, surface: SurfaceKey) -> str:
    """The axis whose dial counts what is measured of a surface, also where no move of it is to
    come; '' where none does."""
    step = state.ahead.measure_of(surface)
    return step.at_axis if step is not None else ""


def measured_since(state: State, cut: Cut) -> bool:
    """Whether the surface of a cut that is done was measured after it."""
    return state.belief.measured.get(cut.surface, 0) > state.confirmed[cut.id]


def being_cut(state: State, surface: SurfaceKey) -> Cut | None:
    """The cut at hand, where it is of that surface."""
    step = state.step
    return step if isinstance(step, Cut) and step.surface == surface else None


def told_now(state: State, surface: SurfaceKey, axis: str, size: Quantity) -> ToldSize:
    """A measurement of a surface as it is told now: what was cut by then, and at which reading."""
    last, begun = last_cut(state, surface), being_cut(state, surface)
    newest = begun or last
    return ToldSize(
        len(told_sizes(state.facts, surface)) + 1,
        size,
        measured_at(state, axis),
        last.number if last is not None else 0,
        begun is not None and (last is None or begun.number > last.number),
        newest.taken if newest is not None and newest.half else None,
    )


def what_is_measured(step: Measure | None) -> str:
    """What a measurement is of, in words: `the diameter`; empty where it isn't said."""
    what = step.figure.what if step is not None and step.figure is not None else ""
    return what.removeprefix("about now, ").removesuffix(", about")


def plausible(step: Measure) -> tuple[Quantity | None, Quantity | None]:
    """Between which a size lies that was cut nobody knows how deep: from as it was before any cut
    to a little past its last limit."""
    low, high = step.band_low, step.band_high
    if step.at_none is None or low is None or high is None:
        return low, high
    slack = (high - low) / 4
    return min(low, step.at_none - slack), max(high, step.at_none + slack)
