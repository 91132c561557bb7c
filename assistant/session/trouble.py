"""Mistakes and interruptions: what each word of trouble makes unsure, and nothing more.

No command here can restore metal or a dial. Each shakes the grounds that it is about; `next` says
what has to be read, measured or touched again before a number is given.
"""

from __future__ import annotations

from types import MappingProxyType

from assistant.jobs.steps import (
    NO_SURFACE,
    Cut,
    Ground,
    Index,
    Measure,
    Move,
    Overrun,
    Touch,
)
from assistant.session import events as ev
from assistant.session.belief import CRANK, Doubt, DoubtKind
from assistant.session.cuts import anything_cut, measured_at
from assistant.session.dial_slots import working_axis
from assistant.session.reply import Instruction
from assistant.session.row import axes_of, is_divided
from assistant.session.state import Phase, State
from assistant.session.work import Work
from assistant.spoken import Intent
from assistant.units import magnitude


def stop(work: Work, intent: Intent) -> None:
    """Say that the operator has to stop the machine, then silence; nothing is asked."""
    work.emit(ev.StopSaid())
    work.say("Hit your stop button. I can't.")


# -- what went wrong ------------------------------------------------------------------------------


def went_past(work: Work, intent: Intent) -> None:
    """The handle went too far: in the air come back, in a cut by what it can overrun."""
    step = work.state.step
    if isinstance(step, Cut):
        _past_in_the_cut(work, step)
        return
    if isinstance(step, Move) and step.target is not None:
        # past the target, so the next travel comes from the other side of the backlash
        axis = step.axis
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


def _past_in_the_cut(work: Work, cut: Cut) -> None:
    """What was overrun: the end of a feed, which its dial tells; else the depth, which only a
    measurement tells, and the dial that set it."""
    work.say(_OVERRUN[cut.overrun])
    fed = axes_of(cut)
    for axis in fed:
        work.shake(Ground.TURN, axis, "went past in the cut")
    for surface in cut.ends:
        work.shake(Ground.METAL, surface, "went past in the cut")
    if not fed and cut.overrun is Overrun.DEPTH and cut.surface != NO_SURFACE:
        setter = work.state.ahead.setter_of(cut.surface)
        if setter:
            work.shake(Ground.PLACE, setter, "went past in the cut")
        work.shake(Ground.METAL, cut.surface, "went past in the cut")
    if cut.past_fact:
        work.tell(cut.past_fact, "yes")
        work.replan("went past in the cut", needed=False)
    work.place()
    work.instruct()


_OVERRUN = MappingProxyType(
    {
        Overrun.DEPTH: "Past it in the cut: stop the feed, spindle off.",
        Overrun.LENGTH: "Past it along the work: stop the feed, spindle off, and look at the end.",
        Overrun.HOLE: "Past it in the hole: stop the feed.",
        Overrun.NONE: "Nothing to go past in this cut. Stop, and look.",
    }
)


def lost_count(work: Work, intent: Intent) -> None:
    """The turns were lost, or the holes of the crank."""
    step = work.state.step
    if isinstance(step, Cut) and step.kind == "tapping" and not work.state.doubts:
        # the turns of the tap, not of a wheel
        work.say("Back it right out, chips out. Count again from where it bites.")
        return
    axis = _counted(work.state)
    if not axis:
        work.say("No count to lose yet.", Instruction())
        return
    work.shake(Ground.COUNT, axis, "count lost")
    work.place()
    if _asks_to_measure(work.state):
        work.say("I'll work from the size.")
    elif not work.state.doubts:
        work.say("I'll ask for it before the next move.")
    work.instruct()


def dial_slipped(work: Work, intent: Intent) -> None:
    """A dial slipped or was bumped: its zero is worth nothing."""
    axis = _zeroed_axis(work.state)
    if not axis:
        work.say("No zero to lose yet.", Instruction())
        return
    work.shake(Ground.DIAL, axis, "dial slipped")
    work.place()
    work.say("The zero is gone. Don't touch the dial." if _asks_to_measure(work.state)
             else "The zero is gone.")  # fmt: skip
    touch_again(work, "Touch again.")
    work.instruct()


def moved(work: Work, intent: Intent) -> None:
    """The work, a clamp or an axis moved: every zero is worth nothing."""
    if work.state.belief.unsure(Ground.HELD):
        work.find(Ground.HELD)
    if isinstance(work.state.step, Cut):
        work.say("Stop the feed. Spindle off.")
    held = any(axis.zeroed for axis in work.state.axes.values()) or anything_cut(work.state)
    work.shake(Ground.WORK, "", "something moved")
    if not held:
        work.say("Nothing touched yet.")
    else:
        work.say("Get clear, and clamp it anew.", "Then we touch again.")
    work.place()
    touch_again(work)
    work.instruct()


def nothing_moved(work: Work, intent: Intent) -> None:
    """Nothing was moved while the job stood."""
    if work.state.belief.unsure(Ground.HELD):
        work.find(Ground.HELD)
    work.place()
    work.instruct()


def metal_left(work: Work, intent: Intent) -> None:
    """What nothing measures was looked at: there is metal left to come off."""
    work.find(Ground.METAL, work.state.doubts[0].surface)
    work.place()
    work.instruct()


def not_as_cut(work: Work) -> None:
    """The size that is told contradicts what was cut, and is so. Where nobody knows where the axis
    stood when that was cut, its dial tells nothing of the metal any more."""
    state = work.state
    asked = state.doubts[0] if state.doubts else state.step
    surface = getattr(asked, "surface", NO_SURFACE)
    axis = state.ahead.setter_of(surface)
    if axis and measured_at(state, axis) is None:
        work.shake(Ground.COUNT, axis, "cut where nobody knows")


def new_cutter(work: Work, intent: Intent) -> None:
    """Another cutter: its width is tried in scrap, then what was touched with it is touched again.
    The metal and the work are as they were."""
    size = intent.get("size")
    work.record("new cutter", "fitted")
    work.shake(Ground.TOOL, "", "new cutter")
    for step in work.state.plan.steps if size is not None else ():
        if isinstance(step, Measure) and Ground.TOOL in step.rests:
            work.tell(step.fact, intent.size("size"))
            work.emit(ev.Confirmed(step.id))
    work.replan("new cutter")
    before = work.state.step_id
    work.place()
    if Doubt(DoubtKind.TOOL) not in work.state.doubts:  # which says it itself
        work.say(work.state.plan.new_tool)
    if size is not None and work.state.step_id == before:
        work.refigure()
    touch_again(work)
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
    machine = work.state.machine
    work.say(f"Back out. Check {_WHAT_CHATTERS.get(machine.kind, _WHAT_CHATTERS[''])}.")
    speed = work.state.plan.result("speed")
    if speed is None:
        return
    lower = [s for s in machine.speeds if s < speed.value]
    if not lower:
        work.say("You're on the lowest speed. Keep the feed up.")
        return
    work.tell("speed", lower[-1])
    work.record("speed after chatter", lower[-1])
    work.replan("chatter", needed=False)
    work.refigure()
    work.say(f"Down a speed, to {magnitude(lower[-1], 'rpm').normalize():f}. Keep the feed up.")


# -- words ----------------------------------------------------------------------------------------


def _asks_to_measure(state: State) -> bool:
    return any(doubt.kind is DoubtKind.METAL for doubt in state.doubts)


def touch_again(work: Work, *words: str) -> None:
    """Touching for the depth again, where something is cut already, is done beside it."""
    step = work.state.step
    if isinstance(step, Touch) and step.id in work.state.confirmed:
        work.say(*words)
        if step.axis == work.state.plan.depth_axis and anything_cut(work.state):
            work.say("Touch for the depth where nothing is cut.")


def _zeroed_axis(state: State) -> str:
    """The axis that "the count" means: only one that was zeroed has any."""
    axis = working_axis(state)
    return axis if axis and state.axes[axis].zeroed else ""


def _counted(state: State) -> str:
    """What is counted at the step at hand: a crank while it is turned, else the wheel in hand."""
    if isinstance(state.step, Index):
        return CRANK
    return _zeroed_axis(state) or (CRANK if is_divided(state.plan) else "")
