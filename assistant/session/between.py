"""A size told unasked, between two cuts: who measures after a pass says what is there."""

from __future__ import annotations

from assistant.jobs.steps import Cut, Measure, Move
from assistant.session import telling
from assistant.session.already import next_cut, surface_at_hand, tells_of_it
from assistant.session.cuts import last_cut, told_now, what_is_measured
from assistant.session.reply import Instruction
from assistant.session.row import is_divided
from assistant.session.state import Phase, State
from assistant.session.work import Work
from assistant.spoken import Intent

FIRST_THROUGH = "Is that cut finished? Say that's through first, then the size."
NOTHING_CUT = "Nothing of it is cut here. If it was cut before, say already cut to, and the size."
WHEN_ASKED = "It's cut in several places to one setting: measure it when I ask."


def told_unasked(state: State) -> Measure | None:
    """The measurement that a size would be taken for where none is asked for: of what the next cut
    makes deeper, or the one at hand; None where no size is understood then."""
    if not isinstance(state.step, Move | Cut) or state.phase is not Phase.ACT or state.doubts:
        return None
    return tells_of_it(state.ahead)


def why_not(state: State) -> str:
    """Why a size can't be taken now, in words; '' where it can."""
    if isinstance(state.step, Cut):
        return FIRST_THROUGH
    if last_cut(state, surface_at_hand(state.ahead)) is None:
        return NOTHING_CUT
    cut = next_cut(state.ahead)
    several = cut is not None and (cut.half or cut.alone)
    return WHEN_ASKED if several or is_divided(state.plan) else ""


def measured(work: Work, intent: Intent) -> None:
    """A size that a step or a doubt asks for; else what is there after the last cut: the next one
    starts from it."""
    if work.state.doubts or isinstance(work.state.step, Measure):
        telling.measured(work, intent)
        return
    why = why_not(work.state)
    if why:
        work.say(why, Instruction())
        return
    step = told_unasked(work.state)
    assert step is not None
    what, size = what_is_measured(step), intent.size("size")
    if what:  # nobody asked for it: a size by itself doesn't say what it was taken for
        work.say(f"{what[:1].upper()}{what[1:]}.")
    work.keep_size(step.surface, told_now(work.state, step.surface, step.at_axis, size))
    telling.found_cut(work, step.surface, size, "measured between cuts")
