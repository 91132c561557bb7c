"""Bringing the tailstock into line: two collars turned at one setting, measured, and the shift.

Common practice, no source; the proportion is geometry.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from assistant.calc.dial import settle
from assistant.calc.lathe_setup import tailstock_shift
from assistant.errors import ImpossibleInput
from assistant.fields import Fields
from assistant.jobs.common import checks
from assistant.jobs.common.checks import MEASURE_CAUTIONS
from assistant.jobs.jobfile import Head
from assistant.jobs.lathe.setup import (
    CROSS,
    TOUCH_CAUTIONS,
    LatheJob,
    dial_share,
    first_checks,
    places,
    read_holding,
    wanted_lathe,
)
from assistant.jobs.lathe.slender import stands
from assistant.jobs.lathe.speed import Turning, lathe_speed, notes, read_turning, results
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Cut, Facts, Measure, Move, Note, Step, Touch
from assistant.jobs.to_size.depth_work import FINEST
from assistant.machine import Machine
from assistant.replacing import replace
from assistant.spoken import Figure, Term
from assistant.units import Quantity, Unit, is_quantity, quantity

__all__ = ["plan", "read"]

MOST_ROUNDS = 6
"""More corrections than this mean that the tailstock moves when it is clamped."""
USUAL = {
    "inch": {"cut": Decimal("0.010"), "within": Decimal("0.0005")},
    "mm": {"cut": Decimal("0.2"), "within": Decimal("0.01")},
}
"""Off the diameter at each trial, and the difference allowed: common practice, no source."""


@dataclass(frozen=True, eq=False)
class TailstockJob(LatheJob):
    """A test bar with two collars."""

    collar: Quantity
    spacing: Quantity
    length: Quantity
    cut: Decimal
    """Off the diameter."""
    within: Decimal
    turning: Turning


def read(head: Head, fields: Fields) -> TailstockJob:
    """The job from its file; every error is a `BadFile` that names file, key and value."""
    unit = head.unit
    bar, tool = fields.table_at("bar"), fields.table_at("tool", {})
    collar = bar.length("collar", unit)
    job = TailstockJob(
        head=head,
        holding=read_holding(fields.table_at("holding", {"how": "between centres"}), unit),
        collar=collar,
        spacing=bar.length("spacing", unit),
        length=bar.length("length", unit),
        cut=bar_cut(tool, unit, "cut"),
        within=bar_cut(bar, unit, "within"),
        turning=read_turning(tool, head.material, unit, collar),
    )
    bar.done()
    tool.done()
    if job.length < job.spacing:
        bar.fail("length", str(job.length), f"can't be less than the spacing, {job.spacing}")
    if not job.holding.tailstock:
        fields.fail("holding.tailstock", "False", "the bar has to run on the tailstock's centre")
    return job


def bar_cut(fields: Fields, unit: str, key: str) -> Decimal:
    """A small length with its usual value."""
    return Decimal(fields.length(key, unit, quantity(USUAL[unit][key], unit)).to(unit).magnitude)


def plan(job: TailstockJob, machine: Machine, facts: Facts) -> Plan:
    """Trials as far as they were told; each is cut a little deeper than the last."""
    wanted_lathe(machine, CROSS)
    _stands(job, machine)
    speed = lathe_speed(job.turning, machine, facts)
    steps: list[Step] = [
        *first_checks(job, machine, job.collar),
        *notes(speed),
        Touch(id="touch-work", title="Touch the collar at the headstock",
              spindle="on",
              spindle_words="Spindle on.",
              say=("Tool at the headstock collar.",
                   "Cross slide in, gently, till it just marks it."),
              cautions=TOUCH_CAUTIONS, axis=CROSS, toward=1, surface="the headstock collar"),
    ]  # fmt: skip
    deepest = quantity(0, job.unit)
    for number in range(1, MOST_ROUNDS + 1):
        deepest = _depth(job, machine, number)
        steps += _trial(job, number, deepest, _depth(job, machine, MOST_ROUNDS))
        head, tail = facts.get(f"collar.{number}.head"), facts.get(f"collar.{number}.tail")
        if not (is_quantity(head) and is_quantity(tail)):
            break
        if abs(job.m(head) - job.m(tail)) <= job.within:
            steps.append(_note("in-line", "In line. Clamp it, and read the indicator once more."))
            break
        if number == MOST_ROUNDS:
            steps.append(_note("not-in-line", "Still out. Does it move when it's clamped? Look."))
            break
        steps.append(_shift(job, number, head, tail))
    allowed = Figure(job.q(job.within), "difference allowed", places(job.unit),
                     high=job.q(job.within), source="the job")  # fmt: skip
    return Plan(
        new_tool=checks.NEW_LATHE_TOOL,
        title=job.head.title,
        operation="tailstock",
        unit=job.unit,
        steps=tuple(steps),
        results=(("difference", allowed), *results(speed)),
        sources=("common practice", speed.speed.source),
        depth_axis=CROSS,
        drawing=(("collar", job.collar), ("spacing", job.spacing), ("length", job.length)),
        drawing_kind="collars",
    )


@lru_cache(maxsize=16)
def _between_centres(job: TailstockJob) -> TailstockJob:
    """The bar as it springs: all of it stands out. The same one each time, since what it stands is
    worked out once for each."""
    return replace(job, holding=replace(job.holding, stick_out=job.length))


def _stands(job: TailstockJob, machine: Machine) -> None:
    """Raises `ImpossibleInput` for a bar so slender that its spring would be taken for the
    tailstock's fault."""
    wanted = job.cut / 2
    collar = job.m(job.collar)
    if stands(_between_centres(job), machine, job.turning, wanted, (), collar) < wanted:
        raise ImpossibleInput(
            "bar.collar", f"{collar.normalize():f} {job.unit}",
            f"springs in a cut of {job.cut.normalize():f}: take a stouter bar, or a lighter cut",
        )  # fmt: skip


def _note(name: str, words: str) -> Note:
    return Note(id=name, title=name.replace("-", " ").capitalize(), say=(words,))


def _depth(job: TailstockJob, machine: Machine, number: int) -> Quantity:
    axis = machine.axis(CROSS)
    return settle(job.q(job.cut * number * dial_share(axis)), axis.graduation, halves=False)


def _trial(job: TailstockJob, number: int, depth: Quantity, last: Quantity) -> list[Step]:
    """Both collars at one setting, and measured; `last` is the depth of the last trial there is."""
    taken = job.q(job.m(depth) / number)
    steps: list[Step] = [
        Move(id=f"trial-{number}-start", title="Back to the tailstock end",
             say=("Leave the cross slide. Carriage back past the tailstock collar.",),
             axis="carriage", target=None, done_words="clear"),
        Move(id=f"trial-{number}-set", title=f"Trial {number}", axis=CROSS, target=depth,
             approach=1, lock=False, depth_after=depth, limit=last, pass_limit=depth / number * 2),
        Cut(id=f"trial-{number}-cut", title="Both collars at one setting",
            say=("Feed over both collars. Don't touch the cross slide between.",), number=1, of=1,
            depth=depth, taken=taken, feed_axis="carriage"),
    ]  # fmt: skip
    slack = Unit(job.unit).size("0.060", "1.5")
    for end, where in (("head", "headstock"), ("tail", "tailstock")):
        say = (f"Measure the collar at the {where}." if end == "head"
               else f"Now the collar at the {where}.")  # fmt: skip
        steps.append(
            Measure(id=f"measure-{end}-{number}", title=f"Collar at the {where}, measured",
                    spindle_words="Spindle off." if end == "head" else "",
                    say=(say,), cautions=MEASURE_CAUTIONS, fact=f"collar.{number}.{end}",
                    gauge="micrometer", nominal=job.collar,
                    figure=Figure(job.collar, f"the {where} collar, about", places(job.unit)),
                    band_low=job.collar - slack * (number + 1), band_high=job.collar + slack,
                    resolution=quantity(FINEST[job.unit], job.unit))
        )  # fmt: skip
    return steps


def _shift(job: TailstockJob, number: int, head: Quantity, tail: Quantity) -> Note:
    found = tailstock_shift(head, tail, job.spacing, job.length)
    way = "toward you" if found.towards_tool else "away from you"
    size = "large" if found.towards_tool else "small"
    return Note(
        id=f"shift-{number}",
        title=f"Tailstock {way}",
        say=(f"It's {size} at the tailstock. Indicator on its barrel, slack the clamp.",
             "Move the tailstock:"),
        after=("Clamp it. Read the indicator again.",),
        figure=Figure(
            found.shift.to(job.unit), way, places(job.unit),
            (Term("at the tailstock", tail), Term("at the headstock", head, -1),
             Term("between the collars", job.spacing, 0), Term("between centres", job.length, 0)),
            "half the difference x length / spacing", "geometry",
        ),
    )  # fmt: skip
