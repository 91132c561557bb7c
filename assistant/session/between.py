"""A size told unasked, between two cuts: who measures after a pass says what is there."""

from __future__ import annotations

from assistant.jobs.steps import Cut, Measure, Move
from assistant.session import telling
from assistant.session.already import (
    in_several_places,
    next_cut,
    surface_at_hand,
    take,
    tells_of_it,
)
from assistant.session.cuts import last_cut
from assistant.session.reply import Instruction
from assistant.session.state import Phase, State
from assistant.session.work import Work
from assistant.spoken import Intent

FIRST_THROUGH = "Is that cut finished? Say that's through first, then the size."
NOTHING_CUT = "Nothing of it is cut here. If it was cut before, say already cut to, and the size."
WHEN_ASKED = "It's cut in several places to one setting: measure it when I ask."


def told_unasked(state: State) -> Measure | None:
    """The measurement that a size would be taken for where none is asked for: of what the next cut
    makes deeper, or the one at hand; None where no size is understood then."""
    return tells_of_it(state.ahead) if may_be_told(state) else None


def may_be_told(state: State) -> bool:
    """Whether the operator stands before a cut, or in one, and nothing is asked."""
    acting = state.phase is Phase.ACT and not state.doubts
    return acting and isinstance(state.step, Move | Cut)


def why_not(state: State) -> str:
    """Why a size can't be taken now, in words; '' where it can."""
    if isinstance(state.step, Cut):
        return FIRST_THROUGH
    if last_cut(state, surface_at_hand(state.ahead)) is None:
        return NOTHING_CUT
    cut = next_cut(state.ahead)
    return WHEN_ASKED if cut is not None and in_several_places(state, cut) else ""


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
    take(work, step, step.surface, step.at_axis, intent.size("size"), "measured between cuts")
