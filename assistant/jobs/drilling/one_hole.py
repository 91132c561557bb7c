"""One hole under the spindle, plain or tapped: the job, and its plan."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.fields import Fields
from assistant.jobs.common import checks
from assistant.jobs.drilling.hole_steps import HOLDINGS, setup_steps
from assistant.jobs.drilling.hole_tools import wanted_machine
from assistant.jobs.drilling.made import Staged, read_staged
from assistant.jobs.drilling.quill import DEPTH_BY, Quill, check_stop
from assistant.jobs.drilling.tapped import UNDER_THE_SPINDLE
from assistant.jobs.jobfile import Head
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Facts
from assistant.machine import Machine


@dataclass(frozen=True, eq=False)
class OneHole:
    """One hole. Compared by identity, see `jobs.planning.read_job`."""

    head: Head
    holding: str
    made: Staged


def read_one(head: Head, fields: Fields, kind: str) -> OneHole:
    """The job from its file, its hole in the table `kind`; every error is a `BadFile` that names
    file, key and value."""
    made = read_staged(fields, kind, head.unit, head.material, DEPTH_BY, UNDER_THE_SPINDLE)
    return OneHole(head, fields.choice("holding", HOLDINGS, "vice"), made)


def plan_one(job: OneHole, machine: Machine, facts: Facts, why: str) -> Plan:
    """The plan on this machine; raises `ImpossibleInput` on one that can't drill so, with `why`
    another is wanted."""
    made = job.made
    wanted_machine(machine, why)
    check_stop(made.depth_by, machine)
    quill = Quill(machine, made.unit, made.depth_by)
    return Plan(
        new_tool=checks.NEW_POINT,
        title=job.head.title,
        operation=job.head.operation,
        unit=made.unit,
        steps=(
            *setup_steps(machine, job.holding, made.through),
            *made.steps(quill, facts),
        ),
        results=made.results(machine, facts),
        sources=made.sources,
        answers=made.answers,
        depth_axis=quill.name,
        full_depth=made.main.depth.value,
        drawing=made.drawing,
        drawing_kind="hole",
    )
