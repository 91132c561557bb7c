"""A tapped hole: tap drill by percentage of thread on a named basis, drilled, sunk and tapped."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.fields import Fields
from assistant.jobs.common import checks
from assistant.jobs.drilling.hole_steps import HOLDINGS, setup_steps
from assistant.jobs.drilling.hole_tools import wanted_machine
from assistant.jobs.drilling.quill import Quill, check_stop
from assistant.jobs.drilling.tapped import (
    ByHand,
    Tapped,
    read_tapped,
    tapped_answers,
    tapped_drawing,
    tapped_results,
    tapped_sources,
    whole_thread,
)
from assistant.jobs.jobfile import Head
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Facts
from assistant.machine import Machine

__all__ = ["plan", "read"]

UNDER_THE_SPINDLE = ByHand(
    "The tap is turned by hand.",
    ("in the chuck, to start it true.", "Tapping oil on. Let the quill follow it."),
)


@dataclass(frozen=True, eq=False)
class TapJob:
    """One tapped hole. Compared by identity, see `jobs.planning.read_job`."""

    head: Head
    holding: str
    tapped: Tapped


def read(head: Head, fields: Fields) -> TapJob:
    """The job from its file; every error is a `BadFile` that names file, key and value."""
    tapped = read_tapped(fields.table_at("thread"), head.unit, head.material)
    return TapJob(head=head, holding=fields.choice("holding", HOLDINGS, "vice"), tapped=tapped)


def plan(job: TapJob, machine: Machine, facts: Facts) -> Plan:
    """The plan on this machine; raises `ImpossibleInput` on one that can't drill so."""
    tapped = job.tapped
    wanted_machine(machine, "drilling for a tap")
    check_stop(tapped.depth_by, machine)
    quill = Quill(machine, tapped.unit, tapped.depth_by)
    return Plan(
        new_tool=checks.NEW_POINT,
        title=job.head.title,
        operation="tap",
        unit=tapped.unit,
        steps=(
            *setup_steps(machine, job.holding, tapped.through),
            *whole_thread(quill, tapped, UNDER_THE_SPINDLE, facts),
        ),
        results=tapped_results(tapped, machine, facts),
        sources=tapped_sources(tapped),
        answers=tapped_answers(tapped),
        depth_axis="quill",
        full_depth=tapped.drill.depth.value,
        drawing=tapped_drawing(tapped),
        drawing_kind="hole",
    )
