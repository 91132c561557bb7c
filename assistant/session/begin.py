"""Beginning a job, and taking one up again."""

from __future__ import annotations

from datetime import datetime

from assistant import __version__
from assistant.jobs.common.next_part import PREVIOUS
from assistant.jobs.jobfile import Head
from assistant.jobs.planning import read_job
from assistant.jobs.steps import FactValue, Ground
from assistant.machine import parse_machine
from assistant.session import events as ev
from assistant.session.decide import Decision
from assistant.session.dial_slots import working_axis
from assistant.session.keeping import as_planned_now
from assistant.session.reply import Instruction
from assistant.session.state import State
from assistant.session.work import Work


def begin(
    job_text: str, job_name: str, machine_text: str, machine_name: str, now: datetime
) -> Decision:
    """The first events of a job.

    Raises `BadFile` or `BadInput` where job and machine can't be planned; nothing is then kept.
    """
    head: Head = read_job(job_text, job_name)[0]
    machine = parse_machine(machine_text, machine_name)
    work = Work(State(), now)
    work.emit(
        ev.JobStarted(
            head.title, job_name, job_text, machine_text, machine_name, __version__, machine
        )
    )
    work.replan("begun")
    work.enter(work.state.plan.steps[0])
    work.say(f"{head.title}.")
    work.instruct()
    return Decision(tuple(work.records), work.state, work.reply())


def resume(state: State, now: datetime) -> Decision:
    """Take a job up again: the machine may have been moved, so nothing is given before the dial
    has been read and it was asked whether anything moved. Where this version of the program plans
    it otherwise than the one before, the job keeps its plan, and that is asked first."""
    work = Work(state, now)
    work.emit(ev.Resumed(now.isoformat(), __version__))
    axis = working_axis(work.state)
    if not work.state.finished:
        as_planned_now(work)
        if not (axis and work.state.axes[axis].zeroed):
            work.say("Where we left off.")
            work.refigure()
        else:
            work.say("Before we go on.")
            work.shake(Ground.PLACE, axis, "resumed")
            work.shake(Ground.HELD, "", "resumed")
            work.refigure()
    work.say(Instruction())
    return Decision(tuple(work.records), work.state, work.reply())


KEPT_FACTS = ("cutter.width", "blade.width", "wire.size", "speed", "feed")
"""What still holds for the next part, and isn't measured again: the same cutter, blade and wires on
the same machine. Every other fact is
handed on as `previous.NAME`: the operation knows what it is still good for."""


def next_part(state: State, now: datetime) -> Decision:
    """Begin the next part in the same setting: a job of its own, that starts from what the last
    one found. The operation says what has to be touched again."""
    head: Head = read_job(state.job_text, state.job_name)[0]
    work = Work(State(), now)
    work.emit(
        ev.JobStarted(
            head.title,
            state.job_name,
            state.job_text,
            state.machine_text,
            state.machine.name,
            __version__,
            state.machine,
        )
    )
    for name, axis in state.axes.items():
        if axis.zeroed:
            work.emit(ev.AxisZeroed(name, axis.came, axis.zero_reading, axis.by))
            work.emit(ev.AxisStands(name, axis.position, axis.came))
            work.emit(ev.FactTold(PREVIOUS + name, axis.position))
    for name, value in state.facts.items():
        if not name.startswith(PREVIOUS):
            work.emit(ev.FactTold(name if name in KEPT_FACTS else PREVIOUS + name, value))
    work.emit(ev.FactTold(f"{PREVIOUS}shaft", _last_shaft(state)))
    work.replan("next part")
    work.enter(work.state.plan.steps[0])
    work.say("Next part, same setting.")
    work.instruct()
    return Decision(tuple(work.records), work.state, work.reply())


def _last_shaft(state: State) -> FactValue:
    measured = state.facts.get("shaft.diameter")
    if measured is not None:
        return measured
    return dict(state.plan.drawing).get("shaft", "not given")
