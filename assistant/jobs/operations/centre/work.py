"""Finding edges and centres: a corner, or the middle of a boss, a plate or a bore.

With an edge finder: half the tip, stop at the kick. With a cutter and a feeler: half the cutter
and the feeler. The middle lies half way between two touches; the second comes from the other
side, so the lost motion of the screw stands between them and is taken out by the profile's
backlash. The dials are then set from the side of the first touch again.
"""

from __future__ import annotations

from assistant.errors import ImpossibleInput
from assistant.jobs.common import checks
from assistant.jobs.milling.mill import wanted_machine
from assistant.jobs.operations.centre.direction import AXES, GEOMETRY, Direction
from assistant.jobs.operations.centre.job import SIDES, CentreJob, read
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Check, Facts, Note, Step
from assistant.machine import Machine
from assistant.spoken import Figure
from assistant.units import Quantity, quantity

__all__ = ["plan", "read"]


def plan(job: CentreJob, machine: Machine, facts: Facts) -> Plan:
    """The plan; `ImpossibleInput` where the touches can't be of this feature."""
    wanted_machine(machine, ("vertical mill", "horizontal mill", "drill press"), "finding a centre")
    x, y = (Direction(job, machine, facts, name) for name in ("x", "y"))
    for one in (x, y):
        if AXES[one.name] not in machine.axes:
            raise ImpossibleInput("machine", machine.name, f"has no {AXES[one.name]} with a dial")
    up = "knee" if "knee" in machine.axes else "quill" if "quill" in machine.axes else ""
    clear = f"{up.capitalize()} {machine.axis(up).way(-1)}, clear" if up else "Clear of the work"
    steps: list[Step] = [*checks.first_checks(machine.kind), _tool(job)]
    steps += [*x.steps(clear), *y.steps(clear)]
    results: list[tuple[str, Figure]] = []
    answers: list[tuple[str, Figure | str]] = []
    if job.feature == "corner":
        results = [("touch to edge, table", x.edge), ("touch to edge, saddle", y.edge)]
    else:
        results = [("across x", x.across), ("across y", y.across)]
        answers = [("how_big", y.across if y.told or not x.told else x.across)]
    if job.round and job.feature != "corner":
        steps.append(
            Note(
                id="again",
                title="Look once more",
                say=(
                    "In the middle both ways. Now swing an indicator round it.",
                    "Half of what it reads is how far it is off.",
                ),
            )
        )
    else:
        steps.append(
            Note(id="found", title="Found", say=("Spindle's over it. Both dials are your datum.",))
        )
    return Plan(
        title=job.head.title,
        operation="centre",
        unit=job.unit,
        steps=tuple(steps),
        results=tuple(results),
        sources=(GEOMETRY,),
        answers=tuple(answers),
        drawing=_sizes(job),
        drawing_kind="centre",
    )


def _sizes(job: CentreJob) -> tuple[tuple[str, Quantity], ...]:
    """For the drawing: 1 is yes, and which side is touched first as -1 or +1."""
    one = quantity(1, "dimensionless")
    return (
        *(
            (name, size)
            for name, size in (("x", job.size_x), ("y", job.size_y), ("tip", job.tip))
            if size is not None
        ),
        ("first_x", one * (-1 if job.x_side == SIDES["x"][0] else 1)),
        ("first_y", one * (-1 if job.y_side == SIDES["y"][0] else 1)),
        *((("inside", one),) if job.inside else ()),
        *((("round", one),) if job.round else ()),
    )


def _tool(job: CentreJob) -> Check:
    if job.tool == "edge finder":
        return Check(
            id="check-tip",
            title="Edge finder",
            say=("Edge finder in a collet. Speed as its sheet says. Work and vice tight?",),
            cautions=("Not too fast: the tip can fly off.",),
        )
    return Check(
        id="check-tip",
        title="Cutter and feeler",
        say=("Cutter in its holder, running true? Work and vice tight?",),
    )
