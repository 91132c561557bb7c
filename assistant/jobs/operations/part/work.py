"""Parting off: the blade set along by the length and its own width, then fed in to the centre.

Slow, with the blade standing out no more than it must. Common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.dial import Toward, settle
from assistant.calc.turning import Parting, parting
from assistant.errors import ImpossibleInput
from assistant.fields import Fields
from assistant.jobs.common import checks
from assistant.jobs.common.checks import MEASURE_CAUTIONS
from assistant.jobs.jobfile import Head
from assistant.jobs.lathe.setup import (
    CROSS,
    TOUCH_CAUTIONS,
    LatheJob,
    dial_check,
    dial_share,
    first_checks,
    places,
    read_holding,
    wanted_lathe,
)
from assistant.jobs.lathe.speed import Turning, lathe_speed, notes, read_turning, results
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Check, Cut, Facts, Measure, Move, Note, Step, Touch
from assistant.jobs.to_size.depth_work import FINEST
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.units import Quantity, Unit, quantity

__all__ = ["plan", "read"]

BLADE = "blade.width"
THROUGH = {"inch": Decimal("0.010"), "mm": Decimal("0.25")}
"""Into a bore, that may be smaller than its name, on one side: common practice, no source."""

FURTHEST = 3
"""Diameters from the jaws at which a piece is parted off at most: common practice, no source."""


@dataclass(frozen=True, eq=False)
class PartJob(LatheJob):
    """A piece to be parted off."""

    diameter: Quantity
    bore: Quantity
    length: Quantity
    """Of the piece that comes off, with what is left on for facing."""
    blade: Quantity
    reach: Quantity
    from_jaws: Quantity | None
    found: Parting
    turning: Turning


def read(head: Head, fields: Fields) -> PartJob:
    """The job from its file; every error is a `BadFile` that names file, key and value."""
    unit = head.unit
    work, tool = fields.table_at("work"), fields.table_at("tool")
    diameter = work.length("diameter", unit)
    bore = work.length("bore", unit, quantity(0, unit), zero_ok=True)
    length = work.length("length", unit) + work.length(
        "left_for_facing", unit, Unit(unit).size("0.010", "0.3"), zero_ok=True
    )
    reach = tool.length("reach", unit)
    try:
        found = parting(diameter, bore, reach)
    except ImpossibleInput as bad:
        (work if bad.field == "bore" else tool).fail(
            bad.field.split()[-1], str(bad.value), bad.want
        )
    holding, blade = read_holding(fields.table_at("holding", {}), unit), tool.length("blade", unit)
    job = PartJob(
        head=head,
        holding=holding,
        diameter=diameter,
        bore=bore,
        length=length,
        blade=blade,
        reach=reach,
        from_jaws=_from_jaws(work, holding.stick_out, length + blade, unit),
        found=found,
        turning=read_turning(tool, head.material, unit, diameter, share=(1, 3), by_hand=CROSS),
    )
    work.done()
    tool.done()
    if job.holding.how == "between centres" or job.holding.tailstock:
        fields.fail(
            "holding.how",
            repr(job.holding.how),
            "never part off between centres: the piece would climb on the blade",
        )
    out = job.holding.stick_out
    if out is not None and job.m(out) <= job.m(job.length + job.blade):
        fields.fail(
            "holding.stick_out",
            str(out),
            "the cut would be in the jaws: more than the length and the blade",
        )
    if job.from_jaws is not None and job.from_jaws > job.diameter * FURTHEST:
        want = f"{FURTHEST} diameters at most: further out the work bends and climbs on the blade"
        work.fail("from_jaws", str(job.from_jaws), f"{want}. Hold it shorter")
    return job


def _from_jaws(work: Fields, out: Quantity | None, used: Quantity, unit: str) -> Quantity | None:
    """How far from the jaws the cut is, as given or by how far the work stands out of them."""
    given = work.optional_length("from_jaws", unit)
    if given is None and out is not None and out > used:
        given = out - used
    return given


def plan(job: PartJob, machine: Machine, facts: Facts) -> Plan:
    """The plan on this machine."""
    wanted_lathe(machine, CROSS, "carriage")
    blade = job.q(job.told(facts.get(BLADE), job.blade))
    speed = lathe_speed(job.turning, machine, facts)
    axis, cross = machine.axis("carriage"), machine.axis(CROSS)
    along = Figure(
        job.q(job.m(job.length) + job.m(blade)), "along from the end face", places(job.unit),
        (Term("length with facing", job.length), Term("blade", blade)),
        "length + the blade's width, its left corner touched to the face", "geometry",
    )  # fmt: skip
    to_bore = job.m(job.found.travel)
    past = min(THROUGH[job.unit], job.m(job.reach) - to_bore) if job.bore.magnitude else Decimal(0)
    travel = job.q((to_bore + past) * 2 * dial_share(cross))
    deep = settle(travel, cross.graduation, Toward.DEEPER, halves=False)
    inward = Figure(
        travel, "in to the " + ("bore" if job.bore.magnitude else "centre"), places(job.unit),
        (Term("diameter", job.diameter, 0), Term("bore", job.bore, 0),
         *((Term("into it", job.q(past), 0),) if past else ())),
        f"half of the diameter less the bore{', and into it' if past else ''}, "
        "as this dial counts it", "geometry",
    )  # fmt: skip
    steps: list[Step] = [
        *first_checks(
            job, machine, job.diameter, dial_check(machine), *_checks(job),
            tool_words="Blade exactly on centre, square to the work, and tight?",
        ),
        *notes(speed),
        _measure_blade(job),
        Touch(id="touch-face", title="Touch the end face",
              spindle="on",
              spindle_words="Spindle on.",
              say=("The blade's left corner to the end face.",
                   f"Carriage {axis.way(1)}, gently, till it just marks."),
              cautions=TOUCH_CAUTIONS, axis="carriage", toward=1, surface="the end face"),
        Move(id="clear-of-face", title="Clear of the work", axis=CROSS, target=None,
             say=("Leave the carriage. Cross slide out, clear of the outside.",),
             done_words="clear"),
        Move(id="along", title="Along to the length", axis="carriage",
             target=settle(along.value, axis.graduation, Toward.DEEPER), approach=1,
             terms_of=along, after=("Lock the carriage.",)),
        Touch(id="touch-work", title="Touch the outside",
              say=("Cross slide in, gently, till the blade just marks.",),
              axis=CROSS, toward=1, surface="the outside"),
        Cut(id="part-cut", title="Part it off", number=1, of=1, depth=deep, taken=deep,
            remaining=quantity(0, job.unit), kind="finishing", feed_axis=CROSS,
            feed_target=deep, feed_approach=1, figure=inward, limit=deep, pass_limit=deep,
            say=("Oil, and a steady feed: don't let it rub. Hands off the piece.",
                 "Grabs or chatters? Spindle off, then look.")),
        Note(id="piece-off", title="The piece",
             spindle="off", spindle_words="Spindle off before you pick it up.",
             say=("Hot, and sharp at the edge.",
                  "Blade out. Face it to length next.")),
    ]  # fmt: skip
    return Plan(
        new_tool=checks.NEW_LATHE_TOOL,
        title=job.head.title,
        operation="part",
        unit=job.unit,
        steps=tuple(steps),
        results=(
            ("along", along),
            ("full depth", inward),
            ("reach", Figure(job.found.most_reach.to(job.unit), "the most the blade stands out",
                             places(job.unit), source="common practice")),
            *results(speed),
        ),
        sources=("common practice", speed.speed.source),
        depth_axis=CROSS,
        full_depth=deep,
        drawing=(
            ("diameter", job.diameter), ("bore", job.bore), ("length", job.length),
            ("blade", blade), ("depth_full", deep),
        ),
        drawing_kind="parted",
    )  # fmt: skip


def _checks(job: PartJob) -> list[Step]:
    reach = Figure(
        job.found.most_reach.to(job.unit), "the most it stands out", places(job.unit),
        (Term("to cut", job.found.travel.to(job.unit)), Term("a tenth of the diameter",
                                                             (job.diameter / 10).to(job.unit))),
        source="common practice",
    )  # fmt: skip
    words = ["Blade out no further than it must?"]
    if job.reach > job.found.most_reach:
        words = ["The blade stands out too far. Push it back in the holder."]
    if job.from_jaws is not None and job.from_jaws > job.diameter:
        words.append("That's more than a diameter from the jaws: it will chatter.")
    return [
        Check(id="check-blade", title="Blade", say=tuple(words), figure=reach),
        Check(id="check-part", title="Parting off",
              say=("Cut close to the jaws? No tailstock centre in the end.",
                   "Carriage locked for the cut, gibs snug?")),
    ]  # fmt: skip


def _measure_blade(job: PartJob) -> Measure:
    return Measure(
        id="measure-blade", title="Blade, measured",
        say=("Measure the blade's width at its edge.",),
        cautions=MEASURE_CAUTIONS[:1], fact=BLADE, gauge="micrometer",
        figure=Figure(job.blade, "blade", places(job.unit)), nominal=job.blade,
        band_low=job.blade / 2, band_high=job.blade * 2,
        resolution=quantity(FINEST[job.unit], job.unit), optional=True,
    )  # fmt: skip
