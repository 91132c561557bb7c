"""A job under way keeps the plan that it has, though another version of the program is at work.

Where that would plan it otherwise, this is said before the first move, and asked: the plan is kept
until something is told that has to be worked in, or the other one is taken, where it goes on from
what is done.
"""

from __future__ import annotations

from assistant.errors import BadFile, BadInput
from assistant.jobs.steps import Ground
from assistant.session import events as ev
from assistant.session.carry import Carry
from assistant.session.state import Differs
from assistant.session.work import Work, plan_now
from assistant.spoken import Intent


def as_planned_now(work: Work) -> None:
    """On taking a job up: the plan as the program at work makes it, before anything is told to
    it. Where only names and words are otherwise it is taken; else the job keeps its own, and that
    is asked, once for the same differences."""
    state = work.state
    try:
        plan = plan_now(state)
    except BadInput as bad:
        field = bad.key if isinstance(bad, BadFile) else bad.field
        _keep(work, Differs((), False, f"{field} {bad.value}: {bad.want}"))
        return
    if plan == state.plan and state.differs is None:
        return
    carry = Carry(state, plan)
    if carry.fits and not carry.changes:
        _take(work, carry)
    else:
        _keep(work, carry.differs)


def _keep(work: Work, differs: Differs) -> None:
    known, asked = work.state.differs, work.state.belief.unsure(Ground.PLAN)
    told = known is not None and not asked and known.why == differs.why
    if told and known is not None and all(one in known.changes for one in differs.changes):
        return
    work.emit(ev.PlanKept(differs))
    work.shake(Ground.PLAN, "", "planned otherwise by this version")


def _take(work: Work, carry: Carry) -> None:
    work.emit(ev.Planned(carry.plan, "as this version plans it", carry.stands_for))
    if work.state.belief.unsure(Ground.PLAN):
        work.find(Ground.PLAN)
    work.place()


def keep_plan(work: Work, intent: Intent) -> None:
    """The job goes on by the plan that it has."""
    work.find(Ground.PLAN)
    work.place()
    work.instruct()


def take_plan(work: Work, intent: Intent) -> None:
    """The plan of the program at work is taken, where it goes on from what is done."""
    differs = work.state.differs
    if differs is None or not differs.fits:
        work.say("The new plan doesn't go on from what is done.", BEGIN_NEW, "Or say yes.")
        return
    _take(work, Carry(work.state, plan_now(work.state)))
    work.instruct()


BEGIN_NEW = "Begin the job new, and say what is already cut."
"""What can be done where this program can't go on with it."""
