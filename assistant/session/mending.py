"""Mistakes and interruptions: what to do when the place is lost, by the trade's own rules.

No command here can restore metal or a dial. Each withholds moves until what is in doubt has
been read, measured or touched again.
"""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType

from assistant.calc.dial import split
from assistant.errors import BadInput
from assistant.jobs.steps import IN_ONE_GO, Cut, Measure, Move, Touch
from assistant.session import events as ev
from assistant.session import retouch
from assistant.session.allowed import working_axis
from assistant.session.metal import bites_afresh, depth_measure
from assistant.session.reply import Instruction
from assistant.session.state import Doubt, DoubtKind, Phase, State
from assistant.session.work import Work
from assistant.spoken import Intent
from assistant.units import magnitude


def stop(work: Work, intent: Intent) -> None:
    """Say that the operator has to stop the machine, then silence; nothing is asked."""
    work.emit(ev.StopSaid())
    work.say("Hit your stop button. I can't.")


def went_past(work: Work, intent: Intent) -> None:
    """The handle went too far: in the air come back round, in the cut measure."""
    step = work.state.step
    if isinstance(step, Cut):
        work.say("Past it in the cut: stop the feed, spindle off, and measure.")
        work.doubt(Doubt(DoubtKind.METAL, _depth_axis(work.state)), "went past in the cut")
        work.instruct()
        return
    if isinstance(step, Move) and step.target is not None:
        # past the target, so the next travel comes from the other side of the backlash
        axis = step.axis
        assert work.state.machine is not None
        locked = work.state.phase is Phase.VERIFY
        past = work.state.machine.axis(axis).graduation
        if intent.get("size") is not None:
            past = intent.size("size").to(past.units)
        beyond = step.target + past * step.approach
        work.stands(axis, beyond, step.approach)
        work.enter(step)
        work.say("Unlock it, back off, and come again." if locked
                 else "In the air: back off, and come again.")  # fmt: skip
        work.instruct(short=True)
        return
    work.say("Back off, and come again.", Instruction())


def lost_count(work: Work, intent: Intent) -> None:
    """The turns were lost: back to the touch and count again; in depth, measure."""
    step = work.state.step
    if isinstance(step, Cut) and step.kind == "tapping" and not work.state.doubts:
        # the turns of the tap, not of a wheel
        work.say("Back it right out, chips out. Count again from where it bites.")
        return
    axis = _zeroed_axis(work.state)
    if not axis:
        work.say("No count to lose yet.", Instruction())
        return
    _settle_dial(work, axis)
    if _in_metal(work.state, axis):
        work.emit(ev.AxisLost(axis, "count lost"))
        work.say("I'll work from the size.")
        work.doubt(Doubt(DoubtKind.METAL, axis), "count lost in depth")
        work.instruct()
        return
    if _surface_gone(work.state, axis):
        work.emit(ev.AxisLost(axis, "count lost"))
        work.come_back_to_the_cut(axis)
        work.instruct()
        return
    work.emit(ev.AxisLost(axis, "count lost"))
    work.doubt(Doubt(DoubtKind.TOUCH, axis), "count lost")
    work.instruct()


def _settle_dial(work: Work, axis: str) -> None:
    """A dial that can't be relied on needn't be read any more."""
    for kind in (DoubtKind.DIAL, DoubtKind.TURN):
        if Doubt(kind, axis) in work.state.doubts:
            work.settle(Doubt(kind, axis))


def _zeroed_axis(state: State) -> str:
    """The axis that "the count" means: only one that was zeroed has any."""
    axis = working_axis(state)
    return axis if axis and state.axes[axis].zeroed else ""


def dial_slipped(work: Work, intent: Intent) -> None:
    """A dial slipped or was bumped: its zero is worth nothing; touch again, or measure."""
    axis = _zeroed_axis(work.state)
    if not axis:
        work.say("No zero to lose yet.", Instruction())
        return
    _settle_dial(work, axis)
    work.emit(ev.AxisLost(axis, "dial slipped"))
    if _in_metal(work.state, axis):
        work.say("The zero is gone. Don't touch the dial.")
        work.doubt(Doubt(DoubtKind.METAL, axis), "dial slipped in depth")
        work.instruct()
        return
    if _surface_gone(work.state, axis):
        work.say("The zero is gone.")
        work.come_back_to_the_cut(axis)
        work.instruct()
        return
    fresh = _has_cut(work.state) and bites_afresh(work.state)
    if axis == _depth_axis(work.state) and (isinstance(work.state.step, Cut) or fresh):
        # what was cut before is as it is: the place in the pattern is kept
        work.say("The zero is gone. Touch it again here, zero it, and say I'm set.")
        work.doubt(Doubt(DoubtKind.TOUCH, axis), "dial slipped where nothing is cut")
        return
    _touch_again(work, axis)


def moved(work: Work, intent: Intent) -> None:
    """The work, a clamp or an axis moved: every zero is worth nothing."""
    for doubt in work.state.doubts:
        work.settle(doubt)
    assert work.state.plan is not None
    here = work.state.plan.index(work.state.step_id)
    first = next((s for s in _touches(work.state) if work.state.plan.index(s.id) <= here), None)
    if first is None:
        work.say("Nothing touched yet.")
        work.instruct()
        return
    if isinstance(work.state.step, Cut):
        work.say("Stop the feed. Spindle off.")
    for name, axis in work.state.axes.items():
        if axis.zeroed:
            work.emit(ev.AxisLost(name, "something moved"))
    work.say("Then we touch again.")
    _walk_the_touches(work, first.id)
    work.instruct()


def nothing_moved(work: Work, intent: Intent) -> None:
    """Nothing was moved while the job stood."""
    doubt = next((d for d in work.state.doubts if d.kind is DoubtKind.MOVED), None)
    if doubt is not None:
        work.settle(doubt)
    work.instruct()


_WHAT_CHATTERS = MappingProxyType(
    {
        "lathe": "the work, the tool's overhang and the gibs",
        "vertical mill": "the work, the holder and the gibs",
        "drill press": "the clamps, the quill and the drill's edges",
        "": "the work, the arbor and the gibs",
    }
)
"""What to look at, by the kind of machine."""


def chatter(work: Work, intent: Intent) -> None:
    """Chatter: back out and look; a speed down, the feed kept up."""
    assert work.state.machine is not None
    work.say(f"Back out. Check {_WHAT_CHATTERS.get(work.state.machine.kind, _WHAT_CHATTERS[''])}.")
    assert work.state.plan is not None
    speed = work.state.plan.result("speed")
    if speed is None:
        return
    lower = [s for s in work.state.machine.speeds if s < speed.value]
    if not lower:
        work.say("You're on the lowest speed. Keep the feed up.")
        return
    work.tell("speed", lower[-1])
    work.record("speed after chatter", lower[-1])
    work.replan("chatter")
    work.refigure()
    work.say(f"Down a speed, to {magnitude(lower[-1], 'rpm').normalize():f}. Keep the feed up.")


def new_cutter(work: Work, intent: Intent) -> None:
    """Another cutter: its width is tried in scrap, then what was touched is touched again."""
    size = intent.get("size")
    work.record("new cutter", "fitted")
    assert work.state.plan is not None
    assert work.state.machine is not None
    own_touch = _in_one_go(work.state)
    if work.state.machine.kind == "lathe":
        work.say("New tool: set it on centre. Then touch again.")
    elif own_touch:
        work.say("New tool: touch its point again.")
    else:
        work.say("Try its width in scrap first. Then touch both again.")
    if size is not None:
        work.tell("cutter.width", intent.size("size"))
        work.replan("new cutter")
    plan = work.state.plan
    widths = [s for s in plan.steps if isinstance(s, Measure) and s.fact == "cutter.width"]
    back = widths if widths and size is None else _touches(work.state)
    done = [step for step in back if plan.index(step.id) < plan.index(work.state.step_id)]
    if done:
        # every tool of a hole has a touch of its own; else the first touch comes first
        _walk_the_touches(work, done[-1 if own_touch else 0].id)
    work.instruct()


def _walk_the_touches(work: Work, first: str) -> None:
    """From that step on all is touched again. In the middle of cutting what was cut is left, and
    the depth is come back to from a measurement: the surface that it was touched on is gone."""
    if retouch.possible(work.state):
        deep = _depth_axis(work.state)
        back_to = retouch.was_at(work.state)
        then = replace(work.state, step_id=back_to)
        in_metal = _in_metal(then, deep) or _surface_gone(then, deep)
        if in_metal:
            work.emit(ev.AxisLost(deep, "touched again in depth"))
        zeroed = [name for name, axis in work.state.axes.items() if axis.zeroed]
        axes = tuple(name for name in zeroed if not (in_metal and name == deep))
        work.emit(ev.Retouching(axes, back_to, anew=True))
        if deep in axes:
            work.say("Touch for the depth where nothing is cut.")
        touches = [one.id for one in _touches(work.state) if one.axis in axes]
        if touches and first in {one.id for one in _touches(work.state)}:
            first = touches[0]
    work.go_back_to(first)


def undo(work: Work, intent: Intent) -> None:
    """Take back the last command: the word, not the metal and not the dial."""
    if work.state.question is not None:
        work.emit(ev.Answered(None))
        work.say("All right.", Instruction())
        return
    before = work.before
    if not before.undoable:
        work.say("Nothing to take back.", Instruction())
        return
    seq, target = before.undoable[-1]
    cut_since = len(_cuts_done(before)) > len(_cuts_done(target))
    moved_since = [
        name for name, axis in before.axes.items() if axis.position != target.axes[name].position
    ]
    dials_since = before.axes != target.axes
    work.emit(ev.Undone(seq))
    work.say(f"Taken back: {before.last_words}." if before.last_words else "Taken back.")
    if cut_since:
        work.say("I can take back the word, not the metal.")
    measure = depth_measure(work.state)
    if cut_since and measure is not None and not _in_one_go(work.state):
        work.doubt(Doubt(DoubtKind.METAL, measure.at_axis), "undone after a cut")
    for name in moved_since if cut_since else ():
        # a feed may have gone all the way, or not: nobody can tell from the reading alone
        if work.state.axes[name].zeroed:
            work.doubt(Doubt(DoubtKind.TURN, name), "undone after a feed")
    axis = working_axis(work.state)
    on_the_move = dials_since or isinstance(work.state.step, Move)
    if not cut_since and axis and work.state.axes[axis].zeroed and on_the_move:
        assert work.state.machine is not None
        wheel = work.state.machine.axis(axis)
        travel = before.axes[axis].position - work.state.axes[axis].position
        gone = split(travel, wheel.per_turn, wheel.graduation)
        # after whole turns it reads what it read before
        kind = DoubtKind.TURN if gone.turns and not gone.part else DoubtKind.DIAL
        work.doubt(Doubt(kind, axis), "undone after a move")
    work.instruct()


def _touch_again(work: Work, axis: str) -> None:
    assert work.state.plan is not None
    here = work.state.plan.index(work.state.step_id) if work.state.step_id else 0
    same = [step for step in _touches(work.state) if step.axis == axis]
    # the last one before here: every tool of a hole has a touch of its own
    before = [step for step in same if work.state.plan.index(step.id) <= here]
    if not before:
        raise BadInput("axis", axis, "has no touch in this job; start the job again")
    again = before[-1]
    work.say("The zero is gone. Touch again.")
    if _in_one_go(work.state):
        # by another tool than the one that is in, which has a touch of its own then
        _walk_the_touches(work, again.id)
        work.instruct()
        return
    if retouch.possible(work.state):
        axes = tuple(dict.fromkeys((*work.state.retouching, axis)))
        back_to = retouch.was_at(work.state)
        work.emit(ev.Retouching(axes, back_to, anew=work.state.setting_up))
        again = next(step for step in _touches(work.state) if step.axis in axes)
    work.go_back_to(again.id)
    work.instruct()


def _touches(state: State) -> list[Touch]:
    assert state.plan is not None
    return [step for step in state.plan.steps if isinstance(step, Touch)]


def _cuts_done(state: State) -> frozenset[str]:
    if state.plan is None:
        return frozenset()
    cuts = {step.id for step in state.plan.steps if isinstance(step, Cut)}
    return state.confirmed & cuts


def _in_metal(state: State, axis: str) -> bool:
    """Whether the depth that the axis has begun is to be measured on the way."""
    measure = depth_measure(state)
    return measure is not None and measure.at_axis == axis and _has_begun(state, axis)


def _surface_gone(state: State, axis: str) -> bool:
    """Whether what the axis was touched on is cut away, and what was cut is measured already: the
    crest of a thread that is stopped by a gauge is still there."""
    steps = state.plan.steps if state.plan is not None else ()
    measured = any(isinstance(step, Measure) and step.at_axis == axis for step in steps)
    return measured and _has_begun(state, axis)


def _has_begun(state: State, axis: str) -> bool:
    """Whether the axis cuts in passes to a depth, and has begun where the next cut goes; a hole is
    done in one go, and counted from the touch of its own tool."""
    begun = axis == _depth_axis(state) and _has_cut(state) and not _in_one_go(state)
    return begun and not bites_afresh(state)


def _in_one_go(state: State) -> bool:
    """Whether the job is made of holes and the like, each tool with a touch of its own."""
    steps = state.plan.steps if state.plan is not None else ()
    return not any(isinstance(step, Cut) and step.kind not in IN_ONE_GO for step in steps)


def _has_cut(state: State) -> bool:
    return bool(_cuts_done(state)) or isinstance(state.step, Cut)


def _depth_axis(state: State) -> str:
    return state.plan.depth_axis if state.plan is not None else ""
