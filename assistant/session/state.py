"""Where the operator is: the whole state of one job, immutable."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal
from enum import StrEnum
from functools import cached_property
from types import MappingProxyType

from assistant.jobs.plan import NO_PLAN, Plan
from assistant.jobs.steps import NO_FACTS, Facts, Ground, Move, Step
from assistant.machine import NO_MACHINE, Machine
from assistant.session.belief import AxisState, Belief, Doubt, DoubtKind
from assistant.session.next import Ahead
from assistant.spoken import Figure, Intent
from assistant.units import Quantity

__all__ = ["AxisState", "Doubt", "DoubtKind", "Phase", "Question", "State", "Told"]


class Phase(StrEnum):
    """Which part of the current step is going on."""

    ACT = "act"
    """The step's own action: move, cut, touch, measure, confirm."""
    PAPER = "paper"
    """Touched: waiting for the thickness of the paper."""
    READ = "read"
    """Touched, on a dial that can't be set to zero: waiting to hear what it reads."""
    VERIFY = "verify"
    """Set and locked: waiting to hear that the dial still reads so."""


@dataclass(frozen=True, slots=True)
class Question:
    """An open question with the intent that `yes` takes."""

    text: str
    """Why it is asked, for the screen and the log: `2.5 in is outside 1.4 to 1.6 in`."""
    candidate: Intent | None
    reason: str = ""
    """Why it is asked, a `Reason` value: `unsure`, `implausible`, `ambiguous`."""
    words: str = ""
    """What was heard."""
    otherwise: Intent | None = None
    """What else may have been meant, where there is one thing; `no` takes it no more than the
    candidate, since it may as well mean that all was misheard."""


class How(StrEnum):
    """How a step of one plan is in another."""

    NEW = "new"
    GONE = "gone"
    OTHERWISE = "otherwise"


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that two plans of a job have otherwise."""

    how: How
    step: str
    """The step's title."""
    was: Figure | None = None
    now: Figure | None = None
    """None where no number tells the difference."""


@dataclass(frozen=True, slots=True)
class Differs:
    """How the program at work would plan the job, where that is otherwise than its plan."""

    changes: tuple[Change, ...]
    """Of the steps to come, in their order."""
    fits: bool
    """Whether its plan goes on from what is done."""
    why: str = ""
    """Why it can't plan the job at all."""


@dataclass(frozen=True, slots=True)
class Told:
    """One measurement or note for the record."""

    name: str
    value: Quantity | str
    step: str
    at: str
    """Time, ISO 8601."""


@dataclass(frozen=True)  # no slots: `reduce` copies it by its dict, once for every event
class State:
    """The state of a job; changed by `reduce` alone. One that is idle has the empty plan."""

    machine: Machine = NO_MACHINE
    job_text: str = ""
    machine_text: str = ""
    job_name: str = ""
    plan: Plan = NO_PLAN
    step_id: str = ""
    phase: Phase = Phase.ACT
    facts: Facts = field(default_factory=lambda: NO_FACTS)
    belief: Belief = field(default_factory=Belief)
    """What is so, as far as it was told."""
    confirmed: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))
    """Steps done, each with the record that said so."""
    skipped: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))
    """Checks consciously skipped; they are in the record."""
    held_back: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))
    """How often the guard held back what a step commands."""
    stood: Mapping[str, AxisState] = field(default_factory=lambda: MappingProxyType({}))
    """Where the axes stood when the job came to the step at hand."""
    differs: Differs | None = None
    """How the program at work would plan it; None where it made the plan itself."""
    figure: Figure | None = None
    """What ear and eye present now."""
    question: Question | None = None
    cautioned: frozenset[str] = frozenset()
    """Wordings already given that are given once a job: cautions, and what has shorter words."""
    told: tuple[Told, ...] = ()
    listening: bool = True
    stopped: bool = False
    """After `stop`: silent until the operator speaks on."""
    waiting: bool = False
    """After `hang on`: nothing is said until the next command."""
    unit: str = "inch"
    theme: str = "dark"
    rate: int = 190
    volume: Decimal = Decimal(1)
    finished: bool = False
    sum_until: float = 0.0
    """Clock time until which a quick sum may be said; view state, not kept in the journal."""
    just_taken: tuple[int, datetime] | None = None
    """The command that was heard last, where "scratch that" takes it back, and when; view state."""
    last_words: str = ""
    """Of the last command that "scratch that" takes back."""
    last_intent: Intent | None = None
    """That command itself: another value for it may be told right after it."""
    last_reply: tuple[str, ...] = ()
    """The sentences last spoken, for `say again`."""
    seq: int = 0
    """Number of the last event folded in."""
    undoable: tuple[tuple[int, State], ...] = ()
    """Earlier states by the sequence number of the command that left them, newest last."""

    @property
    def at_work(self) -> bool:
        """Whether a job is open."""
        return bool(self.plan.steps)

    @cached_property
    def step(self) -> Step | None:
        """The step at hand; None before the plan and after the end."""
        return self.plan.step(self.step_id) if self.step_id else None

    @property
    def axes(self) -> Mapping[str, AxisState]:
        """Where the axes stand, as far as that was told."""
        return self.belief.axes

    @cached_property
    def done(self) -> Mapping[str, int]:
        """Steps done or left out, each with the record that said so last."""
        return {**self.confirmed, **self.skipped}

    @cached_property
    def ahead(self) -> Ahead:
        """The plan from here on."""
        return Ahead(self.plan, self.belief, self.done)

    @cached_property
    def doubts(self) -> tuple[Doubt, ...]:
        """What has to be told before the number of the step at hand is given."""
        if not self.belief.shaken:
            return ()
        plan = (Doubt(DoubtKind.PLAN),) if self.belief.unsure(Ground.PLAN) else ()
        return *plan, *self.ahead.unknown(self.step)

    @property
    def under_way(self) -> bool:
        """Whether a move was begun: what has to be done before it is done."""
        step = self.step
        if not isinstance(step, Move) or step.target is None or step.axis not in self.stood:
            return False
        return bool(self.axes[step.axis].position != self.stood[step.axis].position)
