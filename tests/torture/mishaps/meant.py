"""What a page doesn't tell: which surface a size or a cut is about, and what a dial counts.

The one module of the trouble scan that looks behind the page.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.jobs.steps import Cut, Measure, Move, Touch
from assistant.session.belief import DoubtKind
from assistant.session.state import Phase
from assistant.units import Quantity, magnitude
from tests.factories import Job


@dataclass(frozen=True)
class Asked:
    """A size that is wanted now, in the job's unit."""

    key: str
    """Which surface or given size it is about."""
    now: Decimal
    """As it is foreseen."""
    low: Decimal | None
    high: Decimal | None
    grows: bool
    """Whether cutting makes it larger."""

    @property
    def limited(self) -> bool:
        """Whether it is held by limits."""
        return self.low is not None and self.high is not None


@dataclass(frozen=True)
class Dial:
    """What a handwheel's dial counts, in its own unit."""

    unit: str
    per_turn: Decimal
    graduation: Decimal
    rises: int
    counts: int
    """2 where it counts the diameter, else 1."""

    def per_job_unit(self, unit: str) -> Decimal:
        """Its units in one of the job's."""
        if unit == self.unit:
            return Decimal(1)
        return Decimal("25.4") if self.unit == "mm" else 1 / Decimal("25.4")


def asked(job: Job) -> Asked | None:
    """The size that is wanted; None where none is."""
    state = job.state
    step = state.step
    if state.question is not None or state.finished:
        return None
    if state.doubts:
        first = state.doubts[0]
        metal = first.kind is DoubtKind.METAL
        step = state.ahead.measure_of(first.surface) if metal else None
    if not isinstance(step, Measure) or step.kind != "size" or step.nominal is None:
        return None
    return _asked(step, state.unit)


def _asked(step: Measure, unit: str) -> Asked:
    assert step.nominal is not None
    low, high = (_in(one, unit) for one in (step.low, step.high))
    now = magnitude(step.nominal, unit)
    return Asked(_key(step), now, low, high, step.grows)


def _in(size: Quantity | None, unit: str) -> Decimal | None:
    return None if size is None else magnitude(size, unit)


def _key(step: Measure) -> str:
    """The measurements of one surface have one key, whichever round they are of."""
    return step.fact.rstrip("0123456789").rstrip(".")


def cutting(job: Job) -> str:
    """The key of what the cut at hand is measured by; '' where no cut is, or nothing measures."""
    state = job.state
    if not isinstance(state.step, Cut) or state.finished:
        return ""
    for step in state.plan.steps[state.plan.index(state.step_id) :]:
        if isinstance(step, Touch):  # the next surface is begun: this one is only cut clean
            return ""
        if isinstance(step, Measure) and step.kind == "size" and None not in (step.low, step.high):
            return _key(step)
    return ""


def fed(job: Job) -> str:
    """The axis that the cut at hand is fed by to a reading; '' where none is."""
    step = job.state.step
    return step.feed_axis if isinstance(step, Cut) and step.feed_target is not None else ""


def place_asked(job: Job) -> tuple[str, int | None, int | None] | None:
    """Axis, whole turns from its zero and side of it, where a question is about where it stands."""
    question = job.state.question
    candidate = question.candidate if question is not None else None
    if candidate is None or candidate.name != "dial_reads" or candidate.get("axis") is None:
        return None
    turns, side = candidate.get("turns"), candidate.get("side")
    return (
        str(candidate["axis"]),
        turns if isinstance(turns, int) else None,
        side if isinstance(side, int) else None,
    )


def in_a_cut(job: Job) -> bool:
    """Whether the step at hand is a cut, whatever the page asks meanwhile."""
    return isinstance(job.state.step, Cut) and not job.state.finished


def left_inside(job: Job) -> Decimal | None:
    """How far inside the limit that is met first the size is after the cut that is being set, in
    the job's unit; None where it isn't worked out."""
    step = job.state.step
    if not isinstance(step, Move) or step.leaves_inside is None or job.state.doubts:
        return None
    return magnitude(step.leaves_inside, job.state.unit)


def most(job: Job, key: str) -> Decimal | None:
    """The most that a pass of that surface may take, as depth on one side, in the job's unit."""
    state = job.state
    found: list[Decimal] = []
    for step in state.plan.steps:
        if isinstance(step, Move) and step.pass_limit is not None:
            found.append(magnitude(step.pass_limit, state.unit))
        if isinstance(step, Measure) and _key(step) == key:
            break
    return max(found, default=None)


def touching(job: Job) -> str:
    """The axis that is touched off; '' where none is."""
    step = job.state.step
    return step.axis if isinstance(step, Touch) and not step.keeps else ""


def second_touch(job: Job) -> str:
    """The axis of the second of two touches, whose place is told with its whole turns; or ''."""
    step = job.state.step
    return step.axis if isinstance(step, Touch) and step.keeps else ""


def stands(job: Job, axis: str) -> Decimal:
    """Where the axis is taken to stand, in its dial's unit."""
    return magnitude(job.state.axes[axis].position, dial(job, axis).unit)


def reads_at_touch(job: Job) -> bool:
    """Whether a dial that can't be set is to be read at the touch."""
    return bool(touching(job)) and job.state.phase is Phase.READ


def dial(job: Job, axis: str) -> Dial:
    """The dial of an axis."""
    wheel = job.state.machine.axis(axis)
    unit = "inch" if str(wheel.per_turn.units) == "inch" else "mm"
    return Dial(
        unit,
        magnitude(wheel.per_turn, unit),
        magnitude(wheel.graduation, unit),
        wheel.rises,
        2 if wheel.diameter_reading else 1,
    )


def positive_way(job: Job, axis: str, direction: str) -> bool:
    """Whether the word is that axis' positive way."""
    return job.state.machine.axis(axis).way(1) == direction
