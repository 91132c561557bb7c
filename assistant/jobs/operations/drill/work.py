"""One hole drilled to depth, and what is done to it: pilot, pecks, reamer, counterbore, sink."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.fields import Fields
from assistant.jobs.common import checks
from assistant.jobs.drilling.hole import Hole, read_hole
from assistant.jobs.drilling.hole_steps import HOLDINGS, hole_results, setup_steps, whole_hole
from assistant.jobs.drilling.hole_tools import wanted_machine
from assistant.jobs.drilling.quill import Quill, check_stop
from assistant.jobs.jobfile import Head
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Facts
from assistant.machine import Machine

__all__ = ["plan", "read"]


@dataclass(frozen=True, eq=False)
class DrillJob:
    """One hole. Compared by identity, see `jobs.planning.read_job`."""

    head: Head
    holding: str
    hole: Hole


def read(head: Head, fields: Fields) -> DrillJob:
    """The job from its file; every error is a `BadFile` that names file, key and value."""
    hole = read_hole(fields.table_at("hole"), head.unit, head.material)
    return DrillJob(head=head, holding=fields.choice("holding", HOLDINGS, "vice"), hole=hole)


def plan(job: DrillJob, machine: Machine, facts: Facts) -> Plan:
    """The plan on this machine; raises `ImpossibleInput` on one that can't drill so."""
    hole = job.hole
    wanted_machine(machine, "drilling to depth")
    check_stop(hole.depth_by, machine)
    quill = Quill(machine, hole.unit, hole.depth_by)
    return Plan(
        new_tool=checks.NEW_POINT,
        title=job.head.title,
        operation="drill",
        unit=hole.unit,
        steps=(
            *setup_steps(machine, job.holding, hole.through),
            *whole_hole(quill, hole, facts),
        ),
        results=hole_results(hole, machine, facts),
        sources=("geometry",),
        depth_axis="quill",
        full_depth=hole.main.depth.value,
        drawing=hole.drawing,
        drawing_kind="hole",
    )
