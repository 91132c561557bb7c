"""`reduce(state, event) -> state`: folds what happened into where the operator is.

It only places results; it never works anything out, so a journal replays to the same state
whatever became of the formulas and files since.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal
from functools import singledispatch
from types import MappingProxyType
from typing import Any, Literal

from assistant.errors import BadFile, JournalError
from assistant.jobs.common.facts import ToldSize, size_told
from assistant.jobs.steps import Cut
from assistant.machine import Machine, machine_once_taken
from assistant.replacing import replace
from assistant.session import events as ev
from assistant.session.belief import AxisState, Belief
from assistant.session.state import Phase, State, Told

UNDO_DEPTH = 50
"""Commands that can be taken back one after another; older ones are only in the journal."""


def with_entry(mapping: Mapping[str, Any], key: str, value: Any) -> Mapping[str, Any]:
    """A read-only copy of `mapping` with one entry set, or taken away where `value` is None."""
    changed = dict(mapping)
    if value is None:
        changed.pop(key, None)
    else:
        changed[key] = value
    return MappingProxyType(changed)


def reduce(state: State, record: ev.Record) -> State:
    """The state after one record of the journal.

    Raises `TypeError` for an event that has no rule here: silently skipping one would lose the
    place in the job.
    """
    if isinstance(record.event, ev.Undone):
        return _undo(state, record)
    if isinstance(record.event, ev.Commanded) and record.event.undoable:
        before = _with(state, "undoable", ())
        earlier = (*state.undoable[-UNDO_DEPTH + 1 :], (record.command, before))
        state = _with(state, "undoable", earlier)
    state = _with(state, "seq", record.seq)
    if isinstance(record.event, ev.Shaken) and record.command not in dict(state.undoable):
        # by taking a command back or by resuming: taking back one more command doesn't settle it
        state = _with(state, "undoable", tuple(_shaken_before(state, record.event)))
    return fold(record.event, state)


def replay(records: Iterable[ev.Record]) -> State:
    """The state after all records."""
    state = State()
    for record in records:
        state = reduce(state, record)
    return state


def _with(state: State, name: Literal["seq", "undoable"], value: object) -> State:
    """`state` with one field set, for what every record sets: `replace` runs the constructor over
    all fields, which for a long journal comes to more time than all the rest of folding. What the
    state has worked out of itself is kept with it: none of that depends on these two."""
    copy = object.__new__(State)
    vars(copy).update(vars(state))
    vars(copy)[name] = value
    return copy


def _undo(state: State, record: ev.Record) -> State:
    assert isinstance(record.event, ev.Undone)
    target = record.event.seq
    for place, (seq, before) in enumerate(state.undoable):
        if seq == target:
            return replace(
                before,
                question=None,
                undoable=state.undoable[:place],
                seq=record.seq,
                # how the operator likes to be spoken to isn't part of the job
                rate=state.rate,
                volume=state.volume,
                theme=state.theme,
                unit=state.unit,
                cautioned=state.cautioned,
                # nor is what the program at work would plan
                differs=before.differs or state.differs,
                belief=before.belief.back_from(state.belief),
            )
    raise ValueError(f"command {target} can't be taken back: it is not among the last {UNDO_DEPTH}")


def _shaken_before(state: State, event: ev.Shaken) -> Iterable[tuple[int, State]]:
    """The earlier states, each with that ground shaken, and without the number it withholds."""
    for seq, before in state.undoable:
        shaken = before.belief.shake(event.ground, event.name, state.seq)
        yield seq, replace(before, belief=shaken, figure=None)


@singledispatch
def fold(event: ev.Event, state: State) -> State:
    """The state after one event, by the event's type."""
    raise TypeError(f"no rule folds {type(event).__name__} into the state")


@fold.register
def _(event: ev.JobStarted, state: State) -> State:
    machine = event.machine or _machine_then(event)
    axes = {name: AxisState(position=axis.per_turn * 0) for name, axis in machine.axes.items()}
    return replace(
        state,
        machine=machine,
        job_text=event.job_text,
        machine_text=event.machine_text,
        job_name=event.job_name,
        belief=Belief(axes=MappingProxyType(axes)),
    )


def _machine_then(event: ev.JobStarted) -> Machine:
    """The machine of a job that was begun before the journal kept it but as its text."""
    try:
        return machine_once_taken(event.machine_text, event.machine_name)
    except BadFile as bad:
        raise JournalError(f"the machine that the journal keeps can't be read: {bad}") from bad


@fold.register
def _(event: ev.Planned, state: State) -> State:
    unit = state.unit if state.at_work else event.plan.unit
    planned = replace(state, plan=event.plan, unit=unit, differs=None)
    return _going_on(planned, event.stands_for) if event.stands_for else planned


def _going_on(state: State, stands_for: tuple[tuple[str, str], ...]) -> State:
    """What is done, and the place, by the steps of another version's plan. What was said before
    can't be taken back: the steps it was about are gone."""
    here = next((new for new, old in stands_for if old == state.step_id), state.step_id)
    done, left_out = (
        MappingProxyType({new: was[old] for new, old in stands_for if old in was})
        for was in (state.confirmed, state.skipped)
    )
    return replace(state, confirmed=done, skipped=left_out, step_id=here, undoable=())


@fold.register
def _(event: ev.PlanKept, state: State) -> State:
    return replace(state, differs=event.differs)


@fold.register
def _(event: ev.Commanded, state: State) -> State:
    if not event.undoable:
        return replace(state, stopped=False, waiting=False)
    return replace(
        state, last_words=event.words, last_intent=event.intent, stopped=False, waiting=False
    )


@fold.register
def _(event: ev.StepEntered, state: State) -> State:
    stood = state.stood if event.step_id == state.step_id else state.axes
    return replace(state, step_id=event.step_id, phase=event.phase, stood=stood)


@fold.register
def _(event: ev.Instructed, state: State) -> State:
    return replace(state, figure=event.figure)


@fold.register
def _(event: ev.Confirmed, state: State) -> State:
    if event.skipped:
        skipped = with_entry(state.skipped, event.step_id, state.seq)
        confirmed = with_entry(state.confirmed, event.step_id, None)
        return replace(state, skipped=skipped, confirmed=confirmed)
    step = state.plan.step(event.step_id)
    belief = state.belief.cut() if isinstance(step, Cut) else state.belief
    for ground in step.anew:
        belief = belief.shake(ground, "", state.seq - 1)
    confirmed = with_entry(state.confirmed, event.step_id, state.seq)
    skipped = with_entry(state.skipped, event.step_id, None)
    return replace(state, confirmed=confirmed, skipped=skipped, belief=belief)


@fold.register
def _(event: ev.Cautioned, state: State) -> State:
    return replace(state, cautioned=state.cautioned | set(event.wordings))


@fold.register
def _(event: ev.AxisZeroed, state: State) -> State:
    zero = state.belief.zero
    return replace(
        state, belief=zero(event.axis, event.came, event.zero_reading, event.by, state.seq)
    )


@fold.register
def _(event: ev.AxisStands, state: State) -> State:
    stand = state.belief.stand
    return replace(state, belief=stand(event.axis, event.position, event.came, state.seq))


@fold.register
def _(event: ev.Shaken, state: State) -> State:
    return replace(state, belief=state.belief.shake(event.ground, event.name, state.seq))


@fold.register
def _(event: ev.Found, state: State) -> State:
    return replace(state, belief=state.belief.find(event.ground, event.name, state.seq))


@fold.register
def _(event: ev.SizeTold, state: State) -> State:
    told = ToldSize(event.number, event.size, event.at, event.cuts, event.begun, event.half)
    facts = MappingProxyType({**state.facts, **size_told(event.surface, told)})
    return replace(
        state, facts=facts, belief=state.belief.measure(event.surface, event.number, state.seq)
    )


@fold.register
def _(event: ev.Withheld, state: State) -> State:
    times = state.held_back.get(state.step_id, 0) + 1
    return replace(state, figure=None, held_back=with_entry(state.held_back, state.step_id, times))


@fold.register
def _(event: ev.Superseded, state: State) -> State:
    return state


@fold.register
def _(event: ev.FactTold, state: State) -> State:
    return replace(state, facts=with_entry(state.facts, event.name, event.value))


@fold.register
def _(event: ev.Recorded, state: State) -> State:
    told = Told(event.name, event.value, event.step_id, event.at)
    return replace(state, told=(*state.told, told))


@fold.register
def _(event: ev.Asked, state: State) -> State:
    return replace(state, question=event.question)


@fold.register
def _(event: ev.Answered, state: State) -> State:
    return replace(state, question=None)


@fold.register
def _(event: ev.Adjusted, state: State) -> State:
    match event.name:
        case "listening":
            return replace(state, listening=event.value == "yes")
        case "volume":
            return replace(state, volume=Decimal(event.value))
        case "rate":
            return replace(state, rate=int(event.value))
        case "unit":
            return replace(state, unit=event.value)
        case "theme":
            return replace(state, theme=event.value)
    raise ValueError(f"no setting {event.name!r}")


@fold.register
def _(event: ev.StopSaid, state: State) -> State:
    return replace(state, stopped=True, question=None)


@fold.register
def _(event: ev.HangOnSaid, state: State) -> State:
    return replace(state, waiting=True)


@fold.register
def _(event: ev.Resumed, state: State) -> State:
    # a day later, or somebody else: what is said once a job is said once more
    return replace(
        state, question=None, stopped=False, waiting=False, listening=True, cautioned=frozenset()
    )


@fold.register
def _(event: ev.JobFinished, state: State) -> State:
    return replace(state, finished=True, phase=Phase.ACT)
