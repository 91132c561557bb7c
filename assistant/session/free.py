"""Free moves from within a job: the job stands meanwhile, and keeps its place.

Whichever axis is moved or zeroed there stands nobody knows where for the job, from before the first
such move is said: however the free moves end, the job asks for that dial before its next number.
Axes that weren't touched stay as they were.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from assistant.jobs.steps import Ground, Touch
from assistant.session import events as ev
from assistant.session.decide import Decision
from assistant.session.state import Phase, State
from assistant.session.work import Work
from assistant.spoken import Intent

WORDS = "free moves"


def moved(state: State, axes: Iterable[str], now: datetime) -> Decision:
    """These axes are moved away by free moves, as far as that takes: those that the job gave a
    zero are to be read with their turns, and one that just touched has to touch again. Taking back
    a command of the job doesn't settle it."""
    work = Work(state, now)
    work.emit(ev.Commanded(WORDS, Intent("free_moves"), 1.0, "", undoable=False))
    for axis in sorted(axes):
        if state.axes[axis].zeroed:
            work.shake(Ground.AWAY, axis, WORDS)
    step = state.step
    if isinstance(step, Touch) and step.axis in axes and state.phase is not Phase.ACT:
        work.enter(step)
    work.refigure()
    return Decision(tuple(work.records), work.state, work.reply())


def back(state: State, axes: Iterable[str], now: datetime) -> Decision:
    """The job goes on from where it stood: what has to be read is asked first. Of `axes`, those
    that were moved, the job can't ask for one that it gave no zero."""
    work = Work(state, now)
    work.place()
    work.say("Back to the job.")
    for axis in sorted(axes):
        if not state.axes[axis].zeroed:
            work.say(f"The {axis} was moved: bring it back as it was.")
    work.instruct()
    return Decision(tuple(work.records), work.state, work.reply())
