"""Slitting with a saw on an arbor: to a depth, or right through.

The saw is placed by its measured width from the touched side; the piece is measured at the
witness mark, while it can still be saved. A saw bites, wanders and shatters: light feed, work
that can't move, and nobody in line with it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from functools import cached_property

from assistant.calc.dial import settle
from assistant.calc.slots import slitting
from assistant.errors import BadInput
from assistant.fields import Fields
from assistant.jobs.common import checks
from assistant.jobs.jobfile import Head
from assistant.jobs.milling import block, mill
from assistant.jobs.milling.block import ACROSS, BlockJob, BlockWork
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Check, Facts, Measure, Move, Step
from assistant.jobs.to_size.depth_work import DepthWork, tells_a_depth
from assistant.jobs.to_size.sizing import Sizing, Toleranced, in_job, toleranced
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.units import Quantity, is_quantity

DRAWING = "the drawing"
OVER = {"inch": Decimal("0.030"), "mm": Decimal("0.8")}
"""How far a saw goes beyond the far side of what it cuts through: common practice, no source."""


@dataclass(frozen=True, eq=False)
class SlittingJob(BlockJob):
    """A saw cut."""

    piece: Toleranced
    """From the touched side to the cut: the width of the piece."""
    depth: Toleranced
    through: bool
    length: Quantity


def read(head: Head, fields: Fields) -> SlittingJob:
    """The job from its file."""
    cut = fields.table_at("cut")
    through = cut.flag("through", False)
    base = block.common(head, fields, ("slitting saw",))
    if through:
        thick = in_job(cut.length("thickness", head.unit), head.unit)
        over = OVER[head.unit]
        depth = Toleranced(thick + over, thick + over / 3, thick + over * 2)
    else:
        depth = toleranced(cut, "depth", head.unit)
    job = SlittingJob(
        **base,  # type: ignore[arg-type]
        piece=toleranced(cut, "piece", head.unit),
        depth=depth,
        through=through,
        length=cut.length("length", head.unit),
    )
    cut.done()
    if job.cutter.body is None:
        fields.fail("cutter.body", "missing", "wanted the collar's diameter: it sets the reach")
    try:
        slitting(job.cutter.diameter, job.cutter.body, job.q(job.depth.high), job.length)
    except BadInput as bad:
        fields.fail(f"cut: {bad.field}", bad.value, bad.want)
    return job


@dataclass(frozen=True)
class _Work(BlockWork):
    job: SlittingJob = field()

    @property
    def centre(self) -> Decimal:
        """From the touched side to the middle of the saw."""
        return self.job.piece.nominal + self.cutter / 2

    @cached_property
    def work(self) -> DepthWork:
        """Down, from the top."""
        job = self.job
        return DepthWork(
            unit=job.unit,
            machine=self.machine,
            facts=self.facts,
            axis_name=job.depth_axis,
            sizing=Sizing(
                "the depth of the cut", "depth gauge", job.depth.low, job.depth.high, Decimal(0),
                job.unit, places=mill.size_places(job.unit), source=DRAWING,
            ),
            aim=job.depth.aim(job.aim_inside),
            limit=job.m(job.cutter.max_pass),
            witness=job.witness,
            finish=Decimal(0) if job.through else job.finish,
            gives=mill.GIVES,
            terms=(Term("thickness and clear of it" if job.through else "depth on the drawing",
                        job.q(job.depth.nominal)),),
            look="Look at the mark. Is it straight, end to end?",
        )  # fmt: skip

    def _piece(self) -> list[Step]:
        """The width of the piece at the witness mark, and the saddle corrected by it."""
        job = self.job
        nominal, low, high = (job.q(s) for s in (job.piece.nominal, job.piece.low, job.piece.high))
        slack = job.q(Decimal(mill.SLACK[job.unit]))
        steps: list[Step] = [
            Measure(
                id="measure-piece",
                title="Side to the mark",
                spindle="off",
                spindle_words="Spindle off.",
                say=("Measure from the side to the near edge of the mark.",),
                cautions=checks.MEASURE_CAUTIONS,
                fact="piece",
                gauge="caliper",
                figure=Figure(nominal, "side to the mark", mill.size_places(job.unit),
                              source=DRAWING),
                nominal=nominal,
                low=low,
                high=high,
                band_low=nominal - slack,
                band_high=nominal + slack,
                at_axis=ACROSS,
                grows=True,
                too_far="too wide",
                optional=True,
            )
        ]  # fmt: skip
        told, at = self.facts.get("piece"), self.facts.get("piece.at")
        if not (is_quantity(told) and is_quantity(at)):
            return steps
        short = job.piece.nominal - job.m(told)
        target = settle(job.q(job.m(at) + short * self.way), self.side.axis.graduation)
        if target != at:
            off = Figure(job.q(abs(short)), "out of place", mill.places(job.unit),
                         (Term("wanted", nominal), Term("measured", told, -1)),
                         source="common practice")  # fmt: skip
            steps.append(
                Move(
                    id="correct-piece",
                    title="Correct the place of the cut",
                    say=("Saw off the end of the work? Unlock the saddle.",),
                    after=("Lock it.",),
                    axis=ACROSS,
                    target=target,
                    approach=self.way,
                    verify=True,
                    optional=True,
                    terms_of=off,
                )
            )
        return steps

    def steps(self) -> list[Step]:
        """The whole order of the work."""
        job = self.job
        saw = Check(
            id="check-saw",
            title="The saw",
            say=(
                "Saw sharp and true, teeth the right way round, both collars clean?",
                "Guard on. Nothing below that it can cut into?",
            ),
            cautions=("A saw can shatter. Stand out of line with it.",),
        )
        steps = self.setup(saw)
        steps += self.touch_side()
        steps.append(
            self.to_first(
                self.centre,
                Term("width of the piece", job.q(job.piece.nominal)),
                Term("half the saw", job.q(self.cutter / 2)),
                title="To the cut",
            )
        )
        steps += self.touch_top()
        for step in self.work.steps(self.stroke()):
            if job.through and tells_a_depth(step):
                continue
            steps.append(step)
            if step.id == "look-at-mark":
                steps += self._piece()
        steps.append(
            mill.deburr("Hold both pieces. Deburr the edges.", "Spindle off.")
            if job.through
            else mill.deburr(spindle_words="Spindle off, saw clear.")
        )
        return steps


def plan(job: SlittingJob, machine: Machine, facts: Facts) -> Plan:
    """The plan; `ImpossibleInput` off a horizontal mill."""
    mill.wanted_machine(machine, ("horizontal mill",), "a slitting saw")
    made = _Work(job, machine, facts)
    assert job.cutter.body is not None
    saw = slitting(job.cutter.diameter, job.cutter.body, job.q(made.work.aim), job.length)
    run = Figure(
        saw.travel, "table run, clear to clear", mill.places(job.unit),
        (Term("length", job.length), Term("in and out of the cut", saw.run_in * 2)),
        "length + 2 sqrt(depth x (saw - depth))", "geometry",
    )  # fmt: skip
    size = made.work.sizing.figure
    results: list[tuple[str, Figure]] = [
        *((("the depth of the cut", size),) if not job.through else ()),
        ("full depth", made.work.aim_figure),
        ("reach", Figure(saw.reach, "deepest before the collars rub", 3, source="geometry")),
        ("run", run),
        *made.spindle_results(),
    ]
    return Plan(
        title=job.head.title,
        operation="slitting",
        unit=job.unit,
        steps=tuple(made.steps()),
        results=tuple(results),
        sources=tuple(dict.fromkeys(figure.source for _, figure in results if figure.source)),
        answers=(
            ("which_feed", made.which_feed),
            ("how_many_passes", f"{made.work.count} passes."),
        ),
        depth_axis=job.depth_axis,
        full_depth=job.q(made.work.aim),
        drawing=(
            ("width", job.q(made.cutter)),
            ("depth_full", job.q(made.work.aim)),
            ("cutter_width", job.q(made.cutter)),
        ),
        drawing_kind="slot",
    )
