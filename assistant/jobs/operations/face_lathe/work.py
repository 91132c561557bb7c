"""Facing to length on the lathe: touch the end, clean it up, measure the length, take the rest.

The length is set by the carriage's dial or by the compound along the bed; the cut runs across, from
the outside to the centre or to the bore. Common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from assistant.errors import ImpossibleInput
from assistant.fields import Fields
from assistant.jobs.common import checks
from assistant.jobs.common.checks import MEASURE_CAUTIONS
from assistant.jobs.common.off_size import need_metal
from assistant.jobs.jobfile import Head
from assistant.jobs.lathe.setup import (
    TOUCH_CAUTIONS,
    LatheJob,
    finish_note,
    first_checks,
    places,
    read_holding,
    wanted_lathe,
)
from assistant.jobs.lathe.slender import kept_to, stands
from assistant.jobs.lathe.speed import Turning, lathe_speed, notes, read_turning, results
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Check, Cut, Facts, Measure, Move, Step, Touch
from assistant.jobs.to_size.depth_work import BAND, FINEST, DepthWork
from assistant.jobs.to_size.infeed import NOTHING
from assistant.jobs.to_size.passes import Pass, roughing_passes
from assistant.jobs.to_size.sizing import Sizing, Toleranced, toleranced
from assistant.machine import Machine
from assistant.replacing import replace
from assistant.spoken import Figure, Term
from assistant.units import Quantity, Unit, is_quantity, magnitude, quantity

__all__ = ["plan", "read"]

USUAL: dict[str, dict[str, Decimal]] = {
    "inch": {
        "clean_up": Decimal("0.005"), "finish": Decimal("0.005"), "max_cut": Decimal("0.040"),
    },
    "mm": {"clean_up": Decimal("0.15"), "finish": Decimal("0.15"), "max_cut": Decimal("1")},
}  # fmt: skip
"""Where a job file is silent: common practice, no source."""
CLEAN = "clean.size"


@dataclass(frozen=True, eq=False)
class FaceJob(LatheJob):
    """A length to be faced to. Decimals in the job's unit."""

    stock: Decimal
    size: Toleranced
    diameter: Quantity
    bore: Quantity | None
    by: str
    stays: bool
    """Whether it is measured in the chuck (from a shoulder), or comes out against a stop."""
    clean_up: Decimal
    finish: Decimal
    max_cut: Decimal
    turning: Turning


def read(head: Head, fields: Fields) -> FaceJob:
    """The job from its file; every error is a `BadFile` that names file, key and value."""
    unit = head.unit
    work, tool = fields.table_at("work"), fields.table_at("tool", {})

    def cut(key: str) -> Decimal:
        return magnitude(tool.length(key, unit, quantity(USUAL[unit][key], unit)), unit)

    diameter = work.length("diameter", unit)
    job = FaceJob(
        head=head,
        holding=read_holding(fields.table_at("holding", {}), unit),
        stock=magnitude(work.length("stock_length", unit), unit),
        size=toleranced(work, "length", unit),
        diameter=diameter,
        bore=work.optional_length("bore", unit),
        by=work.choice("by", ("carriage", "compound"), "compound"),
        stays=work.choice("measured", ("in the chuck", "out of it"), "out of it") == "in the chuck",
        clean_up=cut("clean_up"),
        finish=cut("finish"),
        max_cut=cut("max_cut"),
        turning=read_turning(tool, head.material, unit, diameter, by_hand="cross slide"),
    )
    work.done()
    tool.done()
    if job.stock <= job.size.high:
        work.fail("stock_length", f"{job.stock} {unit}", "must be longer than the length")
    if job.bore is not None and job.bore >= diameter:
        work.fail("bore", str(job.bore), f"must be smaller than the outside, {diameter}")
    if job.holding.tailstock:
        fields.fail(
            "holding.tailstock", "True", "the tailstock is in the way of facing to the centre"
        )
    return job


@dataclass(frozen=True)
class FaceWork(DepthWork):
    """Passes to the length; the first cleans the end up, whatever it leaves."""

    __hash__ = DepthWork.__hash__

    @cached_property
    def finishing_cut(self) -> Decimal:
        """Left for the finishing cut after the clean-up cut, as much as there is."""
        left = self.aim - self.witness
        return max(NOTHING, min(max(self.finish, self.least_cut), left))

    @cached_property
    def passes(self) -> tuple[Pass, ...]:
        """The clean-up cut is always there: it has been cut."""
        return roughing_passes(
            max(self.aim - self.finishing_cut, self.witness), witness=self.witness,
            limit=self.limit, least=self.least_cut, chosen=self.chosen_at_first,
            step=self._m(self.axis.graduation),
        )  # fmt: skip


def plan(job: FaceJob, machine: Machine, facts: Facts) -> Plan:
    """The plan on this machine; raises `ImpossibleInput` where it can't be done there."""
    wanted_lathe(machine, "cross slide", job.by)
    most = stands(job, machine, job.turning, job.max_cut, (), job.m(job.diameter))
    work = _work(job, machine, facts, most)
    speed = lathe_speed(job.turning, machine, facts)
    steps: list[Step] = [
        *first_checks(
            job, machine, job.diameter, *_checks(job),
            tool_words="Tool tight and exactly on centre? High or low, it leaves a pip.",
            most=kept_to(most, job.max_cut),
        ),
        *notes(speed),
        Touch(
                stays=False,
            id="touch-face", title="Touch the end face", axis=job.by, toward=1,
            spindle="on",
            say=(f"{job.by.capitalize()} {machine.axis(job.by).way(1)}, gently, "
                 "till it just marks the face.",),
            cautions=TOUCH_CAUTIONS, surface="the end face",
        ),
        Move(id="clear-of-face", title="Clear of the work", axis="cross slide", target=None,
             say=(f"Leave the {job.by}. Cross slide out, clear of the outside.",),
             done_words="clear"),
        *work.steps(_FaceStroke(work, job)),
        finish_note(),
    ]  # fmt: skip
    return Plan(
        new_tool=checks.NEW_LATHE_TOOL,
        title=job.head.title,
        operation="face-lathe",
        unit=job.unit,
        steps=tuple(steps),
        results=(("length", work.sizing.figure), ("full depth", work.aim_figure), *results(speed)),
        sources=("common practice", speed.speed.source),
        depth_axis=job.by,
        full_depth=job.q(work.aim),
        drawing=(
            ("diameter", job.diameter),
            ("length", job.q(job.stock)),
            ("depth_full", job.q(work.aim)),
            *((("bore", job.bore),) if job.bore is not None else ()),
        ),
        drawing_kind="faced",
    )


def _work(job: FaceJob, machine: Machine, facts: Facts, most: Decimal) -> FaceWork:
    axis = machine.axis(job.by)
    if job.m(axis.graduation) > job.size.high - job.size.low:
        raise ImpossibleInput(
            "length", f"limits {(job.size.high - job.size.low).normalize():f} {job.unit} apart",
            f"the {job.by} dial reads to {job.m(axis.graduation).normalize():f}: use the compound",
        )  # fmt: skip
    size, at = facts.get(CLEAN), facts.get(f"{CLEAN}.at")
    at_zero = job.stock
    if is_quantity(size) and is_quantity(at):
        at_zero = job.m(size) + job.m(at)
    wanted = job.size.aim((job.size.high - job.size.low) / 4)
    aim = at_zero - wanted
    need_metal("length", at_zero, wanted, job.unit)
    total = job.stock - wanted
    clean_up, finish = min(job.clean_up, most), min(job.finish, most)
    if clean_up + finish > total:  # little to come off: still a cut to measure before the last
        clean_up, finish = total / 3, total / 2
    return FaceWork(
        unit=job.unit,
        machine=machine,
        made="the face",
        facts=facts,
        axis_name=job.by,
        sizing=Sizing(
            what="the length", gauge="micrometer", low=job.size.low, high=job.size.high,
            at_zero=at_zero, unit=job.unit, slope=Decimal(-1),
            places=Unit(job.unit).coarse_places, too_far="too short",
            advice="Too short. Ask before you go on.", source="the drawing",
            how="" if job.stays else "Out of the chuck, and back against the stop.",
        ),
        aim=aim,
        limit=most,
        witness=clean_up,
        finish=finish,
        look="",
        terms=(Term("from", job.q(at_zero), 0), Term("to", job.q(wanted), 0)),
        formula="the length there is, less the length wanted",
    )  # fmt: skip


def _checks(job: FaceJob) -> list[Step]:
    first = Check(
        id="check-other-end", title="The other end",
        say=("The end you measure from: faced clean already?",),
    )  # fmt: skip
    stop = Check(
        id="check-stop", title="A stop in the chuck",
        say=("It comes out to be measured.", "A stop in the chuck, to put it back the same?",),
    )  # fmt: skip
    along = Check(
        id="check-compound", title="Compound along the bed",
        say=("Compound along the bed, proved with an indicator? Carriage locked?",),
    )  # fmt: skip
    return [
        first,
        *([] if job.stays else [stop]),
        *([along] if job.by == "compound" else []),
    ]


@dataclass(frozen=True)
class _FaceStroke:
    """A cut across the end, and back clear of the outside."""

    work: FaceWork
    job: FaceJob

    def passes(self, move: Move, cut: Cut) -> list[Step]:
        """Set the length, lock the carriage, feed across."""
        to = "centre" if self.job.bore is None else "bore"
        said = tuple(text for text in move.say if "witness" not in text)
        witness = cut.kind == "witness"
        return [
            replace(
                move,
                title="Set the clean-up cut" if witness else move.title,
                say=(*said, "A clean-up cut first.") if witness else said,
                after=("Lock the carriage.",),
            ),
            replace(
                cut,
                say=(f"Cross slide in, evenly, to the {to}.",
                     "Not past it." if self.job.bore is None else "Into it, and stop."),
                feed_axis="cross slide",
            ),
        ]  # fmt: skip

    def back(self, name: str) -> list[Step]:
        """Out again with the length left as it is; after the clean-up cut it is measured."""
        steps: list[Step] = [
            Move(id=f"{name}-back", title="Clear of the work", axis="cross slide", target=None,
                 spindle="off",
                 spindle_words="Spindle off.",
                 say=(f"Leave the {self.job.by}.",
                      "Cross slide out, clear of the outside."),
                 done_words="clear")
        ]  # fmt: skip
        if name == self.work.id("witness-1"):
            steps.append(self._measure())
        return steps

    def _measure(self) -> Measure:
        job, unit = self.job, self.job.unit
        foreseen = job.q(self.work.sizing.size_of(self.work.passes[0].depth))
        slack = quantity(BAND[unit] * 3, unit)
        how = "" if job.stays else " Out of the chuck, and back against the stop."
        return Measure(
            id="measure-clean-up", title="Clean-up cut: the length, measured",
            say=(f"Is the face clean? Measure the length.{how}",), cautions=MEASURE_CAUTIONS,
            fact=CLEAN, gauge="micrometer",
            figure=Figure(foreseen, "the length, about", places(unit)), nominal=foreseen,
            band_low=foreseen - slack, band_high=foreseen + slack, at_axis=job.by,
            resolution=quantity(FINEST[unit], unit),
        )  # fmt: skip
