"""Pieces sawn off a bar by hand: each marked, sawn and counted."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.errors import ImpossibleInput
from assistant.fields import Fields
from assistant.jobs.common import checks
from assistant.jobs.jobfile import Head
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Check, Facts, Ground, Note, Step
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.units import Quantity

KERF = {"inch": "0.060 in", "mm": "1.5 mm"}
"""What a hand saw takes: common practice, no source."""
LONGEST = 40


@dataclass(frozen=True, eq=False)
class SawCuts:
    """What the job file says."""

    head: Head
    length: Quantity
    count: int
    kerf: Quantity


def read(head: Head, fields: Fields) -> SawCuts:
    """The job from its file; `BadFile` for anything wrong in it."""
    piece, saw = fields.table_at("piece"), fields.table_at("saw", {})
    job = SawCuts(
        head,
        piece.length("length", head.unit),
        piece.whole("count", 1, LONGEST),
        saw.length("kerf", head.unit, KERF[head.unit]),
    )
    piece.done()
    saw.done()
    return job


def plan(job: SawCuts, machine: Machine, facts: Facts) -> Plan:
    """A mark and a cut for each piece; `ImpossibleInput` for a saw wider than its pieces."""
    if job.kerf >= job.length:
        raise ImpossibleInput("saw.kerf", job.kerf, "the saw takes more than a piece is long")
    needed = Figure(
        job.count * (job.length + job.kerf), "bar needed", 3,
        (Term("pieces", job.count * job.length), Term("saw cuts", job.count * job.kerf)),
        source="geometry",
    )  # fmt: skip
    steps: list[Step] = [
        *checks.first_checks(machine.kind),
        Check(id="check-bar", title="Bar", say=("Is the bar held, and the spindle off?",),
              rests=(Ground.WORK,)),
    ]  # fmt: skip
    for number in range(1, job.count + 1):
        steps.append(
            Note(id=f"piece-{number}", title=f"Piece {number} of {job.count}",
                 say=(f"Piece {number}: mark it, and saw on the waste side.",))
        )  # fmt: skip
    return Plan(
        title=job.head.title,
        operation="saw-cuts",
        unit=job.head.unit,
        steps=tuple(steps),
        results=(("bar needed", needed),),
        sources=("geometry",),
        drawing_kind="sawn bar",
        drawing=(("length", job.length), ("kerf", job.kerf)),
    )
