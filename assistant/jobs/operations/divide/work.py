"""Dividing alone: a mark, a hole or a cut at every division of a circle, or at equal angles."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.calc.indexing import exact_degrees
from assistant.calc.rotary import degrees_per_turn
from assistant.errors import ImpossibleInput
from assistant.fields import Fields
from assistant.jobs.common import checks
from assistant.jobs.jobfile import Head
from assistant.jobs.milling.dividing import SOURCE, Dividing, degrees_of, division_answers
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Check, Cut, Facts, Ground, Overrun, Step
from assistant.machine import Machine
from assistant.spoken import Figure
from assistant.units import Quantity, quantity

MOST = 240
"""Divisions in one job."""


@dataclass(frozen=True, eq=False)
class DivideJob:
    """Dividing alone: a mark, a hole or a cut at each division. Compared by identity."""

    head: Head
    divisions: int
    angle: Quantity | None
    count: int
    """How many places are worked."""
    do: str
    """What is done at each: `mark`, `drill` or `cut`."""


def read(head: Head, fields: Fields) -> DivideJob:
    """The job from its file; every error is a `BadFile` that names file, key and value."""
    divide = fields.table_at("divide")
    by_angle = "angle" in divide.table
    if by_angle == ("divisions" in divide.table):
        divide.fail("divisions", "both" if by_angle else "missing", "give divisions or an angle")
    divisions, angle = 0, None
    if by_angle:
        angle = quantity(divide.number("angle", "0.01", 180), "degree")
        count = divide.whole("count", 2, MOST)
        if exact_degrees(angle) * (count - 1) > 360:
            divide.fail("count", str(count), "more than once round: give divisions")
    else:
        divisions = count = divide.whole("divisions", 2, MOST)
    do = divide.choice("do", ("mark", "drill", "cut"), "cut")
    divide.done()
    return DivideJob(head, divisions, angle, count, do)


def plan(job: DivideJob, machine: Machine, facts: Facts) -> Plan:
    """The plan on this machine.

    Raises `ImpossibleInput` where its plates can't divide so, naming the error that the nearest
    hole would leave.
    """
    if machine.kind not in ("vertical mill", "horizontal mill", "drill press"):
        raise ImpossibleInput("machine", f"a {machine.kind}", "dividing wants a mill or a drill")
    dividing = Dividing(machine, job.divisions, job.angle)
    steps: list[Step] = [*checks.first_checks(machine.kind), _held(dividing)]
    steps += dividing.setup()
    for number in range(1, job.count + 1):
        if number > 1:
            steps.append(dividing.index(number, job.count))
        steps.append(_do(job, number))
    if job.divisions:
        steps.append(dividing.index(job.count + 1, job.count, "index-round"))
        steps.append(
            Check(
                id="check-round",
                title="Back at the first",
                say=("Back at the first one. Does it line up?",),
            )
        )
    return Plan(
        title=job.head.title,
        operation="divide",
        new_tool="New tool: set it where the first one stood.",
        unit=job.head.unit,
        steps=tuple(steps),
        results=_results(dividing),
        sources=(SOURCE,),
        answers=(
            ("which_division", "At none yet."),
            ("holes_left", f"{job.count} in all."),
        ),
        drawing=_drawing(job, dividing),
        drawing_kind="table" if dividing.table else "index",
    )


def _held(dividing: Dividing) -> Check:
    return Check(
        id="check-work",
        rests=(Ground.WORK,),
        title="Work holding",
        say=(f"Work tight on the {dividing.device}, running true?",
             f"The {dividing.device} clamped down, clear of the cutter all round?"),
    )  # fmt: skip


def _do(job: DivideJob, number: int) -> Cut:
    word = {"mark": "Mark", "drill": "Drill", "cut": "Cut"}[job.do]
    nothing = quantity(0, job.head.unit)
    return Cut(
        id=f"{job.do}-{number}",
        title=f"{word} number {number} of {job.count}",
        say=(f"{word} number {number}. Locked?",),
        overrun=Overrun.NONE,
        number=number,
        of=job.count,
        depth=nothing,
        taken=nothing,
        kind="division",
        spindle="",
        answers=division_answers(number, job.count),
    )


def _results(dividing: Dividing) -> tuple[tuple[str, Figure], ...]:
    if dividing.table:
        turn = degrees_of(degrees_per_turn(dividing.machine.dividing_ratio))
        return (("a turn of the wheel", Figure(turn, "a turn of the wheel", 3,
                                               source="360 / ratio")),)  # fmt: skip
    return (("crank", dividing.figure),)


def _drawing(job: DivideJob, dividing: Dividing) -> tuple[tuple[str, Quantity], ...]:
    if dividing.table:
        count = quantity(job.count, "dimensionless")
        step = job.angle or quantity(360, "degree") / job.divisions
        return ("count", count), ("step", step)
    choice = dividing.choice
    sizes = {
        "holes": choice.circle if choice else 0,
        "spaces": choice.holes if choice else 0,
        "turns": dividing.move.turns,
    }
    if choice is None:
        return ()
    return tuple((name, quantity(size, "dimensionless")) for name, size in sizes.items())
