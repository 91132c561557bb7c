"""A hole from the tailstock of a lathe: centred, drilled, reamed, counterbored, sunk, or tapped.

The work turns and the tool stands still. Common practice, no source, where a step names none.
"""

from __future__ import annotations

from dataclasses import dataclass

from assistant.errors import ImpossibleInput
from assistant.fields import Fields
from assistant.jobs.common import checks
from assistant.jobs.drilling.hole_tools import TAILSTOCK
from assistant.jobs.drilling.made import Made
from assistant.jobs.jobfile import Head
from assistant.jobs.lathe.setup import (
    LatheJob,
    clears,
    hands,
    read_holding,
    springs,
    wanted_lathe,
    work_check,
)
from assistant.jobs.operations.tailstock_hole.made import read_made
from assistant.jobs.operations.tailstock_hole.tailstock import TailstockQuill
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Check, Facts, Note, Step
from assistant.machine import Machine
from assistant.units import Quantity

__all__ = ["plan", "read"]


@dataclass(frozen=True, eq=False)
class TailstockHoleJob(LatheJob):
    """Work in the chuck, and what is made in its end."""

    diameter: Quantity
    """Outside, where the hole is."""
    made: Made


def read(head: Head, fields: Fields) -> TailstockHoleJob:
    """The job from its file; every error is a `BadFile` that names file, key and value."""
    work = fields.table_at("work")
    job = TailstockHoleJob(
        head=head,
        holding=read_holding(fields.table_at("holding", {}), head.unit),
        diameter=work.length("diameter", head.unit),
        made=read_made(fields, head.unit, head.material),
    )
    work.done()
    if job.holding.tailstock:
        fields.fail("holding.tailstock", "True", "the tailstock carries the tool")
    widest, outside = job.m(job.made.widest), job.m(job.diameter)
    if widest >= outside:
        work.fail(
            "diameter", f"{outside.normalize():f} {job.unit}",
            f"no metal would be left round a hole {widest.normalize():f} wide: wanted more",
        )  # fmt: skip
    return job


def plan(job: TailstockHoleJob, machine: Machine, facts: Facts) -> Plan:
    """The plan on this machine.

    Raises `ImpossibleInput` on one that is no lathe, or whose file has no tailstock, and for what
    lies deeper than its quill feeds a tool.
    """
    wanted_lathe(machine)
    if TAILSTOCK not in machine.axes:
        raise ImpossibleInput(
            "machine", machine.name,
            "a hole from the tailstock wants its quill's wheel in the profile: [axes.tailstock]",
        )  # fmt: skip
    made = job.made
    quill = TailstockQuill(machine, job.unit, made.depth_by)
    for one in made.tools:
        quill.check_reach(one)
    return Plan(
        new_tool=checks.NEW_POINT,
        title=job.head.title,
        operation="tailstock-hole",
        unit=job.unit,
        steps=(*_checks(job, machine), *made.steps(quill, facts)),
        results=made.results(machine, facts),
        sources=made.sources,
        answers=made.answers,
        depth_axis=TAILSTOCK,
        full_depth=made.main.depth.value,
        drawing=made.drawing,
        drawing_kind="hole",
    )


def _checks(job: TailstockHoleJob, machine: Machine) -> list[Step]:
    steps: list[Step] = [
        *checks.first_checks(machine.kind),
        hands(),
        work_check(job.holding),
        *_long(job),
        Check(id="check-face", title="Faced",
              say=("End faced, no pip left? Face it first, or the drill wanders.",)),
        Check(id="check-tailstock", title="Tailstock in line",
              say=("Tailstock in line, not set over?", "Carriage and tool post out of its way?")),
    ]  # fmt: skip
    if job.made.through:
        steps.append(
            Check(id="check-under", title="Room behind",
                  say=("Room behind the hole: jaws, stop and spindle bore clear?",))
        )  # fmt: skip
    steps += [
        Check(id="check-tool", title="Tool held",
              say=("Taper and sleeve clean, and pushed home hard?",
                   "Drill chuck tight, both keys out?")),
        clears(),
    ]  # fmt: skip
    if machine.notes:
        steps.append(Note(id="machine-notes", title="About this machine", say=machine.notes))
    steps.append(
        Note(id="tailstock-wheel", title="By its wheel",
             say=("Tailstock in and out is by its wheel. Lock the quill when it isn't fed.",
                  "Slid along the bed, its zero is gone.",
                  "Backing out, the slack comes first."),
             cautions=("Nothing into the turning bore: no finger, no rag, no brush.",))
    )  # fmt: skip
    return steps


def _long(job: TailstockHoleJob) -> list[Step]:
    """Work that stands out far, of which the tool carries the end only once it is in."""
    if job.holding.steady or not springs(job, job.diameter):
        return []
    return [
        Check(id="check-slender", title="It stands out far",
              say=("It stands out more than three diameters. A steady near its end?",))
    ]  # fmt: skip
