"""The commands that tell a value: paper, measurements, the operator's choices."""

from __future__ import annotations

from assistant.jobs.steps import NO_SURFACE, Cut, Ground, Measure, Move, SurfaceKey, Touch
from assistant.session import events as ev
from assistant.session.against import cut_unknown
from assistant.session.cuts import measured_at, told_now
from assistant.session.doing import finish_touch
from assistant.session.reply import ReadBack, Verdict
from assistant.session.work import Work
from assistant.spoken import Intent, SlotKind
from assistant.spoken.limits import Standing
from assistant.spoken.rounding import as_shown
from assistant.units import Quantity, is_quantity


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
    told = work.state.plan.step(step.id)
    assert isinstance(told, Touch)
    finish_touch(work, told)


def measured(work: Work, intent: Intent) -> None:
    """A measurement: takes its fact, re-plans what depends on it, says how it stands."""
    size = intent.size("size")
    if work.state.doubts:
        _measured_in_doubt(work, work.state.doubts[0].surface, size)
        return
    step = work.state.step
    assert isinstance(step, Measure)
    _take_measurement(work, step, size)


def over_under(work: Work, intent: Intent) -> None:
    """A measurement told as a difference from nominal: "two over", "bang on"."""
    step = work.state.step
    assert isinstance(step, Measure)
    size = nominal_as_said(step, work.state.unit)
    size = size + intent.size("deviation").to(str(size.units))
    _take_measurement(work, step, size)


def nominal_as_said(step: Measure, unit: str) -> Quantity:
    """The nominal size as it was said and shown: a difference is counted from that."""
    assert step.nominal is not None
    return as_said(step.nominal, step, unit)


def as_said(size: Quantity, step: Measure, unit: str) -> Quantity:
    """A size in the unit of the session and the places in which the step says and shows its own."""
    if step.figure is None:
        return size
    return as_shown(size, step.figure, unit)


def _take_measurement(work: Work, step: Measure, size: Quantity) -> None:
    if step.surface != NO_SURFACE:
        _tell_size(work, step.surface, step.at_axis, size)
    else:
        work.tell(step.fact, size)
        _tell_where(work, step)
    work.record(step.title, size)
    work.replan(step.title, needed=not _as_foreseen(work, step, size))
    _say_how_it_lies(work, step, size)
    work.advance(short_on=step.at_axis)


def _tell_where(work: Work, step: Measure) -> None:
    """Where the axis stood when what was measured was cut, where that is known."""
    at = measured_at(work.state, step.at_axis)
    if at is not None:
        work.tell(f"{step.fact}.at", at)


def _as_foreseen(work: Work, step: Measure, size: Quantity) -> bool:
    """Whether a size is what the plan takes for granted: as it foresees it, or inside the limits
    where no cut of it is to come."""
    if step.nominal is not None and size == nominal_as_said(step, work.state.unit):
        return True
    rest = work.state.plan.steps[work.state.plan.index(step.id) :]
    to_cut = any(isinstance(one, Cut) and one.surface == step.surface for one in rest)
    has_limits = step.low is not None or step.high is not None
    is_in = has_limits and step.limits.standing(size, work.state.unit) is Standing.IN
    return is_in and not to_cut


def _tell_size(work: Work, surface: SurfaceKey, axis: str, size: Quantity) -> None:
    work.keep_size(surface, told_now(work.state, surface, axis, size))


def _say_how_it_lies(work: Work, step: Measure, size: Quantity) -> None:
    """Read back, or against its limits; that it is in where nothing more comes off."""
    if step.low is None and step.high is None:
        work.say(ReadBack(size))
        return
    work.say(Verdict(size, step.limits))
    if step.surface != NO_SURFACE and step.limits.standing(size, work.state.unit) is Standing.IN:
        work.say("That's in.")


def _measured_in_doubt(work: Work, surface: SurfaceKey, size: Quantity) -> None:
    """What was cut is known again; where no cut is known that did it, and nobody knows where its
    axis stood, its zero is worth nothing: as where something stands cut when a job comes to it."""
    axis = work.state.ahead.setter_of(surface)
    if axis and measured_at(work.state, axis) is None and cut_unknown(work.state, surface, size):
        work.shake(Ground.DIAL, axis, "cut where nobody knows")
    _tell_size(work, surface, axis, size)
    found_cut(work, surface, size, "measured in doubt")


def found_cut(work: Work, surface: SurfaceKey, size: Quantity, why: str) -> None:
    """What is still to come of a surface starts from the size that was kept of it."""
    measure = work.state.ahead.measure_of(surface)
    work.record(why, size)
    work.replan(why)
    if measure is not None:
        _say_how_it_lies(work, measure, size)
    else:
        work.say(ReadBack(size))
    following = work.state.ahead.step()
    if following is not None and following.id != work.state.step_id:
        work.enter(following)
    work.refigure()
    work.instruct(short=work.move_step is not None and not work.move_step.say)


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
    if not _add_up(work, step):
        return
    _tell_where(work, step)
    work.replan(step.title)
    work.advance()


def _add_up(work: Work, step: Measure) -> bool:
    """Whether both walls can be true together; if not, both are asked for again."""
    one, other = (work.state.facts[f"{step.fact}.{side}"] for side in ("left", "right"))
    assert is_quantity(one)
    assert is_quantity(other)
    low, high = step.sum_low, step.sum_high
    if low is None or high is None or low <= one + other <= high:
        return True
    work.tell(f"{step.fact}.left", None)
    work.tell(f"{step.fact}.right", None)
    work.refigure()
    way = "more" if one + other > high else "less"
    work.say(f"Those two are {way} than shaft and cutter leave. Measure both again.")
    work.say(f"The {step.sides[0]}?")
    return False


def cut_this_pass(work: Work, intent: Intent) -> None:
    """The operator takes another depth of cut: the passes after it are worked out again."""
    step = work.state.step
    assert isinstance(step, Move)
    taken = intent.size("size")
    work.tell(step.pass_fact, taken)
    work.record(f"depth of cut chosen, pass {step.pass_number}", taken)
    work.say(ReadBack(taken))
    work.replan("depth of cut chosen")
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
    work.replan(f"{name} chosen", needed=False)
    work.refigure()
    step = work.state.step
    if step is not None and getattr(step, "setting", "") == name:
        work.advance()
    elif work.state.figure != before:
        work.instruct()


def note(work: Work, intent: Intent) -> None:
    """A note for the record."""
    work.emit(ev.Recorded("note", str(intent["text"]), work.state.step_id, work.now.isoformat()))
    work.say("Noted.")
