"""What a dial reads: the place is taken from it, and the way on is told from there."""

from __future__ import annotations

from assistant.calc import dial
from assistant.errors import BadInput
from assistant.jobs.steps import Cut, Ground, Move, Touch
from assistant.machine import Axis
from assistant.replacing import replace
from assistant.session import events as ev
from assistant.session.belief import AxisState, DoubtKind
from assistant.session.cuts import past_its_depth, stood_in_the_cut
from assistant.session.dial_slots import dial_limit, working_axis
from assistant.session.doing import at_the_floor, finish_move, finish_touch, through
from assistant.session.instruct import dial_at
from assistant.session.readings import Going, places_from_reading
from assistant.session.reply import Ask, Part, ReadBack, Travel
from assistant.session.state import Phase, Question, State
from assistant.session.work import Work
from assistant.spoken import Intent, Reason, SlotKind
from assistant.units import Quantity, magnitude, quantity, unit_name

_OF_DIALS = (DoubtKind.DIAL, DoubtKind.TURN)


def _axis_of(state: State, intent: Intent) -> str:
    """The axis whose dial was read: the one that was named, else the one in question."""
    said_axis = intent.get("axis")
    doubt = state.doubts[0] if state.doubts else None
    return str(said_axis) if said_axis else (doubt.axis if doubt else working_axis(state))


def _turns_and_dial(wheel: Axis, intent: Intent) -> tuple[int, Quantity]:
    """A dial reading as it was told: whole turns, and what the dial shows after them."""
    reading = intent.size("reading")
    turns = intent.get("turns")
    if isinstance(turns, int):
        return turns, reading
    unit = unit_name(wheel.per_turn)
    whole, part = divmod(magnitude(reading, unit), magnitude(wheel.per_turn, unit))
    return int(whole), quantity(part, unit)


def _heard_back(wheel: Axis, intent: Intent, here: Quantity) -> Part:
    """A reading said back as it was heard: with its turns, where any were told, since a turn too
    many looks the same on the dial."""
    turns, part = _turns_and_dial(wheel, intent)
    return Travel(wheel.name, turns, part) if turns else ReadBack(here, SlotKind.READING)


def out_of_reach(state: State, intent: Intent) -> str:
    """Why turns and dial, as told, are more than this job ever moves the axis; '' where not.

    The band of the reading alone can't tell: the dial's part of it is always on the dial.
    """
    axis = _axis_of(state, intent)
    if intent.name != "dial_reads" or axis not in state.axes:
        return ""
    if not state.belief.near(axis):
        return ""  # moved out of the way by hand, as far as that took
    wheel = state.machine.axis(axis)
    turns, part = _turns_and_dial(wheel, intent)
    limit = dial_limit(state, axis, wheel.per_turn)
    told = wheel.per_turn * turns + part
    return f"{told:~} is outside 0 to {limit:~}" if told > limit else ""


def which_turn(state: State, intent: Intent) -> Question | None:
    """What has to be asked back of a dial reading that may be in either of two turns, or on either
    side of the zero; None where it can be in one alone, or in more than two."""
    if intent.name != "dial_reads" or _at_the_floor(state, _axis_of(state, intent)):
        return None
    try:
        found = _places(state, intent)
    except BadInput:
        return None  # said by `dial_reads`
    if len(found) != 2:
        return None
    axis = _axis_of(state, intent)
    wheel, now = state.machine.axis(axis), state.axes[axis]
    first, second = (_in_full(wheel, now, axis, place) for place in found)
    text = " or ".join(f"{place:~}" for place in found)
    reason = Reason.AMBIGUOUS.value
    return Question(f"{text} from the zero: the dial reads the same", first, reason, "", second)


def _in_full(wheel: Axis, now: AxisState, axis: str, place: Quantity) -> Intent:
    """The reading at a place, with its turns and the side of the zero."""
    turn = magnitude(wheel.per_turn, unit_name(wheel.per_turn))
    at = magnitude(place, unit_name(wheel.per_turn))
    slots = (
        ("reading", dial_at(wheel, now, place)),
        ("axis", axis),
        ("turns", int(abs(at) // turn)),
        ("side", -1 if at < 0 else 1),
    )
    return Intent("dial_reads", slots)


def _places(state: State, intent: Intent) -> tuple[Quantity, ...]:
    """Where the axis may stand: one place, or those that the reading can't tell apart."""
    axis, step = _axis_of(state, intent), state.step
    wheel, now = state.machine.axis(axis), state.axes[axis]
    turns, side = intent.get("turns"), intent.get("side")
    reading, reading_only = intent.size("reading"), state.phase is Phase.READ
    if reading_only and isinstance(step, Touch) and step.keeps and step.near is not None:
        now = replace(now, position=step.near)
    found = places_from_reading(
        wheel,
        now,
        reading,
        turns if isinstance(turns, int) else None,
        going=_going(state, axis),
        side=side if isinstance(side, int) else 0,
        known=state.belief.near(axis),
    )
    if reading_only and isinstance(step, Touch) and not step.keeps:
        return found[:1]  # the zero is to be here, and only what the dial shows matters
    doubt = state.doubts[0] if state.doubts else None
    asked = doubt is not None and doubt.kind is DoubtKind.DIAL and doubt.axis == axis
    # "same turn?" was asked, and it reads what it read
    return (now.position,) if asked and turns is None and now.position in found else found


def _going(state: State, axis: str) -> Going | None:
    """The travel that the step at hand makes on that axis: a move, or a feed that is counted."""
    step = state.step
    if isinstance(step, Cut) and step.feed_axis == axis and step.feed_target is not None:
        return Going(step.feed_target, step.feed_approach)
    # while it is locked and read again it isn't on its way any more
    if isinstance(step, Move) and step.axis == axis and state.phase is Phase.ACT:
        return None if step.target is None else Going(step.target, step.approach)
    return None


def not_there(work: Work, question: Question) -> None:
    """No to the further of two places. Only where the nearer is where the axis was known to stand
    is it known to stand there still: else it has been moved, or the number was misheard. Where it
    was read with its turns already, only the side of the zero is left to ask for."""
    assert question.otherwise is not None
    axis = _axis_of(work.state, question.otherwise)
    asked = any(d.kind is DoubtKind.TURN and d.axis == axis for d in work.state.doubts)
    if asked and _either_side(question):
        work.emit(ev.Asked(replace(question, candidate=question.otherwise, otherwise=None)))
        work.say(Ask())
        return
    work.say("All right.")
    if _places(work.state, question.otherwise)[0] != work.state.axes[axis].position:
        _ask_for_turns(work, axis)
    else:
        work.instruct()


def _either_side(question: Question) -> bool:
    """Whether the two places lie on either side of the zero."""
    one, other = question.candidate, question.otherwise
    return one is not None and other is not None and one.get("side") != other.get("side")


def _ask_for_turns(work: Work, axis: str) -> None:
    """No move is given before the dial was read with its turns."""
    work.shake(Ground.TURN, axis, "which turn")
    work.refigure()
    work.instruct()


def dial_reads(work: Work, intent: Intent) -> None:
    """What a dial reads: takes the place from it, and says how to go on from there."""
    axis = _axis_of(work.state, intent)
    doubt = work.state.doubts[0] if work.state.doubts else None
    wheel = work.state.machine.axis(axis)
    now = work.state.axes[axis]
    step = work.state.step
    if _at_the_floor(work.state, axis):
        _counted_from_the_floor(work, wheel, intent)
        return
    target = step.target if isinstance(step, Move) and step.axis == axis else None
    second = isinstance(step, Touch) and bool(step.keeps) and work.state.phase is Phase.READ
    try:
        position, *others = _places(work.state, intent)
    except BadInput as bad:
        work.say(f"{bad.want.capitalize()}. Read it again.")
        return
    wanted = doubt is not None and doubt.kind is DoubtKind.TURN and doubt.axis == axis
    told = intent.get("turns") is not None or _turns_and_dial(wheel, intent)[0] > 0
    if (others or wanted) and not told:
        first = ("Say no turns, where it's in the first.",) if wanted else ()
        work.say("Which turn?", *first)
        _ask_for_turns(work, axis)
        return
    if isinstance(step, Touch) and second:
        _second_touch(work, step, position, intent)
        return
    if isinstance(step, Touch) and work.state.phase is Phase.READ:
        here = dial_at(wheel, now, position)
        work.say(_heard_back(wheel, intent, here))
        finish_touch(work, step, here)
        return
    by_hand = work.state.belief.lost(axis) is Ground.AWAY
    verifying = work.state.phase is Phase.VERIFY and target is not None
    gone = position - now.position
    came = now.came
    if abs(gone) > wheel.backlash:  # it has come that way, and the slack is taken up
        came = 1 if gone.magnitude > 0 else -1
    work.stands(axis, position, came)
    here = dial_at(wheel, work.state.axes[axis], position)
    in_doubt = doubt is not None and doubt.kind in _OF_DIALS and doubt.axis == axis
    whole = position.magnitude // wheel.per_turn.to(position.units).magnitude
    if in_doubt and whole > 0 and wheel.settable and wheel.rises > 0:
        # a bare reading was taken for the turn it was last on: heard with it, it can be put right
        work.say(Travel(axis, int(whole), here))
    else:
        work.say(_heard_back(wheel, intent, here))
    if in_doubt:
        if not by_hand:  # clear of the work, wherever that is
            _beyond_the_limit(work, axis, position, gone)
        past = isinstance(step, Cut) and past_its_depth(work.state, step, axis, position)
        if past and not work.state.doubts:
            through(work, intent)  # as deep as that: there is nothing to come back to
            return
        work.place()
        work.instruct(short=work.move_step is not None)
        return
    if not isinstance(step, Move) or target is None:
        work.refigure()
        return
    if position == target:
        finish_move(work, step)
        return
    if verifying:
        work.say("It moved. Unlock, set it, lock, and read again.")
        work.enter(step)
    _beyond_the_limit(work, axis, position, gone)
    work.refigure()
    work.instruct(short=True)


def _at_the_floor(state: State, axis: str) -> bool:
    first = state.doubts[0] if state.doubts else None
    return first is not None and (first.kind, first.axis) == (DoubtKind.FLOOR, axis)


def _counted_from_the_floor(work: Work, wheel: Axis, intent: Intent) -> None:
    """The dial as it reads at what was cut, on an axis that was lost and can't be set."""
    _, shown = _turns_and_dial(wheel, intent)
    place, _came = stood_in_the_cut(work.state, wheel.name)
    before: Quantity = place * -1
    reading = dial.reading(before, wheel.per_turn, wheel.rises, shown)
    work.say(ReadBack(shown, SlotKind.READING))
    at_the_floor(work, wheel.name, None if wheel.settable else reading)
    work.place()
    work.instruct(short=work.move_step is not None)


def _beyond_the_limit(work: Work, axis: str, position: Quantity, gone: Quantity) -> None:
    """Past the finished depth only a measurement tells what is left of the work. Where it stood
    before, as in the deeper cut that it comes from, it cut nothing of this one."""
    step = work.state.step
    here = work.state.plan.steps[: work.state.plan.index(work.state.step_id) + 1]
    if not isinstance(step, Move | Cut):
        return
    setter = next((one for one in reversed(here)
                   if isinstance(one, Move) and one.axis == axis and one.deeper), None)  # fmt: skip
    if setter is None or setter.limit is None or setter.surface != step.surface:
        return
    deeper = gone.magnitude * setter.deeper > 0
    if deeper and (position - setter.limit).magnitude * setter.deeper > 0:
        work.shake(Ground.METAL, setter.surface, "past the finished depth")


def _second_touch(work: Work, step: Touch, position: Quantity, intent: Intent) -> None:
    """Where the second of two touches lies, counted from the first."""
    work.stands(step.axis, position, step.toward)
    work.tell(step.keeps, position)
    work.record(step.title, position)
    wheel = work.state.machine.axis(step.axis)
    here = dial_at(wheel, work.state.axes[step.axis], position)
    work.say(_heard_back(wheel, intent, here))
    work.replan(step.title)
    work.advance()
