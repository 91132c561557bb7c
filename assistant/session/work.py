"""One command being decided: collects the events it leads to and the state they lead to."""

from __future__ import annotations

from datetime import datetime

from assistant.jobs.planning import plan_for
from assistant.jobs.steps import Cut, FactValue, Move, Step
from assistant.session import events as ev
from assistant.session import retouch
from assistant.session.instruct import dial_at, figure_for
from assistant.session.metal import depth_measure, has_cut_with, stood_in_the_cut, what_was_cut
from assistant.session.reduce import reduce
from assistant.session.reply import Answer, Instruction, Part, Reply, Say
from assistant.session.state import Doubt, DoubtKind, Phase, State
from assistant.spoken import Figure
from assistant.units import Quantity, unit_name


class Work:
    """Grows a list of records on a state. Every change goes through `emit`, so the state that is
    adopted is always the one that a replay of the journal gives."""

    def __init__(self, state: State, now: datetime) -> None:
        self.before = state
        self.state = state
        self.now = now
        self.records: list[ev.Record] = []
        self.parts: list[Part] = []
        self._command = state.seq + 1

    def emit(self, event: ev.Event) -> None:
        """Add one event and fold it in."""
        record = ev.Record(self.state.seq + 1, self._command, self.now, event)
        self.state = reduce(self.state, record)
        self.records.append(record)

    def say(self, *parts: Part | str) -> None:
        """Add to the answer."""
        self.parts.extend(Say(part) if isinstance(part, str) else part for part in parts)

    def reply(self, *, hush: bool = False) -> Reply:
        """The answer so far."""
        return Reply(tuple(self.parts), hush=hush)

    # -- the plan ---------------------------------------------------------------------------

    def replan(self, why: str) -> None:
        """Work the plan out again from what is known now, and keep the place by the step's id.

        Raises `BadInput` where the facts make the job impossible; nothing is then adopted.
        """
        assert self.state.machine is not None
        plan = plan_for(
            self.state.job_text, self.state.job_name, self.state.machine, self.state.facts
        )
        if plan != self.state.plan:
            self.emit(ev.Planned(plan, why))

    def tell(self, name: str, value: FactValue | None) -> None:
        """Keep a fact that the plan depends on, where it is new."""
        if self.state.facts.get(name) != value:
            self.emit(ev.FactTold(name, value))

    def record(self, name: str, value: FactValue) -> None:
        """Add to the job's record."""
        self.emit(ev.Recorded(name, value, self.state.step_id, self.now.isoformat()))

    # -- the place in the job ---------------------------------------------------------------

    def enter(self, step: Step, phase: Phase = Phase.ACT) -> None:
        """Come to a step, or to another part of it, and work out its figure."""
        if (step.id, phase) != (self.state.step_id, self.state.phase):
            self.emit(ev.StepEntered(step.id, phase))
        self.refigure()

    def refigure(self) -> None:
        """Work out the figure of the step at hand from where things are now."""
        figure = figure_for(self.state)
        if figure != self.state.figure:
            self.emit(ev.Instructed(figure))

    def advance(self, *, short_on: str = "") -> None:
        """The step at hand is done: go to the one after it, and give its instruction.

        In short form where that is a move of the axis `short_on`, whose wheel is in hand.
        """
        assert self.state.plan is not None
        step_id = self.state.step_id
        if step_id not in self.state.confirmed | self.state.skipped:
            self.emit(ev.Confirmed(step_id))
        place = self.state.plan.index(step_id) + 1
        if place == len(self.state.plan.steps):
            self.emit(ev.JobFinished(self.now.isoformat()))
            self.emit(ev.Instructed(None))
            self.say("That's the job. It's in the record.", "Say same again for the next part.")
            return
        following = self.state.plan.steps[place]
        if self.state.retouching:
            again = retouch.following(self.state)
            if again is None:
                self._all_touched()
                return
            following = again
        elif self.state.back_to:
            following, there = retouch.set_anew(self.state)
            if there:
                self.emit(ev.Retouching())
        self.enter(following)
        self._find_the_depth()
        # the short form leaves out what is said before a move: only where nothing is
        goes_on = isinstance(following, Move) and following.axis == short_on
        self.instruct(short=goes_on and not following.say)

    def _all_touched(self) -> None:
        """On where the job was. What was moved out of the way meanwhile is read with its turns, and
        what is being cut is come back to from its measurement."""
        state = self.state
        assert state.plan is not None
        away = retouch.out_of_the_way(state) - frozenset(state.retouching)
        moved = [name for name in away if state.axes[name].zeroed and state.axes[name].known]
        begins = retouch.origin(state)
        self.emit(ev.Retouching((), state.back_to if begins != state.back_to else ""))
        self.enter(state.plan.step(begins))
        deep = state.plan.depth_axis
        on_lathe = state.machine is not None and state.machine.kind == "lathe"
        if on_lathe and deep in state.axes and not state.axes[deep].known:
            self._find(deep)  # the tool is in front of the work, and has to come off it first
        self._find_the_depth()
        for name in sorted(moved):
            self.emit(ev.AxisLost(name, "moved out of the way of a touch"))
            self.doubt(Doubt(DoubtKind.TURN, name), "moved out of the way of a touch")
        self.say("Back to where we were.")
        self.instruct()

    def _find_the_depth(self) -> None:
        """Where the depth was lost, it is found again from what was cut before it is set or cut on:
        not sooner, with the cutter perhaps over another place."""
        step = self.state.step
        axes: list[str] = []
        if isinstance(step, Move) and step.target is not None:
            axes = [step.axis]
        elif isinstance(step, Cut):
            measure = depth_measure(self.state)
            axes = [measure.at_axis] if measure is not None else []
            axes += [step.feed_axis] if step.feed_target is not None else []
        lost = next((axis for axis in axes if not self.state.axes[axis].known), "")
        if lost and not self.state.doubts:
            self._find(lost)

    def _find(self, axis: str) -> None:
        """Where a lost axis stands: measured and come back to, or only come back to."""
        measure = depth_measure(self.state)
        if measure is not None and measure.at_axis == axis:
            self.doubt(Doubt(DoubtKind.METAL, axis), "touched again in depth")
        elif has_cut_with(self.state, axis):  # and it was measured already
            self.come_back_to_the_cut(axis)

    def come_back_to_the_cut(self, axis: str) -> None:
        """The count or the zero was lost: what was cut is a surface to find them again by, since it
        is known where the axis stood when it was cut."""
        assert self.state.machine is not None
        wheel, now = self.state.machine.axis(axis), self.state.axes[axis]
        if not wheel.settable:
            self.doubt(Doubt(DoubtKind.FLOOR, axis), "to be counted from what was cut")
            return
        place, came = stood_in_the_cut(self.state, axis)
        reading = dial_at(wheel, now, place)
        self.say(f"Come to {what_was_cut(self.state)}, just touching.")
        self.say(Answer(Figure(reading, f"on the {axis} dial there"), unit_name(reading)))
        self.say("If it isn't, set the dial so.")
        self.stands(axis, place, came)
        self.refigure()

    def instruct(self, *, short: bool = False) -> None:
        """Give the instruction of the state, with those cautions that were not yet given."""
        step = self.state.step
        new: tuple[str, ...] = ()
        again = False
        if step is not None and not self.state.doubts:
            new = tuple(c for c in step.cautions if c not in self.state.cautioned)
            first = [say for say in step.say if step.again and say not in self.state.cautioned]
            again = bool(step.again) and not first
            if new or first:
                self.emit(ev.Cautioned((*new, *first)))
        self.say(Instruction(short=short, again=again, cautions=new))

    def go_back_to(self, step_id: str) -> None:
        """Return to an earlier step, by its id."""
        assert self.state.plan is not None
        self.enter(self.state.plan.step(step_id))

    # -- the dials --------------------------------------------------------------------------

    def stands(self, axis: str, position: Quantity, came: int) -> None:
        """The axis stands at `position` now."""
        self.emit(ev.AxisStands(axis, position, came))

    def doubt(self, doubt: Doubt, why: str) -> None:
        """Withhold moves until `doubt` is settled."""
        self.emit(ev.Doubted(doubt, why))
        self.refigure()

    def settle(self, doubt: Doubt) -> None:
        """A doubt was settled."""
        self.emit(ev.DoubtSettled(doubt))
        self.refigure()

    @property
    def move_step(self) -> Move | None:
        """The step at hand, where it is a move to a position."""
        step = self.state.step
        return step if isinstance(step, Move) and step.target is not None else None
