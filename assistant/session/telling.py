"""The commands that tell a value: paper, measurements, dial readings, the operator's choices."""

from __future__ import annotations

from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal

from assistant.errors import BadInput
from assistant.jobs.steps import Cut, Measure, Move, Touch
from assistant.machine import Axis
from assistant.session import events as ev
from assistant.session.doing import finish_move, finish_touch
from assistant.session.instruct import dial_at
from assistant.session.readings import position_from_reading
from assistant.session.reply import Answer, Part, ReadBack, Travel, Verdict
from assistant.session.state import Doubt, DoubtKind, Phase, State
from assistant.session.work import Work
from assistant.spoken import Figure, Intent, SlotKind
from assistant.units import Quantity, magnitude, quantity, unit_name


def paper(work: Work, intent: Intent) -> None:
    """The thickness of the paper or feeler at the touch."""
    thickness = intent.size("size")
    if not thickness.magnitude:
        work.say("Bare.")  # a size that was misheard as none has to be heard back as well
    _paper_is(work, thickness)


def bare(work: Work, intent: Intent) -> None:
    """The touch was on bare metal."""
    step = work.state.step
    assert isinstance(step, Touch)
    nothing = step.paper_expected * 0 if step.paper_expected is not None else None
    assert nothing is not None
    _paper_is(work, nothing)


def _paper_is(work: Work, thickness: Quantity) -> None:
    step = work.state.step
    assert isinstance(step, Touch)
    work.tell(step.paper_fact, thickness)
    work.record(f"paper at {step.surface}", thickness)
    work.replan("paper told")
    if thickness.magnitude:
        work.say(ReadBack(thickness))
    # the plan just worked out may zero at the paper or after coming up by it
    assert work.state.plan is not None
    told = work.state.plan.step(step.id)
    assert isinstance(told, Touch)
    finish_touch(work, told)


def measured(work: Work, intent: Intent) -> None:
    """A measurement: takes its fact, re-plans what depends on it, says how it stands."""
    size = intent.size("size")
    if work.state.doubts and work.state.doubts[0].kind is DoubtKind.METAL:
        _measured_in_doubt(work, size)
        return
    step = work.state.step
    assert isinstance(step, Measure)
    _take_measurement(work, step, size)


def over_under(work: Work, intent: Intent) -> None:
    """A measurement told as a difference from nominal: "two over", "bang on"."""
    step = work.state.step
    assert isinstance(step, Measure)
    size = nominal_as_said(step) + intent.size("deviation").to(str(nominal_as_said(step).units))
    _take_measurement(work, step, size)


def nominal_as_said(step: Measure) -> Quantity:
    """The nominal size as it was said and shown: a difference is counted from that."""
    assert step.nominal is not None
    return as_said(step.nominal, step)


def as_said(size: Quantity, step: Measure) -> Quantity:
    """A size in the places in which the step says and shows its own."""
    if step.figure is None:
        return size
    unit = unit_name(step.figure.value)
    finest = Decimal(1).scaleb(-step.figure.places)
    return quantity(magnitude(size, unit).quantize(finest, ROUND_HALF_UP), unit)


def _take_measurement(work: Work, step: Measure, size: Quantity) -> None:
    work.tell(step.fact, size)
    if step.at_axis:
        work.tell(f"{step.fact}.at", work.state.axes[step.at_axis].position)
    work.record(step.title, size)
    work.replan(step.title)
    if step.low is None and step.high is None:
        work.say(ReadBack(size))
    else:
        places = step.figure.places if step.figure is not None else None
        work.say(Verdict(size, step.low, step.high, places, step.grows, step.too_far))
        if step.at_axis and _is_in(work.state, step, size):
            work.say("That's in.")
    work.advance(short_on=step.at_axis)


def _is_in(state: State, step: Measure, size: Quantity) -> bool:
    """Whether nothing more comes off, and not too much did, as the limits are shown."""
    assert state.plan is not None
    here = state.plan.index(step.id)
    cuts = [cut for cut in state.plan.steps[:here] if isinstance(cut, Cut)]
    following = next((cut for cut in state.plan.steps[here:] if isinstance(cut, Cut)), None)
    if following is not None and cuts and following.number > cuts[-1].number:
        return False
    shown = as_said(size, step)
    low, high = (None if one is None else as_said(one, step) for one in (step.low, step.high))
    return (low is None or shown >= low) and (high is None or shown <= high)


def _measured_in_doubt(work: Work, size: Quantity) -> None:
    """What was cut is known again: the passes to come start from this measurement."""
    doubt = work.state.doubts[0]
    axis = doubt.axis or (work.state.plan.depth_axis if work.state.plan else "")
    prefix, number = _pass_at_hand(work.state)
    work.tell(f"{prefix}check.size", size)
    work.tell(f"{prefix}check.pass", quantity(number, "dimensionless"))
    if axis:
        work.tell(f"{prefix}check.size.at", work.state.axes[axis].position)
    work.record("measured in doubt", size)
    work.say(ReadBack(size))
    work.replan("measured in doubt")
    work.settle(doubt)
    if axis and not work.state.axes[axis].known:
        _back_to_what_was_cut(work, axis)
    work.instruct(short=work.move_step is not None)


def _back_to_what_was_cut(work: Work, axis: str) -> None:
    """The count or the zero was lost: what was cut is a surface to find them again by, since it
    is known where the axis stood when it was cut."""
    assert work.state.machine is not None
    wheel, now = work.state.machine.axis(axis), work.state.axes[axis]
    reading = dial_at(wheel, now, now.position)
    lathe = work.state.machine.kind == "lathe"
    work.say(f"Come to {'what was turned' if lathe else 'the floor'}, just touching.")
    work.say(Answer(Figure(reading, f"on the {axis} dial there"), unit_name(reading)))
    if wheel.settable:
        work.say("If it isn't, set the dial so.")
    work.stands(axis, now.position, now.came)


def _pass_at_hand(state: State) -> tuple[str, int]:
    """The pass that is set next, or being cut: the prefix of its facts, and its number."""
    assert state.plan is not None
    here = state.plan.index(state.step_id)
    if isinstance(state.step, Cut):
        here -= 1  # the move that set it
    for step in state.plan.steps[here:]:
        if isinstance(step, Move) and step.pass_fact:
            return step.pass_fact.rpartition("pass.")[0], step.pass_number
    return "", 0


def left_wall(work: Work, intent: Intent) -> None:
    """From the left side of the shaft to the near wall."""
    _wall(work, "left", intent.size("size"))


def right_wall(work: Work, intent: Intent) -> None:
    """From the right side of the shaft to the near wall."""
    _wall(work, "right", intent.size("size"))


def _wall(work: Work, side: str, size: Quantity) -> None:
    step = work.state.step
    assert isinstance(step, Measure)
    work.tell(f"{step.fact}.{side}", size)
    work.record(f"{side} wall", size)
    work.say(ReadBack(size))
    other = "right" if side == "left" else "left"
    if f"{step.fact}.{other}" not in work.state.facts:
        work.refigure()
        work.say(f"And the {step.sides[1 if other == 'right' else 0]}?")
        return
    work.replan(step.title)
    work.advance()


def _axis_of(state: State, intent: Intent) -> str:
    """The axis whose dial was read: the one that was named, else the one in question."""
    from assistant.session.allowed import working_axis

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
    from assistant.session.allowed import dial_limit

    axis = _axis_of(state, intent)
    if intent.name != "dial_reads" or state.machine is None or axis not in state.axes:
        return ""
    wheel = state.machine.axis(axis)
    turns, part = _turns_and_dial(wheel, intent)
    limit = dial_limit(state, axis, wheel.per_turn)
    told = wheel.per_turn * turns + part
    return f"{told:~} is outside 0 to {limit:~}" if told > limit else ""


def dial_reads(work: Work, intent: Intent) -> None:
    """What a dial reads: takes the place from it, and says how to go on from there."""
    axis = _axis_of(work.state, intent)
    doubt = work.state.doubts[0] if work.state.doubts else None
    assert work.state.machine is not None
    wheel = work.state.machine.axis(axis)
    now = work.state.axes[axis]
    step = work.state.step
    target = step.target if isinstance(step, Move) and step.axis == axis else None
    second = isinstance(step, Touch) and bool(step.keeps) and work.state.phase is Phase.READ
    if isinstance(step, Touch) and second and step.near is not None:
        target = step.near
        now = replace(now, position=step.near)
    turns = intent.get("turns")
    try:
        position = position_from_reading(
            wheel,
            now,
            intent.size("reading"),
            turns if isinstance(turns, int) else None,
            0 if target is None else (1 if target.magnitude > 0 else -1),
        )
    except BadInput as bad:
        work.say(f"{bad.want.capitalize()}. Read it again.")
        return
    if isinstance(step, Touch) and second:
        _second_touch(work, step, position, intent)
        return
    if isinstance(step, Touch) and work.state.phase is Phase.READ:
        here = dial_at(wheel, now, position)
        work.say(_heard_back(wheel, intent, here))
        finish_touch(work, step, here)
        return
    verifying = work.state.phase is Phase.VERIFY and target is not None
    came = now.came
    work.stands(axis, position, came)
    here = dial_at(wheel, work.state.axes[axis], position)
    in_doubt = doubt is not None and doubt.kind is DoubtKind.DIAL and doubt.axis == axis
    whole = position.magnitude // wheel.per_turn.to(position.units).magnitude
    if in_doubt and whole > 0 and wheel.settable and wheel.rises > 0:
        # a bare reading was taken for the turn it was last on: heard with it, it can be put right
        work.say(Travel(axis, int(whole), here))
    else:
        work.say(_heard_back(wheel, intent, here))
    if doubt is not None and in_doubt:
        work.settle(doubt)
        _beyond_the_limit(work, position)
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
    _beyond_the_limit(work, position)
    work.refigure()
    work.instruct(short=True)


def _beyond_the_limit(work: Work, position: Quantity) -> None:
    """Past the finished depth only a measurement tells what is left of the work."""
    step = work.state.step
    if not isinstance(step, Move) or step.limit is None:
        return
    if (position - step.limit).magnitude * step.approach > 0:
        work.doubt(Doubt(DoubtKind.METAL, step.axis), "past the finished depth")


def _second_touch(work: Work, step: Touch, position: Quantity, intent: Intent) -> None:
    """Where the second of two touches lies, counted from the first."""
    assert work.state.machine is not None
    work.stands(step.axis, position, step.toward)
    work.tell(step.keeps, position)
    work.record(step.title, position)
    wheel = work.state.machine.axis(step.axis)
    here = dial_at(wheel, work.state.axes[step.axis], position)
    work.say(_heard_back(wheel, intent, here))
    work.replan(step.title)
    work.advance()


def cut_this_pass(work: Work, intent: Intent) -> None:
    """The operator takes another depth of cut: the passes after it are worked out again."""
    step = work.state.step
    assert isinstance(step, Move)
    taken = intent.size("size")
    work.tell(step.pass_fact, taken)
    work.record(f"depth of cut chosen, pass {step.pass_number}", taken)
    work.say(ReadBack(taken))
    work.replan("depth of cut chosen")
    assert work.state.plan is not None
    work.enter(work.state.plan.step(step.id))
    work.instruct()


def speed_is(work: Work, intent: Intent) -> None:
    """The operator runs another speed: what depends on it is worked out again."""
    _choice(work, "speed", intent.size("rate"))


def feed_is(work: Work, intent: Intent) -> None:
    """The operator runs another feed."""
    _choice(work, "feed", intent.size("rate"))


def _choice(work: Work, name: str, value: Quantity) -> None:
    before = work.state.figure
    work.tell(name, value)
    work.record(f"{name} chosen", value)
    work.say(ReadBack(value, SlotKind.RATE))
    work.replan(f"{name} chosen")
    work.refigure()
    assert work.state.plan is not None
    step = work.state.step
    if step is not None and getattr(step, "setting", "") == name:
        work.advance()
    elif work.state.figure != before:
        work.instruct()


def note(work: Work, intent: Intent) -> None:
    """A note for the record."""
    work.emit(ev.Recorded("note", str(intent["text"]), work.state.step_id, work.now.isoformat()))
    work.say("Noted.")
