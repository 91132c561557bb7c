"""To leave the finishing pass out: only where the limits don't need it, and then by a measurement.

A size inside its limits ends a surface by itself, so nothing is taken out of the plan here: where
the size that is foreseen lies inside, it is asked for, and decides.
"""

from __future__ import annotations

from assistant.jobs.common.facts import told_sizes
from assistant.jobs.steps import Cut, Ground, Measure
from assistant.session import events as ev
from assistant.session.cuts import last_cut, measured_since
from assistant.session.reply import Ask, Verdict
from assistant.session.state import Question, State
from assistant.session.telling import as_said
from assistant.session.work import Work
from assistant.spoken import Intent, Reason
from assistant.spoken.limits import Standing
from assistant.units import Quantity

FINISHING = "finishing"


def skip_finishing(work: Work, intent: Intent) -> None:
    """Refused where the limits need the pass; else asked with the size that it leaves."""
    state = work.state
    cut = _to_come(state)
    if cut is None:
        work.say("No finishing pass is to come.")
        return
    if intent.get("size") is not None:  # the answer to the question below was yes
        work.shake(Ground.METAL, cut.surface, "finishing pass left out")
        work.place()
        work.instruct()
        return
    if cut.id == state.step_id:
        work.say("You're in it now. Finish it.")
        return
    step, size = state.ahead.measure_of(cut.surface), _leaves(state, cut)
    if step is not None and size is not None:
        size = as_said(size, step, state.unit)
    if step is None or step.kind != "size":
        work.say("Nothing is measured before it, so it has to be cut.")
    elif size is None:
        work.say("Nothing tells what it would leave. It has to be cut.")
    elif not _does_without(step, size, state.unit):
        work.say(Verdict(size, step.limits), "The limits need the finishing pass.")
    elif _before(state, cut) is not None:
        work.say("It may do without. Ask me when the roughing is done.")
    else:
        candidate = Intent(intent.name, (("size", size),))
        work.emit(ev.Asked(Question("it stays so", candidate, Reason.CONTRADICTS.value)))
        work.say(Ask())


def _to_come(state: State) -> Cut | None:
    """The next finishing cut that isn't made."""
    for place in state.plan.cuts:
        step = state.plan.steps[place]
        if isinstance(step, Cut) and step.kind == FINISHING and step.id not in state.done:
            return step
    return None


def _before(state: State, cut: Cut) -> Cut | None:
    """The last cut that is still to come before that one, of the same surface."""
    earlier = state.plan.steps[: state.plan.index(cut.id)]
    same = [one for one in earlier if isinstance(one, Cut) and one.surface == cut.surface]
    return next((one for one in reversed(same) if one.id not in state.done), None)


def _leaves(state: State, cut: Cut) -> Quantity | None:
    """The size as it is before that cut: as measured where nothing else comes before it, else as
    the last cut before it should leave it."""
    before = _before(state, cut)
    if before is not None:
        return before.leaves
    last, told = last_cut(state, cut.surface), told_sizes(state.facts, cut.surface)
    if told and (last is None or measured_since(state, last)):
        return told[-1].size
    return None if last is None else last.leaves


def _does_without(step: Measure, size: Quantity, unit: str) -> bool:
    """Whether that size is inside the limits; without limits nothing else needs the pass."""
    return step.limits.standing(size, unit) is not Standing.SHORT
