"""Where the operator is: the whole state of one job, immutable."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum
from types import MappingProxyType

from assistant.jobs.steps import NO_FACTS, Facts, Move, Plan, Step
from assistant.machine import Machine
from assistant.spoken import Figure, Intent
from assistant.units import Quantity


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


class DoubtKind(StrEnum):
    """Why no number may be given until something is answered."""

    DIAL = "dial"
    """Where an axis stands: read the dial."""
    TURN = "turn"
    """Which turn an axis is in: read the dial with its whole turns."""
    METAL = "metal"
    """What has been cut: measure."""
    MOVED = "moved"
    """Whether anything was moved since the job was left."""
    FLOOR = "floor"
    """What a dial that can't be set reads where the cutter meets what was cut."""
    TOUCH = "touch"
    """The zero itself is lost: back to the touch."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """Something to be told before a move is given."""

    kind: DoubtKind
    axis: str = ""


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


@dataclass(frozen=True, slots=True)
class AxisState:
    """Where one axis stands, counted from its last zero."""

    position: Quantity
    """Travel since the zero, positive the axis' positive way."""
    zeroed: bool = False
    """Whether a zero was set in this job."""
    zero_reading: Quantity | None = None
    """What the dial reads at the zero: 0 where it can be set, else as told."""
    came: int = 0
    """+1 or -1: the way of the last travel (the side on which the backlash is); 0 unknown."""
    known: bool = True
    """False after `dial slipped`, `lost count` or a resume, until it is told again."""


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
    """The state of a job; changed by `reduce` alone."""

    machine: Machine | None = None
    job_text: str = ""
    machine_text: str = ""
    job_name: str = ""
    plan: Plan | None = None
    step_id: str = ""
    phase: Phase = Phase.ACT
    facts: Facts = field(default_factory=lambda: NO_FACTS)
    axes: Mapping[str, AxisState] = field(default_factory=lambda: MappingProxyType({}))
    stood: Mapping[str, AxisState] = field(default_factory=lambda: MappingProxyType({}))
    """Where the axes stood when the job came to the step at hand."""
    cut_at: Mapping[str, AxisState] = field(default_factory=lambda: MappingProxyType({}))
    """Where the axes stood when the last cut was finished, but for those zeroed anew since."""
    figure: Figure | None = None
    """What ear and eye present now."""
    doubts: tuple[Doubt, ...] = ()
    """While there is one, no move is given."""
    question: Question | None = None
    retouching: tuple[str, ...] = ()
    """Axes whose touches are done again; none most of the time."""
    setting_up: bool = False
    """Whether all else of the setting up is done again with them."""
    back_to: str = ""
    """The step at which the job goes on after that, until it is there again."""
    confirmed: frozenset[str] = frozenset()
    skipped: frozenset[str] = frozenset()
    """Checks consciously skipped; they are in the record."""
    cautioned: frozenset[str] = frozenset()
    """Wordings already given that are given once a job: cautions, and what has shorter words."""
    told: tuple[Told, ...] = ()
    listening: bool = True
    stopped: bool = False
    """After `stop`: silent until the operator speaks on."""
    unit: str = "inch"
    theme: str = "dark"
    rate: int = 190
    volume: Decimal = Decimal(1)
    finished: bool = False
    sum_until: float = 0.0
    """Clock time until which a quick sum may be said; view state, not kept in the journal."""
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
    def step(self) -> Step | None:
        """The step at hand; None before the plan and after the end."""
        if self.plan is None or not self.step_id:
            return None
        return self.plan.step(self.step_id)

    @property
    def under_way(self) -> bool:
        """Whether a move was begun: what has to be done before it is done."""
        step = self.step
        if not isinstance(step, Move) or step.target is None or step.axis not in self.stood:
            return False
        return bool(self.axes[step.axis].position != self.stood[step.axis].position)
