"""Cutting to a diameter by the cross slide, turning or boring.

A clean-up cut is measured before anything is worked out from the touch: a saw-cut or black bar has
no diameter. From then on every pass is counted from that measurement and from where the dial
stood. Depths are what the dial counts: of the diameter on a diameter-reading dial, else half.
Common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from assistant.jobs.common import checks
from assistant.jobs.common.next_part import before, last_size
from assistant.jobs.common.off_size import need_metal
from assistant.jobs.lathe.diameter_job import USUAL, Diameter, read_diameter
from assistant.jobs.lathe.setup import CROSS, TOUCH_CAUTIONS, LatheJob, dial_share, places
from assistant.jobs.steps import (
    Cut,
    Facts,
    FactValue,
    Measure,
    Move,
    Overrun,
    Step,
    SurfaceKey,
    Touch,
)
from assistant.jobs.to_size.depth_work import BAND, FINEST, DepthWork
from assistant.jobs.to_size.infeed import NOTHING
from assistant.jobs.to_size.passes import Pass, roughing_passes
from assistant.jobs.to_size.sizing import Sizing
from assistant.machine import Machine
from assistant.replacing import replace
from assistant.spoken import Figure, Term
from assistant.units import Quantity, is_quantity, quantity

__all__ = [
    "USUAL", "Diameter", "DiameterWork", "LengthwiseStroke", "clean_fact", "dial_holds",
    "diameter_work", "measure_clean", "read_diameter", "touch_work",
]  # fmt: skip


@dataclass(frozen=True)
class DiameterWork(DepthWork):
    """Passes to one diameter, in what the dial counts."""

    on_dial: Decimal = Decimal(1)
    """What the dial counts for a change of one in the diameter: 1 or a half."""
    springy: bool = False
    """Whether a spring pass is taken before it is measured."""

    __hash__ = DepthWork.__hash__

    @property
    def counted(self) -> str:
        """What the dial, and every depth told on it, is counted on."""
        return "on the diameter" if self.axis.diameter_reading else "on the radius"

    def _cut(self, name: str, one: Pass) -> Cut:
        return replace(super()._cut(name, one), left_on=self.counted)

    @cached_property
    def least_cut(self) -> Decimal:
        """The least useful cut, which a profile gives on one side, as the dial counts it."""
        return self._m(self.machine.least_cut) * 2 * self.on_dial

    @cached_property
    def finishing_cut(self) -> Decimal:
        """Left for the finishing cut after the clean-up cut, as much as there is."""
        left = self.aim - self.start - self.witness
        return max(NOTHING, min(max(self.finish, self.least_cut), left))

    @property
    def measured_pass(self) -> Decimal:
        """What the pass before the measurement takes, where the limits are closer than the spring
        of a heavy one may be: as much as the finishing cut after it, which then springs as it did.
        Nothing where any pass will do, or where a spring pass is taken anyway."""
        close = (self.sizing.most - self.sizing.least) / 2 < self.limit * GIVES
        return self.finishing_cut if close and not self.springy else NOTHING

    @cached_property
    def passes(self) -> tuple[Pass, ...]:
        """The clean-up cut is always there, whatever it turns out to leave: it has been cut."""
        return roughing_passes(
            max(self.aim - self.start - self.finishing_cut, self.witness),
            witness=self.witness,
            limit=self.limit,
            least=self.least_cut,
            chosen=self.chosen_at_first,
            step=self._m(self.axis.graduation),
            last=self.measured_pass,
        )

    def is_measured(self, cut: Cut) -> bool:
        """Whether this is the roughing pass that the finishing cut is taken from."""
        # the last that is still to be cut, where some was cut before the job came to it; of those
        # that are measured none becomes the last afterwards
        last = [one.number for one in (*self.passes[-1:], *self.legs[-1].passes[-1:])]
        return cut.kind == "roughing" and cut.number in last and bool(self.finishing_cut)


def diameter_work(
    job: LatheJob, machine: Machine, facts: Facts, one: Diameter, *, terms_source: str = "",
    after: DiameterWork | None = None, springy: bool = False,
) -> DiameterWork:  # fmt: skip
    """The passes of a diameter as far as is known; `after` the larger one that was turned on the
    same shaft, from where that left the dial.

    Raises `ImpossibleInput` where nothing is left to cut.
    """
    axis = machine.axis(CROSS)
    on_dial = dial_share(axis)
    slope = one.sign * -1 / on_dial
    at_zero = _at_zero(job, facts, one, slope) if after is None else _zero_after(after)
    sizing = Sizing(
        what=one.what,
        gauge="bore gauge" if one.inner else "micrometer",
        low=one.size.low,
        high=one.size.high,
        at_zero=at_zero,
        slope=slope,
        unit=job.unit,
        places=places(job.unit) if one.size.high - one.size.low < _COARSE[job.unit] else 3,
        too_far="too big" if one.inner else "too small",
        advice=f"{'Too big' if one.inner else 'Undersize'}. Ask before you go on.",
        source=terms_source or "the drawing",
    )  # fmt: skip
    wanted = one.size.aim(one.aim_inside)
    aim = sizing.depth_of(wanted)
    need_metal(one.what, at_zero, wanted, job.unit, hole=one.inner)
    total = (wanted - one.stock) / slope
    witness, finish = one.clean_up * on_dial, one.finish * on_dial
    start = NOTHING
    if after is not None:  # the dial is right by then: nothing to clean up
        witness, finish = NOTHING, min(finish, total)
        start = job.m(after.finished_at) * one.sign
    elif witness + finish > total:  # little to come off: still a cut to measure before the last
        witness, finish = total / 3, total / 2
    kind = "the diameter" if axis.diameter_reading else "the tool's travel, half of it"
    return DiameterWork(
        unit=job.unit,
        machine=machine,
        facts=facts,
        axis_name=CROSS,
        sizing=sizing,
        aim=aim,
        limit=one.max_cut * 2 * on_dial,
        witness=witness,
        finish=finish,
        start=start,
        sign=one.sign,
        prefix=one.prefix,
        name=f"{one.prefix} step" if after is not None else "",
        look="",
        made="what was turned" if not one.inner else "the bore",
        terms=(
            Term("from", job.q(at_zero), 0),
            Term("to", job.q(wanted), 0),
        ),
        formula=f"the change of diameter; this dial counts {kind}",
        on_dial=on_dial,
        springy=springy,
    )


GIVES = Decimal("0.02")
"""Share of a heavy cut by which work, bar and slide may give way: common practice, no source."""
_COARSE = {"inch": Decimal("0.004"), "mm": Decimal("0")}
"""Limits closer than this are held in ten-thousandths of an inch."""


def _at_zero(job: LatheJob, facts: Facts, one: Diameter, slope: Decimal) -> Decimal:
    """The diameter at the dial's zero: from the clean-up cut where that was measured, or from the
    last size of the part before, for which the dial was not zeroed again."""
    fact = clean_fact(one)
    size, at = facts.get(fact), facts.get(f"{fact}.at")
    if not is_quantity(size):
        size, at = dial_holds(facts, one) or (None, None)
    if is_quantity(size) and is_quantity(at):
        return job.m(size) - slope * one.sign * job.m(at)
    return one.stock


def dial_holds(facts: Facts, one: Diameter) -> tuple[FactValue, FactValue] | None:
    """The last size of the part before and where the cross slide stood, in the same setting."""
    if before(facts, CROSS) is None:
        return None
    return last_size(facts, f"{one.prefix}.size" if one.prefix else "size")


def _zero_after(larger: DiameterWork) -> Decimal:
    """The diameter at the dial's zero, from the last measurement of the diameter before."""
    return larger.sizing.at_zero - larger.sizing.slope * larger.offset


def clean_fact(one: Diameter) -> str:
    """The fact that takes what the clean-up cut measures."""
    return f"{one.prefix}.clean.size" if one.prefix else "clean.size"


def touch_work(one: Diameter, machine: Machine) -> Touch:
    """The tool touched to the turning work, without paper: its mark shows."""
    way = machine.axis(CROSS).way(one.sign)
    where = "the bore" if one.inner else "the work"
    return Touch(
        id=f"{one.prefix}-touch" if one.prefix else "touch-work",
        title=f"Touch {where}",
        spindle="on",
        spindle_words="Spindle on.",
        say=(f"Cross slide {way}, gently, till the tool just marks {where}.",),
        cautions=TOUCH_CAUTIONS,
        axis=CROSS,
        toward=one.sign,
        surface=where,
        stays=False,
    )


def measure_clean(work: DiameterWork, one: Diameter) -> Measure:
    """What the clean-up cut left: the passes after it start from this."""
    job_unit, sizing = work.unit, work.sizing
    foreseen = quantity(sizing.size_of(work.passes[0].depth), job_unit)
    slack = quantity(BAND[job_unit] * 3, job_unit)
    return Measure(
        id=work.id("measure-clean-up"),
        title=f"Clean-up cut: {one.what}, measured",
        spindle="off",
        spindle_words="Spindle off.",
        say=(f"Is it clean all round? Measure {one.what}.",),
        cautions=checks.MEASURE_CAUTIONS,
        fact=clean_fact(one),
        gauge=sizing.gauge,
        figure=Figure(foreseen, one.what, places(job_unit)),
        nominal=foreseen,
        band_low=foreseen - slack,
        band_high=foreseen + slack,
        at_axis=CROSS,
        resolution=quantity(FINEST[job_unit], job_unit),
        grows=one.inner,
    )


@dataclass(frozen=True)
class LengthwiseStroke:
    """A pass along the work, back with the cross slide left where it is."""

    work: DiameterWork
    one: Diameter
    feed_words: str
    feed_axis: str = "carriage"
    target: Quantity | None = None
    """Where the feed stops, counted from its zero; None where a stop or the eye ends it."""
    begin: Quantity | None = None
    """Where the feed begins, counted from its zero, where it has a target."""
    spring: bool = False
    """A pass more at the same setting after each finishing cut, and after the roughing pass that
    is measured: the finishing cut would else take its spring off too, and come out small."""
    ends: tuple[SurfaceKey, ...] = ()
    """What its feed makes at its end: a shoulder."""
    measured_first: bool = True
    """Whether the first cut is measured before the passes go on."""

    def passes(self, move: Move, cut: Cut) -> list[Step]:
        """Set it, feed along; a spring pass before measuring where the work is springy."""
        diameter = self._after(cut)
        said = tuple(text for text in move.say if "witness" not in text)
        witness = cut.kind == "witness"
        steps: list[Step] = [
            replace(
                move,
                title="Set the clean-up cut" if witness else move.title,
                say=(*said, "A clean-up cut first.") if witness else said,
                after=(),
                lock=False,
                answers=diameter,
            ),
            self._feed(cut, (self.feed_words,), diameter),
        ]
        if self.spring and (cut.kind == "finishing" or self.work.is_measured(cut)):
            name = cut.id.removesuffix("-cut")
            steps += self.returned(f"{name}-spring")
            spring = replace(
                cut, id=f"{name}-spring-cut", title="Spring pass", kind="spring",
                taken=cut.taken * 0,
            )  # fmt: skip
            words = ("Same setting, cross slide untouched. A spring pass.", self.feed_words)
            steps.append(self._feed(spring, words, diameter))
        return steps

    def _after(self, cut: Cut) -> tuple[tuple[str, Figure], ...]:
        """The diameter that this pass leaves, for `what diameter`."""
        size = self.work.sizing.size_of(Decimal(cut.depth.to(self.work.unit).magnitude))
        figure = Figure(quantity(size, self.work.unit), "diameter after this cut",
                        places(self.work.unit), self.work.terms, self.work.formula)  # fmt: skip
        return (("what_diameter", figure),)

    def _feed(self, cut: Cut, say: tuple[str, ...], answers: tuple[tuple[str, Figure], ...]) -> Cut:
        return replace(
            cut,
            say=say,
            feed_axis=self.feed_axis,
            feed_target=self.target,
            feed_approach=1,
            overrun=Overrun.LENGTH,
            ends=self.ends,
            answers=answers,
        )

    def returned(self, name: str, off: str = "Spindle off.") -> list[Step]:
        """Back to the start with the cross slide where it is; `off` is empty after a touch."""
        say = ("Leave the cross slide alone.",)
        stopped = "off" if off else ""
        if self.begin is None:
            return [
                Move(id=f"{name}-back", title="Back to the start", spindle=stopped,
                     spindle_words=off,
                     say=(*say, f"{self.feed_axis.capitalize()} back, clear of the end."),
                     axis=self.feed_axis, target=None, done_words="clear")
            ]  # fmt: skip
        return [
            Move(id=f"{name}-back", title="Back to the start", spindle=stopped,
                 spindle_words=off, say=say, axis=self.feed_axis, target=self.begin,
                 approach=-1, lock=False)
        ]  # fmt: skip

    def back(self, name: str) -> list[Step]:
        """Back to the start; after the clean-up cut it is measured."""
        steps = self.returned(name)
        if self.measured_first and name == self.work.id("witness-1"):
            steps.append(measure_clean(self.work, self.one))
        return steps
