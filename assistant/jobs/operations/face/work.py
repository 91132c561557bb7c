"""A face milled to thickness: rows side by side, first till it cleans up, then to size.

The thickness decides, not the depth: the stock is measured first, and what is left comes from
the thickness measured before the finishing cut.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from functools import cached_property

from assistant.calc.dial import settle
from assistant.fields import Fields
from assistant.jobs.common.off_size import need_metal
from assistant.jobs.jobfile import Head
from assistant.jobs.milling import block, mill
from assistant.jobs.milling.block import ACROSS, DRAWING, BlockJob, BlockWork
from assistant.jobs.milling.strokes import Row, RowsStroke
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Facts, Step, Touch
from assistant.jobs.to_size.depth_work import DepthWork
from assistant.jobs.to_size.sizing import Sizing, Toleranced, toleranced
from assistant.machine import Machine
from assistant.replacing import replace
from assistant.spoken import Figure, Term
from assistant.units import Quantity

WIDE = Decimal("1.1")
"""A cutter that many times as wide as the face takes it in one row, down the middle."""

PAST = {"inch": Decimal("0.100"), "mm": Decimal(2)}
"""How far the last row goes past the far edge: common practice, no source."""


@dataclass(frozen=True, eq=False)
class FaceJob(BlockJob):
    """A face."""

    width: Quantity
    stock: Quantity
    """Thickness before."""
    height: Toleranced
    """Thickness wanted."""


def read(head: Head, fields: Fields) -> FaceJob:
    """The job from its file."""
    face = fields.table_at("face")
    job = FaceJob(
        **block.common(head, fields),  # type: ignore[arg-type]
        width=face.length("width", head.unit),
        stock=face.length("stock", head.unit),
        height=toleranced(face, "height", head.unit),
    )
    face.done()
    if job.m(job.stock) <= job.height.high:
        face.fail("stock", str(job.stock), f"nothing to cut to {job.height.nominal:f}")
    return job


@dataclass(frozen=True)
class _Work(BlockWork):
    job: FaceJob = field()

    @cached_property
    def centres(self) -> tuple[Decimal, ...]:
        """Places of the cutter's centre from the near edge."""
        width = self.job.m(self.job.width)
        if self.cutter >= width * WIDE:
            return (width / 2,)
        # past the far edge, since the first row is set by eye: no rib is left standing there
        return self.face_centres(width + PAST[self.job.unit])

    @cached_property
    def work(self) -> DepthWork:
        """The face, from the touch on its highest place."""
        job = self.job
        stock = mill.told(job, self.facts, "stock.height", job.stock)
        aim = stock - job.height.aim(job.aim_inside)
        need_metal("stock", stock, stock - aim, job.unit)
        return DepthWork(
            unit=job.unit,
            machine=self.machine,
            facts=self.facts,
            axis_name=job.depth_axis,
            sizing=Sizing(
                "the thickness", "micrometer", job.height.low, job.height.high, stock, job.unit,
                Decimal(-1), mill.size_places(job.unit), "too thin",
                "Too thin. Ask before you go on.",
                (Term("thickness on the drawing", job.q(job.height.nominal)),), DRAWING,
            ),
            aim=aim,
            limit=job.m(job.cutter.max_pass),
            witness=job.witness,
            finish=job.finish,
            gives=mill.GIVES,
            terms=(Term("stock", job.q(stock)),
                   Term("thickness wanted", job.q(stock - aim), -1)),
            formula="stock - thickness wanted",
            look="Look at the skim. Does it touch at both ends?",
        )  # fmt: skip

    @cached_property
    def overlap(self) -> Figure:
        """How far the cutter's rim stands in over the near edge in the first row."""
        first = self.centres[0] + self.cutter / 2
        terms = (Term("row", self.job.q(self.centres[0])),
                 Term("half the cutter", self.job.q(self.cutter / 2)))  # fmt: skip
        # by eye: to a tenth of a millimetre or a hundredth of an inch is more than enough
        return Figure(self.job.q(first), "cutter in over the edge",
                      1 if self.job.unit == "mm" else 2, terms, source="geometry")  # fmt: skip

    def _by_eye(self) -> list[Step]:
        """The first row is set by eye: rows are counted from it."""
        if len(self.centres) == 1:
            return []
        return [
            Touch(
                id="first-row",
                title="First row, by eye",
                say=(
                    f"Cutter over the {self.job.side} edge, clear of the top.",
                    f"Saddle {self.side.axis.way(self.way)}, till it overlaps so much. "
                    "Then say touched.",
                ),
                figure=self.overlap,
                axis=ACROSS,
                toward=self.way,
                surface="the first row",
            )
        ]

    def _rows(self) -> RowsStroke:
        made = self.rows(self.centres, full_first=False)
        start = self.centres[0]
        places = mill.places(self.job.unit)
        axis = self.side.axis
        shifted = tuple(
            Row(
                settle(self.job.q((at - start) * self.way), axis.graduation),
                Figure(self.job.q(at - start), "row", places,
                       (Term("from the first row", self.job.q(at - start)),), source="geometry"),
            )
            for at in self.centres
        )  # fmt: skip
        return replace(made, rows=shifted)

    def steps(self) -> list[Step]:
        """The whole order of the work."""
        job = self.job
        stock = mill.measure_work(job, "stock.height", "the thickness of the stock", job.stock)
        one_row = (block.COVERED,) if len(self.centres) == 1 else ()
        steps = [*self.setup(), stock, *self._by_eye(), *self.touch_top(*one_row, stays=False)]
        steps += self.work.steps(self._rows())
        steps.append(mill.deburr())
        return steps


def plan(job: FaceJob, machine: Machine, facts: Facts) -> Plan:
    """The plan; `ImpossibleInput` where nothing is left to cut."""
    made = _Work(job, machine, facts)
    made.check_reach(made.work.aim)
    results: list[tuple[str, Figure]] = [
        ("the thickness", made.work.sizing.figure),
        ("full depth", made.work.aim_figure),
        *made.spindle_results(),
    ]
    if len(made.centres) > 1:
        results.insert(2, ("cutter in over the edge", made.overlap))
    count, rows = made.work.count, len(made.centres)
    passes = f"{count} down" + (f", {rows} rows each" if rows > 1 else "")
    return Plan(
        title=job.head.title,
        operation="face",
        unit=job.unit,
        steps=tuple(made.steps()),
        results=tuple(results),
        sources=tuple(dict.fromkeys(figure.source for _, figure in results if figure.source)),
        answers=(("which_feed", made.which_feed), ("how_many_passes", f"{passes}.")),
        depth_axis=job.depth_axis,
        full_depth=job.q(made.work.aim),
        drawing=(
            ("width", job.width),
            ("depth_full", job.q(made.work.aim)),
            ("cutter_width", job.q(made.cutter)),
        ),
        drawing_kind="face",
    )
