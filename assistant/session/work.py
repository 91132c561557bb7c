"""One command being decided: collects the events it leads to and the state they lead to."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from assistant.errors import BadInput, ImpossibleInput
from assistant.jobs.common.facts import ToldSize
from assistant.jobs.plan import Plan
from assistant.jobs.planning import plan_for
from assistant.jobs.steps import Facts, FactValue, Ground, Move, Step, SurfaceKey, Touch
from assistant.session import events as ev
from assistant.session.carry import Carry
from assistant.session.cuts import stands_cut
from assistant.session.instruct import figure_for
from assistant.session.reduce import reduce
from assistant.session.reply import Instruction, Part, Reply, Say
from assistant.session.state import Phase, State
from assistant.units import Quantity

NOT_ON_THE_CUT = "Touch where nothing is cut."
ON_THE_CUT = "Touch what is cut."
"""Where what was told to be cut already is counted from."""


def plan_now(state: State) -> Plan:
    """The plan of a state's job as the program at work makes it. The job's text was taken when it
    was begun: what is checked since isn't held against it.

    Raises `BadInput` where the facts make the job impossible, or this program can't plan it.
    """
    return plan_for(state.job_text, state.job_name, state.machine, state.facts, strict=False)


class Work:
    """Grows a list of records on a state. Every change goes through `emit`, so the state that is
    adopted is always the one that a replay of the journal gives."""

    def __init__(self, state: State, now: datetime, *, after: Sequence[ev.Record] = ()) -> None:
        """`after` are the records of the command that this goes on with."""
        self.before = state
        self.state = state
        self.now = now
        self.records: list[ev.Record] = []
        self.parts: list[Part] = []
        self._untold: State | None = None
        """As it was before anything was told that the plan may depend on."""
        self._planned: Facts | None = None
        """What was told when the plan was worked out last."""
        self._command = after[0].command if after else state.seq + 1

    def emit(self, event: ev.Event) -> None:
        """Add one event and fold it in."""
        if isinstance(event, ev.FactTold | ev.SizeTold) and self._untold is None:
            self._untold = self.state
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

    def replan(self, why: str, *, needed: bool = True) -> None:
        """Work the plan out again from what is known now, and keep the place by the step's id;
        where the plan has no such step any more, at the first that isn't done.

        A plan that another version made stands until something is told that has to be worked in;
        where this one can't do that, it still stands where that isn't `needed`: no place and no
        depth hangs on a speed. Raises `BadInput` where the facts make the job impossible; nothing
        is then adopted.
        """
        kept = self.state.differs is not None
        if (kept and self._untold is None) or self._planned is self.state.facts:
            return
        try:
            plan = plan_now(self.state)
            if kept and self._untold is not None:
                if plan == plan_now(self._untold):
                    self._planned = self.state.facts
                    return
                self._planned_as_now(self._untold)
        except BadInput:
            if kept and not needed:
                return
            raise
        self._planned = self.state.facts
        if plan != self.state.plan:
            self.emit(ev.Planned(plan, why))
            if self.state.step_id and not plan.has(self.state.step_id):
                self.enter(self.state.ahead.step() or plan.steps[-1])

    def _planned_as_now(self, untold: State) -> None:
        """What was told is worked in by the program at work, so its plan is taken from here on."""
        carry = Carry(untold, plan_now(untold))
        if not carry.fits:
            raise ImpossibleInput("plan", "this version's", "it doesn't go on from what is done")
        self.emit(ev.Planned(carry.plan, "as this version plans it", carry.stands_for))
        self.say("From here as this version plans it.")

    def tell(self, name: str, value: FactValue | None) -> None:
        """Keep a fact that the plan depends on, where it is new."""
        if self.state.facts.get(name) != value:
            self.emit(ev.FactTold(name, value))

    def keep_size(self, surface: SurfaceKey, one: ToldSize) -> None:
        """Keep a measurement of a surface."""
        self.emit(ev.SizeTold(surface, one.number, one.size, one.at, one.cuts, one.begun, one.half))

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

    def advance(self, *, short_on: str = "", left_out: bool = False) -> None:
        """The step at hand is done, or left out: go to what comes next, and give its instruction.

        In short form where that is a move of the axis `short_on`, whose wheel is in hand.
        """
        again = self.state.step_id in self.state.confirmed
        self.emit(ev.Confirmed(self.state.step_id, skipped=left_out))
        self.go_on(short_on=short_on, again=again)

    def go_on(self, *, short_on: str = "", again: bool = False) -> None:
        """Go to what comes next, and give its instruction; `again` after a step that had to be done
        once more."""
        ahead = self.state.ahead
        following = ahead.step()
        if following is None:
            self.emit(ev.JobFinished(self.now.isoformat()))
            self.emit(ev.Instructed(None))
            self.say("That's the job. It's in the record.", "Say same again for the next part.")
            return
        if again and self.state.plan.index(following.id) == ahead.undone:
            self.say("Back to where we were.")
        self.enter(following)
        # the short form leaves out what is said before a move: only where nothing is
        goes_on = isinstance(following, Move) and following.axis == short_on
        self.instruct(short=goes_on and not following.say)

    def place(self) -> None:
        """Come to where the job is by what is known now; nothing is said of it yet."""
        following = self.state.ahead.step()
        if following is not None and following.id != self.state.step_id:
            self.enter(following)
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
        acting = self.state.phase is Phase.ACT and not self.state.doubts
        if isinstance(step, Touch) and acting and stands_cut(self.state, step.axis):
            self.say(NOT_ON_THE_CUT if step.stays else ON_THE_CUT)
        self.say(Instruction(short=short, again=again, cautions=new))

    # -- the dials --------------------------------------------------------------------------

    def stands(self, axis: str, position: Quantity, came: int) -> None:
        """The axis stands at `position` now."""
        self.emit(ev.AxisStands(axis, position, came))

    def shake(self, ground: Ground, name: str, why: str) -> None:
        """A ground is shaken: what rests on it has to be told or done anew."""
        self.emit(ev.Shaken(ground, name, why))

    def find(self, ground: Ground, name: str = "") -> None:
        """A ground was told to be good again."""
        self.emit(ev.Found(ground, name))

    @property
    def move_step(self) -> Move | None:
        """The step at hand, where it is a move to a position."""
        step = self.state.step
        return step if isinstance(step, Move) and step.target is not None else None
