"""What is asked while something is in doubt."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.jobs.steps import Cut, Touch
from assistant.machine import WAYS
from assistant.present.numbers import number_words
from assistant.session.belief import Doubt, DoubtKind
from assistant.session.cuts import anything_cut, stood_in_the_cut, what_is_measured
from assistant.session.instruct import dial_at, places_of
from assistant.session.state import Change, How, State
from assistant.spoken import Figure


def doubt_text(doubt: Doubt, state: State) -> str:
    """The doubt as a short request, in shop words."""
    axis = doubt.axis or "dial"
    match doubt.kind:
        case DoubtKind.PLAN:
            return " ".join([*_planned_otherwise(state), "Keep the plan it has? Yes or no."])
        case DoubtKind.PIECE:
            return "Is every piece of it out of the work? Yes or no."
        case DoubtKind.DIAL:
            return f"Read me the {axis} dial. Same turn?" if doubt.axis else "Read me the dial."
        case DoubtKind.TURN:
            return f"Read me the {axis} dial, with its whole turns from zero."
        case DoubtKind.METAL:
            return f"Spindle off. Measure {_what_tells(doubt, state)}, and tell me."
        case DoubtKind.LOOK:
            return "Spindle off. Look at what was cut. Is there metal left to come off?"
        case DoubtKind.FLOOR:
            return _at_what_was_cut(doubt, state)
        case DoubtKind.MOVED:
            return "Anything moved, unclamped or bumped?"
        case DoubtKind.TOUCH:
            # past zero and back to it the way it was touched, so that the backlash is taken up
            came = _touched_going(state, axis)
            if axis not in WAYS or not came:
                return f"Back to the touch. Touch off the {axis} again."
            come, away = WAYS[axis] if came > 0 else WAYS[axis][::-1]
            return f"Back to the touch: {axis} {away} past zero, {come} to zero. Count again."
        case DoubtKind.TOOL:
            return f"{state.plan.new_tool} Then say I'm set."
        case DoubtKind.CRANK:
            if not anything_cut(state):
                return "Nothing is divided yet. Pin in any hole, slack taken up. Say I'm set."
            return "Back to the last one cut: cutter in it, pin in. Then say I'm set."


TOLD_CHANGES = 2
"""As many are told one by one; of the others, how many there are."""


def _planned_otherwise(state: State) -> Iterator[str]:
    """How the program at work would plan the job, in few words."""
    differs = state.differs
    if differs is None:
        return
    if differs.why:
        yield f"This version can't plan this job: {differs.why}."
        return
    yield "This version plans it otherwise."
    yield from (_change(one) for one in differs.changes[:TOLD_CHANGES])
    more = len(differs.changes) - TOLD_CHANGES
    if more > 0:
        yield f"And {more} more."
    if not differs.fits:
        yield "That doesn't go on from what is done."


def _change(change: Change) -> str:
    """`Set pass 3: one twenty-two, was one thirty.`"""
    was, now = change.was, change.now
    if was is not None and now is not None:
        what = f"{now.what} " if now.what else ""
        return f"{change.step}: {what}{number_words(now)}, was {number_words(was)}."
    figure = now or was
    number = f", {number_words(figure)}" if figure is not None else ""
    return f"{change.step}{number}: {_HOW[change.how]}."


_HOW = {How.NEW: "new", How.GONE: "no more", How.OTHERWISE: "otherwise"}


def _what_tells(doubt: Doubt, state: State) -> str:
    """What has to be measured, in the words of the step that measures it: `the diameter`."""
    return what_is_measured(state.ahead.measure_of(doubt.surface)) or "it"


def _at_what_was_cut(doubt: Doubt, state: State) -> str:
    """Where the cutter is brought to, and what its dial is set to there, or read."""
    wheel, now = state.machine.axis(doubt.axis), state.axes[doubt.axis]
    come = f"Come to {_what_was_cut(doubt, state)}, just touching."
    if not wheel.settable:
        return f"{come} What does the {wheel.name} dial read there?"
    place, _ = stood_in_the_cut(state, doubt.axis)
    reading = Figure(dial_at(wheel, now, place), "", places_of(wheel.graduation))
    return f"{come} Set the {wheel.name} dial to {number_words(reading)} there. Say I'm set."


def _what_was_cut(doubt: Doubt, state: State) -> str:
    cuts = (s for s in state.plan.steps if isinstance(s, Cut) and s.surface == doubt.surface)
    first = next(cuts, None)
    return first.made if first is not None else "what was cut"


def _touched_going(state: State, axis: str) -> int:
    """+1 or -1: the way the axis went when it was touched off; moves since don't matter."""
    here = state.plan.index(state.step_id) if state.step_id else 0
    steps = state.plan.steps[: here + 1]
    touches = [s.toward for s in steps if isinstance(s, Touch) and s.axis == axis]
    if touches:
        return touches[-1]
    return state.axes[axis].came if axis in state.axes else 0
