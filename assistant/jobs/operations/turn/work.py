"""Turning to a diameter, and boring to one: touch, clean-up cut, measure, rough, finish.

`bore` is the same work with the cut going out; a shoulder or a blind floor is cut to its length at
the end, by the carriage's dial or by the compound along the bed. A shaft may have several shoulders
(`lathe.stepped`), the largest diameter first.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.hand_stop import HandStop
from assistant.fields import Fields
from assistant.jobs.common import checks
from assistant.jobs.jobfile import Head
from assistant.jobs.lathe import shoulder as lengths
from assistant.jobs.lathe.diameter import (
    Diameter,
    DiameterWork,
    LengthwiseStroke,
    dial_holds,
    diameter_work,
    read_diameter,
    touch_work,
)
from assistant.jobs.lathe.setup import (
    CROSS,
    LatheJob,
    a_side,
    dial_check,
    finish_note,
    first_checks,
    places,
    read_holding,
    springs,
    wanted_lathe,
)
from assistant.jobs.lathe.shoulder import Shoulder, read_shoulder
from assistant.jobs.lathe.slender import Pieces, bar_stands, kept_to, lighter, stands
from assistant.jobs.lathe.speed import Turning, lathe_speed, notes, read_turning, results
from assistant.jobs.lathe.stepped import FEED_WORDS, FurtherStep, further_steps, read_further
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Check, Facts, Move, Step
from assistant.machine import Machine
from assistant.replacing import replace
from assistant.spoken import Figure
from assistant.units import Quantity, quantity

__all__ = ["TurnJob", "plan", "read"]

STOUT_BAR = 4
"""A boring bar that stands out more of its own diameters than this springs (common practice)."""


@dataclass(frozen=True, eq=False)
class TurnJob(LatheJob):
    """One diameter turned or bored, with its shoulder or floor where it has one."""

    one: Diameter
    shoulder: Shoulder | None
    further: tuple[FurtherStep, ...]
    """Smaller diameters with their shoulders, from the largest on."""
    turning: Turning
    spring: str
    """Spring passes: `yes`, `no`, or `auto` by how far the work or the bar stands out."""
    bar: Quantity | None
    bar_reach: Quantity | None

    @property
    def springy(self) -> bool:
        """Whether each finishing cut is followed by a spring pass."""
        if self.spring != "auto":
            return self.spring == "yes"
        if self.one.inner:
            return self.bar is None or self.slender_bar
        return springs(self, self.q(self.one.size.nominal))

    @property
    def slender_bar(self) -> bool:
        """A boring bar that stands out too far for its thickness."""
        if self.bar is None or self.bar_reach is None:
            return False
        return bool(self.bar_reach > self.bar * STOUT_BAR)


def read(head: Head, fields: Fields) -> TurnJob:
    """The job from its file; every error is a `BadFile` that names file, key and value."""
    unit, inner = head.unit, head.operation == "bore"
    work, tool = fields.table_at("work"), fields.table_at("tool", {})
    one = read_diameter(work, tool, unit, inner)
    work.done()
    shoulder = read_shoulder(fields, unit, inner)
    job = TurnJob(
        head=head,
        holding=read_holding(fields.table_at("holding", {}), unit),
        one=one,
        shoulder=shoulder,
        further=read_further(fields, unit, one, shoulder),
        turning=read_turning(
            tool, head.material, unit, quantity(one.size.nominal if inner else one.stock, unit)
        ),
        spring=tool.choice("spring_pass", ("yes", "no", "auto"), "auto"),
        bar=tool.optional_length("bar", unit) if inner else None,
        bar_reach=tool.optional_length("bar_reach", unit) if inner else None,
    )
    tool.done()
    _check(job, fields, tool)
    return job


def _check(job: TurnJob, fields: Fields, tool: Fields) -> None:
    """What can't go together, found before anything is planned."""
    out, end = job.holding.stick_out, job.shoulder
    if job.bar is not None and job.m(job.bar) >= job.one.stock:
        tool.fail("bar", str(job.bar), f"doesn't go into a hole of {job.one.stock} {job.unit}")
    if end is None:
        return
    if job.bar_reach is not None and job.m(job.bar_reach) < end.size.nominal:
        tool.fail("bar_reach", str(job.bar_reach), "shorter than the bore is deep")
    if out is not None and not end.inner and job.m(out) <= end.size.nominal:
        fields.fail("holding.stick_out", str(out), "the shoulder would lie in the jaws")


def plan(job: TurnJob, machine: Machine, facts: Facts) -> Plan:
    """The plan on this machine; raises `ImpossibleInput` where it can't be done there."""
    wanted_lathe(machine, "cross slide", *((job.shoulder.by,) if job.shoulder else ()))
    if job.shoulder is not None:
        lengths.check_dial(job, machine, job.shoulder)
    most = _most(job, machine)
    work = diameter_work(job, machine, facts, lighter(job.one, most), springy=job.springy)
    through = job.one.inner and job.shoulder is None
    speed = lathe_speed(job.turning, machine, facts, HandStop(to_metal=not through))
    stroke = _stroke(job, machine, work)
    diameter = quantity(job.one.size.nominal, job.unit)
    steps: list[Step] = [
        *first_checks(
            job,
            machine,
            diameter,
            dial_check(machine),
            *_bar(job, most),
            most=kept_to(most, job.one.max_cut),
        ),
        *notes(speed),
    ]
    held = dial_holds(facts, job.one) is not None
    if job.shoulder is not None:
        steps += _in_front(work) if held else []
        steps += lengths.before(job, machine, job.shoulder)
    if not held:
        steps.append(touch_work(job.one, machine))
    if job.shoulder is not None or not held:
        steps += stroke.returned("start", "")
    steps += work.steps(stroke)
    if job.shoulder is not None:
        steps += lengths.finishing(job, machine, facts, job.shoulder, work, job.one.stock)
    further = [replace(one, one=lighter(one.one, most)) for one in job.further]
    more, sizes = further_steps(job, machine, facts, further, work, spring=job.springy)
    steps += more
    steps.append(finish_note())
    return Plan(
        new_tool=checks.NEW_LATHE_TOOL,
        title=job.head.title,
        operation=job.head.operation,
        unit=job.unit,
        steps=tuple(steps),
        results=_results(job, machine, work, (*sizes, *results(speed))),
        sources=("common practice", speed.speed.source),
        answers=(("what_diameter", work.sizing.figure),),
        depth_axis="cross slide",
        full_depth=quantity(work.aim, job.unit),
        drawing_kind="bored" if job.one.inner else "turned",
        drawing=(
            ("stock", quantity(job.one.stock, job.unit)),
            ("finished", diameter),
            (
                "length",
                diameter if job.shoulder is None else quantity(job.shoulder.size.nominal, job.unit),
            ),
            ("depth_full", quantity(work.aim, job.unit)),
        ),
    )


def _in_front(work: DiameterWork) -> list[Step]:
    """The tool of the part before was left clear of the stock, and its slide is still counted: by
    hand to the end face it would be lost. Counted too, it comes in front of the metal there."""
    return [
        Move(id="clear-of-end", title="Clear of the end", axis="carriage", target=None,
             say=("Carriage back, clear of the end.",), done_words="clear"),
        Move(id="in-front", title="In front of the end", axis=CROSS,
             target=work.position(work.aim), approach=work.sign, lock=False),
    ]  # fmt: skip


def _most(job: TurnJob, machine: Machine) -> Decimal:
    """The deepest cut on one side, with what springs: the bar that bores, or the work at its
    thinnest, every step turned. Raises `ImpossibleInput` where it stands no useful cut."""
    one = job.one
    if one.inner:
        if job.bar is None or job.bar_reach is None:
            return one.max_cut
        return bar_stands(job, machine, job.turning, one.max_cut, job.bar, job.bar_reach)
    return stands(job, machine, job.turning, one.max_cut, _thin(job), one.stock)


def _thin(job: TurnJob) -> Pieces:
    """Length and diameter of each step, from the end on."""
    out = job.holding.stick_out
    end = job.shoulder.size.nominal if job.shoulder is not None else None
    whole = end if end is not None else job.m(out) if out is not None else Decimal(0)
    ends = [whole, *(one.shoulder.size.nominal for one in job.further), Decimal(0)]
    sizes = [job.one.size.nominal, *(one.one.size.nominal for one in job.further)]
    steps = [(far - near, dia) for far, near, dia in zip(ends, ends[1:], sizes, strict=False)]
    return tuple(steps[::-1])


def _bar(job: TurnJob, most: Decimal) -> list[Step]:
    """A boring bar springs before it breaks."""
    if not job.one.inner:
        return []
    say = ["Stoutest bar that goes in, standing out no more than it must?"]
    if job.slender_bar:
        say.append("It stands out a long way: spring passes.")
        say.append(f"Cuts of {a_side(most, job.unit)} at most.")
    return [Check(id="check-bar", title="Boring bar", say=tuple(say))]


def _stroke(job: TurnJob, machine: Machine, work: DiameterWork) -> LengthwiseStroke:
    end = job.shoulder
    if end is not None and end.by == "carriage":
        return LengthwiseStroke(
            work, job.one, FEED_WORDS,
            target=lengths.stop(job, machine, end), begin=lengths.start(job, machine),
            spring=job.springy,
        )  # fmt: skip
    words = "Feed along. Trip it before the stop, the last by hand."
    if end is None:
        words = "Feed along. Know where it trips: clear of the jaws."
        if job.one.inner:
            words = "Feed right through. Watch the bar clear the back."
    return LengthwiseStroke(work, job.one, words, spring=job.springy)


def _results(
    job: TurnJob, machine: Machine, work: DiameterWork, speeds: tuple[tuple[str, Figure], ...]
) -> tuple[tuple[str, Figure], ...]:  # fmt: skip
    size = work.sizing.figure
    found = [(work.sizing.what, size), ("full depth", work.aim_figure)]
    end = job.shoulder
    if end is not None:
        found.append(
            ("run", Figure(lengths.stop(job, machine, end), "to run", places(job.unit),
                           source="common practice"))
        )  # fmt: skip
    return (*found, *speeds)
