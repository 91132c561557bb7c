"""The commands that carry the job on: set, touched, through, clear, checked, skip.

"I'm set" (the handle is where it was told) and "that's through" (the cut is finished) are two
words on purpose: a stray "done" must not lose a pass.
"""

from __future__ import annotations

from assistant.jobs.common.facts import told_sizes
from assistant.jobs.steps import Check, Cut, Ground, Index, Measure, Move, Note, Touch
from assistant.replacing import replace
from assistant.session import events as ev
from assistant.session.belief import CRANK, Doubt, DoubtKind
from assistant.session.cuts import past_its_depth, stands_cut, stood_in_the_cut
from assistant.session.instruct import dial_at
from assistant.session.reply import Say
from assistant.session.state import Phase
from assistant.session.work import Work
from assistant.spoken import Intent
from assistant.units import Quantity


def ready_set(work: Work, intent: Intent) -> None:
    """The handle is where it was told, or the setting is made."""
    step = work.state.step
    if work.state.doubts:
        _found(work, work.state.doubts[0])
    elif isinstance(step, Move) and step.target is not None:
        if work.state.phase is Phase.VERIFY:
            finish_move(work, step)
            return
        work.stands(step.axis, step.target, step.approach)
        if step.verify:
            work.enter(step, Phase.VERIFY)
            work.instruct()
        else:
            finish_move(work, step)
    elif isinstance(step, Move | Note | Check | Index):
        work.advance()


def _found(work: Work, doubt: Doubt) -> None:
    """The axis is where it was asked to be brought: at its touch, or at what was cut."""
    match doubt.kind:
        case DoubtKind.TOUCH:
            touched = work.state.axes[doubt.axis]
            work.stands(doubt.axis, touched.position * 0, touched.came)
        case DoubtKind.FLOOR:
            at_the_floor(work, doubt.axis, work.state.axes[doubt.axis].zero_reading)
        case DoubtKind.CRANK:
            work.find(Ground.COUNT, CRANK)
        case DoubtKind.TOOL:
            work.find(Ground.TOOL)
        case _:
            work.instruct()
            return
    work.go_on()


def at_the_floor(work: Work, axis: str, zero_reading: Quantity | None) -> None:
    """The cutter is at what was cut: there its dial is known again, and so is its zero; and where
    it stands for the size that was measured there, if nobody knew that."""
    place, came = stood_in_the_cut(work.state, axis)
    surface = work.state.doubts[0].surface
    zero(work, axis, came, zero_reading, work.state.axes[axis].by)
    work.stands(axis, place, came)
    for one in told_sizes(work.state.facts, surface)[-1:]:
        if one.at is None:
            work.emit(
                ev.SizeTold(surface, one.number, one.size, place, one.cuts, one.begun, one.half)
            )  # fmt: skip
            work.replan("found at what was cut")


def finish_move(work: Work, step: Move) -> None:
    """The axis stands at the step's target: zero it where the step says so, and go on."""
    if step.zero_after:
        by = work.state.axes[step.axis].by
        zero(work, step.axis, step.approach, _reading_here(work, step.axis), by)
    work.advance()


def _reading_here(work: Work, axis: str) -> Quantity | None:
    """What a dial that can't be set reads where the axis stands; None for one that can."""
    wheel, now = work.state.machine.axis(axis), work.state.axes[axis]
    return None if wheel.settable else dial_at(wheel, now, now.position)


def zero(
    work: Work, axis: str, came: int, reading: Quantity | None, by: tuple[Ground, ...]
) -> None:
    """Give the axis its zero here; `reading` is what a dial that can't be set reads here."""
    work.emit(ev.AxisZeroed(axis, came, reading, by))


def touched(work: Work, intent: Intent) -> None:
    """The cutter, feeler or edge finder touches."""
    step = work.state.step
    if work.state.doubts:
        ready_set(work, intent)
        return
    assert isinstance(step, Touch)
    if step.paper_fact and work.state.phase is not Phase.PAPER:
        work.say(*(Say(text) for text in step.found))
        work.enter(step, Phase.PAPER)
        work.instruct()
        return
    if work.state.phase is not Phase.ACT:
        work.instruct()
        return
    finish_touch(work, step)


def finish_touch(work: Work, step: Touch, reading: Quantity | None = None) -> None:
    """All is told about the touch: the axis has its zero there, and the job goes on.

    A dial that can't be set to zero has to be read first: its reading is then the zero. The
    second of two touches is read too, and keeps the zero of the first.
    """
    if reading is None and (step.keeps or not work.state.machine.axis(step.axis).settable):
        work.enter(step, Phase.READ)
        work.instruct()
        return
    if step.id in work.state.confirmed:
        _moved_out_of_the_way(work, step)
    zero(work, step.axis, step.toward, reading, step.by)
    if reading is None:
        work.say(f"Zero the {step.axis}.")
    _counted_from_the_cut(work, step)
    work.replan(step.title)
    work.advance()


def _counted_from_the_cut(work: Work, step: Touch) -> None:
    """Where what is touched is cut away, it was touched on what was cut before the job came to it:
    that has its size at the zero, however often it is touched anew."""
    if step.stays or step.keeps:
        return
    for surface in stands_cut(work.state, step.axis):
        last = told_sizes(work.state.facts, surface)[-1]
        work.keep_size(surface, replace(last, at=work.state.axes[step.axis].position))


def _moved_out_of_the_way(work: Work, step: Touch) -> None:
    """For a touch in the middle of the job the axis that sets the depth, and one that is fed by its
    dial, were moved out of its way: they have to be read. The others stay locked."""
    ahead = work.state.ahead
    for axis in ahead.used:
        now = work.state.axes[axis]
        if axis != step.axis and ahead.goes_clear(axis) and now.zeroed:
            work.shake(Ground.AWAY, axis, "moved out of the way of a touch")


def clear(work: Work, intent: Intent) -> None:
    """A free move is made: the cutter is off the work."""
    work.advance()


def through(work: Work, intent: Intent) -> None:
    """The cut is finished."""
    step = work.state.step
    assert isinstance(step, Cut)
    here = work.state.axes.get(step.feed_axis)
    past = here is not None and past_its_depth(work.state, step, step.feed_axis, here.position)
    if step.feed_target is not None:
        if not past:
            work.stands(step.feed_axis, step.feed_target, step.feed_approach)
        if step.feed_returns:
            work.stands(step.feed_axis, step.feed_target * 0, -step.feed_approach)
    work.record("pass", f"{step.kind} pass {step.number} of {step.of}")
    work.advance()


def next_division(work: Work, intent: Intent) -> None:
    """On to the next division: what was to be done at this one is done."""
    if isinstance(work.state.step, Cut):
        through(work, intent)
    else:
        ready_set(work, intent)


def checked(work: Work, intent: Intent) -> None:
    """A check, a note or a verification is confirmed."""
    if isinstance(work.state.step, Measure):
        even(work, intent)
        return
    ready_set(work, intent)


def skip(work: Work, intent: Intent) -> None:
    """The step is consciously left out; a skipped check stands in the record."""
    step = work.state.step
    assert step is not None
    work.record("skipped", step.title)
    if isinstance(step, Check):
        work.say("Skipped. It's in the record.")
    if isinstance(step, Measure):
        work.tell(step.fact, "skipped")
        work.replan(f"{step.title} skipped", needed=False)
    work.advance(left_out=True)


def even(work: Work, intent: Intent) -> None:
    """The witness mark, or both walls, are even: nothing to correct."""
    step = work.state.step
    assert isinstance(step, Measure)
    _told(work, step, "yes" if step.kind == "gauge" else "even")


def gauge_fails(work: Work) -> None:
    """The gauge was tried, and the answer is no: what that means is the operation's to plan."""
    step = work.state.step
    assert isinstance(step, Measure)
    _told(work, step, "no")


def _told(work: Work, step: Measure, word: str) -> None:
    work.tell(step.fact, word)
    work.record(step.title, word)
    work.replan(step.title, needed=word == "no")  # yes, or even, is what a plan foresees
    work.advance()
