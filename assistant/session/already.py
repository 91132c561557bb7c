"""What stands cut when a job comes to it: a job begun elsewhere, a half cut slot.

It is told as the size that its surface has, before the first cut of it here. That is a measurement
like any other, but that no dial stood anywhere for it: the next pass is the first that is deeper.
"""

from __future__ import annotations

from itertools import takewhile

from assistant.jobs.steps import NO_SURFACE, Cut, Measure, SurfaceKey, Touch
from assistant.session.cuts import counted_by, last_cut, told_now, what_is_measured
from assistant.session.next import Ahead
from assistant.session.reply import Instruction
from assistant.session.row import is_divided
from assistant.session.state import State
from assistant.session.telling import found_cut
from assistant.session.work import Work
from assistant.spoken import Intent
from assistant.units import Quantity

UNMEASURED = "What comes next isn't cut to a size that is measured. Tell me when I ask."
BEING_CUT = "A cut of it is made here. Say measured, and the size."
PLACES = "That is cut in several places to one setting: begin with none of them cut."
TRACED = "Its groove has to be picked up: depth alone doesn't find it. Begin with none of it cut."


def next_cut(ahead: Ahead) -> Cut | None:
    """The next cut that isn't made; None after the last."""
    steps = ahead.plan.steps
    coming = (steps[place] for place in ahead.plan.cuts if place >= ahead.undone)
    return next((step for step in coming if isinstance(step, Cut)), None)


def surface_at_hand(ahead: Ahead) -> SurfaceKey:
    """What the next cut makes deeper; none where it is of no surface, and after the last."""
    cut = next_cut(ahead)
    return NO_SURFACE if cut is None else cut.surface


def tells_of_it(ahead: Ahead) -> Measure | None:
    """The measurement by which the surface at hand would be told; None where none is, or where it
    says nothing of a depth."""
    step = ahead.measure_of(surface_at_hand(ahead))
    return step if step is not None and step.slope and step.at_none is not None else None


def in_several_places(state: State, cut: Cut) -> bool:
    """Whether a cut is one of several to one setting: one size tells of none of them."""
    return cut.half or cut.alone or is_divided(state.plan)


def why_not(state: State) -> str:
    """Why nothing can stand cut already, in words; '' where it can."""
    ahead = state.ahead
    cut = next_cut(ahead)
    if cut is None or tells_of_it(ahead) is None:
        return UNMEASURED
    if last_cut(state, cut.surface) is not None:
        return BEING_CUT
    if in_several_places(state, cut):
        return PLACES
    return TRACED if cut.traced else ""


def touch_comes(ahead: Ahead, axis: str) -> bool:
    """Whether an axis is touched before the next cut: it wasn't yet, or its zero is lost."""
    if ahead.belief.zero_lost(axis):
        return True
    row = ahead.plan.steps[ahead.undone :]
    coming = takewhile(lambda step: not isinstance(step, Cut), row)
    return any(isinstance(one, Touch) and one.axis == axis and not one.keeps for one in coming)


def counted_on_it(state: State) -> bool:
    """Whether what stands cut would be counted from a touch that is made already."""
    ahead = state.ahead
    axis = counted_by(state, surface_at_hand(ahead))
    if not axis or why_not(state) or touch_comes(ahead, axis):
        return False
    return state.axes[axis].zeroed


def already_cut(work: Work, intent: Intent) -> None:
    """What is to be cut was cut before, as far as to that size: the passes go on from there."""
    why = why_not(work.state)
    if why:
        work.say(why, Instruction())
        return
    ahead = work.state.ahead
    surface, step = surface_at_hand(ahead), tells_of_it(ahead)
    # no dial stood anywhere for it; a touch on it gives it its place
    take(work, step, surface, "", intent.size("size"), "already cut")


def take(
    work: Work, step: Measure | None, surface: SurfaceKey, axis: str, size: Quantity, why: str
) -> None:
    """Keep a size that nobody asked for, and go on from it; `axis` counts it, '' where none does.
    Said first is what it was taken for: a size by itself doesn't say."""
    what = what_is_measured(step)
    if what:
        work.say(f"{what[:1].upper()}{what[1:]}.")
    work.keep_size(surface, told_now(work.state, surface, axis, size))
    found_cut(work, surface, size, why)
