"""What is done with an answer that the guard holds back: it is not given, and what would show it to
be harmless is asked for."""

from __future__ import annotations

from datetime import datetime

from assistant.jobs.steps import Ground, SurfaceKey
from assistant.session import events as ev
from assistant.session.decide import Decision
from assistant.session.left_out import LEAVE_OUT
from assistant.session.reply import Ask
from assistant.session.state import Question
from assistant.session.work import Work
from assistant.spoken import Intent, Reason

TRIED = 2
"""So often what would show a step to be harmless is asked for. Then what was told can't be put
right by telling it, and the way on is without that cut."""


def withhold(decision: Decision, why: str, axis: str, surface: str, now: datetime) -> Decision:
    """The decision with its answer held back; the record says why.

    `axis` is the one in question, `surface` what it would cut: that is measured, or the axis read
    with its turns, before a number is given.
    """
    work = Work(decision.state, now, after=decision.records)
    work.emit(ev.Withheld(why))
    work.record("held back", why)
    times = work.state.held_back[work.state.step_id]
    if times > TRIED and times % 2:  # after a no, what can be told is asked for again
        work.say(f"I can't give this one: {why}.")
        candidate = Intent(LEAVE_OUT)
        work.emit(ev.Asked(Question(why, candidate, Reason.CONTRADICTS.value, "leave it out")))
        work.say(Ask())
        return Decision((*decision.records, *work.records), work.state, work.reply())
    if surface:
        work.shake(Ground.METAL, SurfaceKey(surface), why)
    if axis and work.state.axes[axis].zeroed:
        work.shake(Ground.TURN, axis, why)
    work.say(f"I hold that back: {why}.")
    work.place()
    work.instruct()
    return Decision((*decision.records, *work.records), work.state, work.reply())
