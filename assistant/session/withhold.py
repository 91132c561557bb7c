"""What is done with an answer that the guard holds back: it is not given, and what would show it to
be harmless is asked for."""

from __future__ import annotations

from datetime import datetime

from assistant.jobs.steps import Ground, SurfaceKey
from assistant.session import events as ev
from assistant.session.decide import Decision
from assistant.session.work import Work


def withhold(decision: Decision, why: str, axis: str, surface: str, now: datetime) -> Decision:
    """The decision with its answer held back; the record says why.

    `axis` is the one in question, `surface` what it would cut: that is measured, or the axis read
    with its turns, before a number is given.
    """
    work = Work(decision.state, now, after=decision.records)
    work.emit(ev.Withheld(why))
    work.record("held back", why)
    if surface:
        work.shake(Ground.METAL, SurfaceKey(surface), why)
    if axis and work.state.axes[axis].zeroed:
        work.shake(Ground.TURN, axis, why)
    work.say(f"I hold that back: {why}.")
    work.place()
    work.instruct()
    return Decision((*decision.records, *work.records), work.state, work.reply())
