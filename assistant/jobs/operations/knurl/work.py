"""Knurling: the blank turned to a diameter that the knurl's teeth divide, then pressed and fed.

A knurl that does not divide the circumference cuts a second track. Common practice, no source; the
diameter is geometry.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.knurling import DIAMETRAL_PITCHES, KnurlBlank, knurl_blank, knurl_blank_dp
from assistant.calc.turning import to_diameter
from assistant.errors import BadInput, ImpossibleInput
from assistant.fields import Fields
from assistant.jobs.common import checks
from assistant.jobs.common.checks import MEASURE_CAUTIONS
from assistant.jobs.jobfile import Head
from assistant.jobs.lathe.diameter import (
    USUAL,
    Diameter,
    LengthwiseStroke,
    diameter_work,
    touch_work,
)
from assistant.jobs.lathe.setup import (
    CROSS,
    LatheJob,
    check_stick_out,
    dial_check,
    finish_note,
    first_checks,
    places,
    read_holding,
    springs,
    wanted_lathe,
)
from assistant.jobs.lathe.slender import kept_to, lighter, stands
from assistant.jobs.lathe.speed import Turning, lathe_speed, notes, read_turning, results
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Check, Cut, Facts, Measure, Move, Note, Overrun, Step, Touch
from assistant.jobs.to_size.depth_work import FINEST
from assistant.jobs.to_size.sizing import Toleranced
from assistant.machine import Machine
from assistant.replacing import replace
from assistant.spoken import Figure, Term
from assistant.units import Quantity, magnitude, quantity

__all__ = ["plan", "read"]

MOST_TRIES = 4
"""Tries of the track: after that the wheels or the pitch are not what was thought."""
NEAR = {"inch": Decimal("0.002"), "mm": Decimal("0.05")}
"""How near to its diameter the blank is turned: common practice, no source."""
LIGHT = {"inch": Decimal("0.015"), "mm": Decimal("0.4")}
"""Left on the diameter for the finishing cut of the blank."""


@dataclass(frozen=True, eq=False)
class KnurlJob(LatheJob):
    """A knurled band."""

    wanted: Quantity
    """The diameter that was meant."""
    pitch: Quantity | None
    """Circular pitch, square to the teeth; None for a diametral pitch knurl."""
    diametral: int
    helix: Quantity
    diamond: bool
    blank: KnurlBlank
    one: Diameter
    length: Quantity
    turning: Turning
    knurling: Turning

    def near(self, diameter: Quantity, rule: str) -> KnurlBlank:
        """The diameter near this one on which the teeth come out even."""
        return _blank(diameter, self.pitch, self.diametral, self.helix, rule)


def _blank(
    diameter: Quantity, pitch: Quantity | None, diametral: int, helix: Quantity, rule: str
) -> KnurlBlank:
    if pitch is None:
        return knurl_blank_dp(diameter, diametral, rule)
    return knurl_blank(diameter, pitch, helix, rule)


def read(head: Head, fields: Fields) -> KnurlJob:
    """The job from its file; every error is a `BadFile` that names file, key and value."""
    unit = head.unit
    table, work, tool = (fields.table_at(n, {} if n == "tool" else ...)
                         for n in ("knurl", "work", "tool"))  # fmt: skip
    diamond = table.choice("pattern", ("straight", "diamond"), "straight") == "diamond"
    pitch = table.optional_length("pitch", unit)
    diametral = table.whole("diametral_pitch", 16, 200, DIAMETRAL_PITCHES[1])
    if pitch is not None and "diametral_pitch" in table.table:
        table.fail("pitch", str(pitch), "give a pitch or a diametral_pitch, not both")
    if pitch is None and "diametral_pitch" not in table.table:
        table.fail("pitch", "missing", "wanted the knurl's pitch or its diametral_pitch")
    helix = quantity(table.number("helix", 0, 59, 30 if diamond else 0), "degree")
    wanted, stock = work.length("diameter", unit), work.length("stock", unit)
    try:
        blank = _blank(wanted, pitch, diametral, helix, "nearest")
    except (BadInput, ImpossibleInput) as bad:
        work.fail("diameter", str(bad.value), bad.want)
    size = magnitude(blank.diameter, unit)
    if magnitude(stock, unit) <= size + NEAR[unit]:
        work.fail("stock", str(stock), f"must be larger than the blank, {size:.4f}")
    max_cut = tool.length("max_cut", unit, quantity(USUAL[unit]["max_cut"], unit))
    turning = read_turning(tool, head.material, unit, stock)
    job = KnurlJob(
        head=head,
        holding=read_holding(fields.table_at("holding", {}), unit),
        wanted=wanted,
        pitch=pitch,
        diametral=diametral,
        helix=helix,
        diamond=diamond,
        blank=blank,
        one=Diameter(
            stock=magnitude(stock, unit),
            size=Toleranced(size, size - NEAR[unit], size + NEAR[unit]),
            inner=False,
            clean_up=USUAL[unit]["clean_up"],
            finish=LIGHT[unit],
            max_cut=magnitude(max_cut, unit),
            aim_inside=NEAR[unit] / 4,
            what="the blank",
        ),
        length=work.length("length", unit),
        turning=turning,
        knurling=replace(turning, share=(1, 4)),
    )
    for part in (table, work, tool):
        part.done()
    check_stick_out(job, fields, job.length, "knurl")
    return job


def plan(job: KnurlJob, machine: Machine, facts: Facts) -> Plan:
    """The blank turned first, then the knurl."""
    wanted_lathe(machine, CROSS)
    _held_short(job)
    one = job.one
    most = stands(job, machine, job.turning, one.max_cut, (), one.size.nominal)
    one = lighter(one, most)
    work = diameter_work(job, machine, facts, one, terms_source="geometry of the knurl")
    speed = lathe_speed(job.turning, machine, facts)
    stroke = LengthwiseStroke(work, one, "Feed along, past where the knurl ends.")
    figure = _blank_figure(job, job.blank)
    steps: list[Step] = [
        *first_checks(
            job, machine, job.blank.diameter, dial_check(machine), _pressure(),
            most=kept_to(most, job.one.max_cut),
        ),
        *notes(speed),
        Note(id="blank", title="The blank", say=("A diameter that the teeth divide.",),
             figure=figure),
        touch_work(job.one, machine),
        *stroke.returned("start", ""),
        *work.steps(stroke),
        *_knurl(job, machine, facts),
        finish_note(),
    ]  # fmt: skip
    return Plan(
        new_tool=checks.NEW_LATHE_TOOL,
        title=job.head.title,
        operation="knurl",
        unit=job.unit,
        steps=tuple(steps),
        results=(
            ("the blank", work.sizing.figure),
            ("diameter for the knurl", figure),
            ("full depth", work.aim_figure),
            ("run", Figure(job.length, "to run", places(job.unit), source="the drawing")),
            *results(speed),
        ),
        sources=("geometry", "common practice", speed.speed.source),
        answers=(("what_diameter", figure),),
        depth_axis=CROSS,
        full_depth=job.q(work.aim),
        drawing=(
            ("stock", job.q(job.one.stock)),
            ("finished", figure.value),
            ("length", job.length),
            ("depth_full", job.q(work.aim)),
            ("teeth", quantity(job.blank.teeth, "dimensionless")),
            ("diamond", quantity(int(job.diamond), "dimensionless")),
        ),
        drawing_kind="knurled",
    )


def _blank_figure(job: KnurlJob, blank: KnurlBlank) -> Figure:
    tooth = (
        Term("pitch", job.pitch.to(job.unit), 0)
        if job.pitch is not None
        else Term("diametral pitch", quantity(job.diametral, "dimensionless"), 0)
    )
    formula = "teeth x pitch / pi" if job.pitch is not None else "teeth / diametral pitch"
    if job.diamond and job.pitch is not None:
        formula = "teeth x pitch / cos of the helix / pi"
    return Figure(
        blank.diameter.to(job.unit), "for the blank", places(job.unit),
        (Term("meant", job.wanted, 0), tooth,
         Term("teeth round", quantity(blank.teeth, "dimensionless"), 0)),
        formula, "geometry",
    )  # fmt: skip


def _held_short(job: KnurlJob) -> None:
    """Raises `ImpossibleInput` for a blank that stands out of the jaws too far to be pressed."""
    out, holding = job.holding.stick_out, job.holding
    if springs(job, job.blank.diameter) and not (holding.tailstock or holding.steady):
        assert out is not None
        raise ImpossibleInput(
            "holding.stick_out", f"{job.m(out).normalize():f} {job.unit}",
            "more than three diameters, and a knurl presses hard: "
            "bring up the tailstock (tailstock = true), or hold it shorter",
        )  # fmt: skip


def _pressure() -> Check:
    return Check(
        id="check-pressure",
        title="Knurling presses hard",
        say=("Knurling presses hard: held short, or on the tailstock?",),
    )


def _knurl(job: KnurlJob, machine: Machine, facts: Facts) -> list[Step]:
    slow = lathe_speed(job.knurling, machine, {})
    reads = "diameter" if machine.axis(CROSS).diameter_reading else "radius"
    steps: list[Step] = [
        Check(id="check-wheels", title="Knurling tool",
              say=("Knurls clean and free on their pins, on centre and square?",
                   "Hands, brush and rag clear: it drags things in.")),
        Note(id="knurl-speed", title="Slower for the knurl", say=("Slow it down for the knurl.",),
             figure=replace(slow.speed, what="knurling speed")),
        Touch(id="touch-knurl", title="Knurl to the blank",
              spindle="off", spindle_words="Spindle off.", 
              say=("Half the wheel over the end of the blank.",
                   "Cross slide in till the wheel just touches."),
              axis=CROSS, toward=1, surface="the blank with the knurl"),
    ]  # fmt: skip
    blank = job.blank
    for number in range(1, MOST_TRIES + 1):
        steps += [
            Move(id=f"press-{number}", title="Press it in", axis=CROSS, target=None,
                 spindle="on", spindle_words="Spindle on, slow.", spindle_after="off",
                 say=("Press in firmly, at once. Two or three turns.",
                      "Spindle off, and look at the track."), done_words="clear"),
            Measure(id=f"track-{number}", title="One track", kind="gauge",
                    fact=f"track.{number}", gauge="by eye", cautions=MEASURE_CAUTIONS[:1],
                    say=("Do the teeth fall in their own track: one pattern, not two?",)),
        ]  # fmt: skip
        if facts.get(f"track.{number}") != "no":
            break
        if number == MOST_TRIES:
            steps.append(Note(id="never-tracks", title="It does not track",
                              say=("Still two tracks. Check the knurl first.",)))  # fmt: skip
            return steps
        before, blank = (
            blank,
            job.near(blank.diameter - quantity(NEAR[job.unit], job.unit), "below"),
        )
        off = to_diameter(before.diameter, blank.diameter, reads).dial.to(job.unit)
        less = _blank_figure(job, blank)
        less = replace(less, terms=(*less.terms, Term("off, on the dial", off, 0)))
        steps.append(
            Note(id=f"smaller-{number}", title="The next diameter down",
                 say=("Turn the track off. A tooth fewer.",), figure=less)
        )  # fmt: skip
    steps.append(
        Cut(id="knurl-cut", title="Knurl along", overrun=Overrun.NONE,
            number=1, of=1, depth=quantity(0, job.unit),
            taken=quantity(0, job.unit), kind="knurling", spindle_after="off",
            say=("Plenty of oil. Feed along, and don't back out till it's clean.",
                 "Full? Spindle off before you back out."),
            feed_axis="carriage", figure=Figure(job.length, "to run", places(job.unit)))
    )  # fmt: skip
    steps.append(
        Measure(id="measure-knurl", title="Over the knurl",
                spindle="off", spindle_words="Spindle off.", 
                say=("It has grown. Measure over the knurl.",),
                cautions=MEASURE_CAUTIONS, fact="over.knurl", gauge="caliper",
                figure=Figure(blank.diameter.to(job.unit), "the blank was", places(job.unit)),
                nominal=blank.diameter.to(job.unit),
                band_low=(blank.diameter * 9 / 10).to(job.unit),
                band_high=(blank.diameter * 12 / 10).to(job.unit),
                resolution=quantity(FINEST[job.unit], job.unit), optional=True)
    )  # fmt: skip
    return steps
