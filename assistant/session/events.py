"""What happened: frozen events that carry results, so that replaying never calculates.

Each has a type (its class name) and a version. `codec.py` writes them as JSON with decimal
strings; `upgrade.py` reads those of earlier versions.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import ClassVar

from assistant.jobs.plan import Plan
from assistant.jobs.steps import FactValue, Ground, SurfaceKey
from assistant.machine import Machine
from assistant.session.state import Differs, Phase, Question
from assistant.spoken import Figure, Intent
from assistant.units import Quantity


@dataclass(frozen=True, slots=True)
class Event:
    """The root of all events."""

    VERSION: ClassVar[int] = 1


@dataclass(frozen=True, slots=True)
class JobStarted(Event):
    """A job was begun: the texts of job and machine are kept whole."""

    title: str
    job_name: str
    job_text: str
    machine_text: str
    machine_name: str
    program: str = ""
    """Version of the program that began it; empty in a journal from before it was kept."""
    machine: Machine | None = None
    """The machine as it was read then, so that its text is never read again; None in a journal
    from before it was kept."""


@dataclass(frozen=True, slots=True)
class Planned(Event):
    """The plan was worked out, or worked out again after something was told."""

    plan: Plan
    why: str = ""
    stands_for: tuple[tuple[str, str], ...] = ()
    """Where another version of the program made it: its steps that are done, and the one at hand,
    each with the step of the plan before it that it stands for."""


@dataclass(frozen=True, slots=True)
class PlanKept(Event):
    """The job keeps the plan that it has, though the program at work would make it otherwise."""

    differs: Differs


@dataclass(frozen=True, slots=True)
class Commanded(Event):
    """What the operator said, as understood: opens the group of events it led to."""

    words: str
    intent: Intent
    confidence: float
    engine: str
    undoable: bool = True
    """False for a setting or a note: `scratch that` passes over it."""


@dataclass(frozen=True, slots=True)
class StepEntered(Event):
    """The job came to a step, or a new part of one."""

    step_id: str
    phase: Phase = Phase.ACT


@dataclass(frozen=True, slots=True)
class Instructed(Event):
    """The figure that ear and eye present from now on; None where a step has no number."""

    figure: Figure | None


@dataclass(frozen=True, slots=True)
class Confirmed(Event):
    """A step was finished as told."""

    step_id: str
    skipped: bool = False


@dataclass(frozen=True, slots=True)
class Cautioned(Event):
    """Wordings now spoken in full: cautions, and what has shorter words for later."""

    wordings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AxisZeroed(Event):
    """An axis was given its zero at a touch."""

    axis: str
    came: int
    zero_reading: Quantity | None = None
    by: tuple[Ground, ...] = (Ground.WORK, Ground.TOOL)
    """What the zero rests on besides its dial."""


@dataclass(frozen=True, slots=True)
class AxisStands(Event):
    """Where an axis stands now, as the operator confirmed or told it."""

    axis: str
    position: Quantity
    came: int = 0


@dataclass(frozen=True, slots=True)
class Shaken(Event):
    """A ground was shaken: what rested on it is not known any more."""

    ground: Ground
    name: str = ""
    """Whose: an axis, a surface; empty for work and tool."""
    why: str = ""


@dataclass(frozen=True, slots=True)
class Found(Event):
    """A ground was told to be good again."""

    ground: Ground
    name: str = ""


@dataclass(frozen=True, slots=True)
class SizeTold(Event):
    """A surface that is cut in passes was measured."""

    surface: SurfaceKey
    number: int
    """Which of its measurements, from 1."""
    size: Quantity
    at: Quantity | None
    """Where the axis that sets it stood when that was cut."""
    cuts: int | None
    """Passes finished by then."""
    begun: bool = False
    """Whether the next was begun."""
    half: Quantity | None = None


@dataclass(frozen=True, slots=True)
class FactTold(Event):
    """A value told by the operator that the plan depends on; None takes it away."""

    name: str
    value: FactValue | None


@dataclass(frozen=True, slots=True)
class Recorded(Event):
    """A value or note for the job's record."""

    name: str
    value: FactValue
    step_id: str
    at: str


@dataclass(frozen=True, slots=True)
class Asked(Event):
    """A question was put; `yes` takes its candidate."""

    question: Question


@dataclass(frozen=True, slots=True)
class Answered(Event):
    """The open question was answered or dropped."""

    yes: bool | None


@dataclass(frozen=True, slots=True)
class Adjusted(Event):
    """A setting of the session: `unit`, `theme`, `volume`, `rate`, `listening`."""

    name: str
    value: str


@dataclass(frozen=True, slots=True)
class StopSaid(Event):
    """The operator said stop."""


@dataclass(frozen=True, slots=True)
class HangOnSaid(Event):
    """The operator said to wait."""


@dataclass(frozen=True, slots=True)
class Resumed(Event):
    """The job was taken up again after the program ended."""

    at: str
    program: str = ""
    """Version of the program that took it up; empty in a journal from before it was kept."""


@dataclass(frozen=True, slots=True)
class JobFinished(Event):
    """The last step was done."""

    at: str


@dataclass(frozen=True, slots=True)
class Undone(Event):
    """The command with that sequence number is taken back; replay leaves it out."""

    seq: int


@dataclass(frozen=True, slots=True)
class Withheld(Event):
    """The guard held an answer back: what it could not show to be harmless."""

    why: str


@dataclass(frozen=True, slots=True)
class Superseded(Event):
    """What an earlier version wrote and this one works out; it says nothing any more."""

    what: str


@dataclass(frozen=True, slots=True)
class Record:
    """One event as it stands in the journal."""

    seq: int
    """Place in the job, from 1, without gaps."""
    command: int
    """Sequence number of the first event of the command that led to it."""
    at: datetime
    event: Event
