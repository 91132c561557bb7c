"""A step along a side of a block: floor and one wall.

Order of cuts: rows from the touched side inwards, at every depth; the floor from its measurement;
the wall last, at full depth, from the measured width of the step.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from functools import cached_property

from assistant.fields import Fields
from assistant.jobs.jobfile import Head
from assistant.jobs.milling import block, mill
from assistant.jobs.milling.block import ACROSS, DRAWING, BlockJob, BlockWork
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Facts, Step
from assistant.jobs.to_size.depth_work import DepthWork
from assistant.jobs.to_size.sizing import Sizing, Toleranced, toleranced
from assistant.machine import Machine
from assistant.spoken import Figure, Term


@dataclass(frozen=True, eq=False)
class StepJob(BlockJob):
    """A step."""

    width: Toleranced
    """From the touched side to the wall."""
    depth: Toleranced


def read(head: Head, fields: Fields) -> StepJob:
    """The job from its file."""
    step = fields.table_at("step")
    job = StepJob(
        **block.common(head, fields),  # type: ignore[arg-type]
        width=toleranced(step, "width", head.unit),
        depth=toleranced(step, "depth", head.unit),
    )
    step.done()
    if job.wall >= job.width.nominal:
        fields.fail("wall_stock", str(job.wall), "must be less than the width of the step")
    return job


@dataclass(frozen=True)
class _Work(BlockWork):
    job: StepJob = field()

    @cached_property
    def rough(self) -> Decimal:
        """From the side to the wall, before the wall is finished."""
        return self.job.width.aim(self.job.aim_inside) - self.job.wall

    @cached_property
    def centres(self) -> tuple[Decimal, ...]:
        """Rows of the roughing, from the touched side to the wall."""
        return self.face_centres(self.rough)

    @property
    def last_row(self) -> Decimal:
        """What the row along the wall takes sideways."""
        return self.rough if len(self.centres) == 1 else self.centres[-1] - self.centres[-2]

    @cached_property
    def floor(self) -> DepthWork:
        """The floor, from the top."""
        return self.floor_at("the depth of the step", self.job.depth)

    @cached_property
    def wall(self) -> DepthWork:
        """The wall: how far it is from the touched side."""
        job = self.job
        return DepthWork(
            unit=job.unit,
            machine=self.machine,
            facts=self.facts,
            axis_name=ACROSS,
            sizing=Sizing(
                "the width of the step", "depth gauge", job.width.low, job.width.high,
                Decimal(0), job.unit, Decimal(1), mill.size_places(job.unit), "too wide",
                "Too wide. Ask before you go on.",
                (Term("width on the drawing", job.q(job.width.nominal)),), DRAWING,
            ),
            aim=job.width.aim(job.aim_inside),
            limit=self.step_over,
            finish=job.wall,
            gives=mill.GIVES,
            start=self.rough,
            roughed=self.last_row,
            # the cutter's rim, not its centre, makes the wall
            origin=self.way * self.side.exact(-self.cutter / 2),
            sign=self.way,
            prefix="wall",
            name="wall",
            full=self.floor.aim,
            terms=(Term("width on the drawing", job.q(job.width.nominal)),),
        )  # fmt: skip

    def steps(self) -> list[Step]:
        """The whole order of the work."""
        job = self.job
        first = self.centres[0]
        steps = self.setup()
        steps += self.touch_side()
        steps.append(self.to_first(first, Term("side to the row", job.q(first))))
        steps += self.touch_top()
        steps += self.floor.steps(self.rows(self.centres, full_first=False))
        steps += self.wall.steps(self.stroke(self.ahead, sideways=True))
        steps.append(mill.deburr())
        return steps


def plan(job: StepJob, machine: Machine, facts: Facts) -> Plan:
    """The plan; `ImpossibleInput` where cutter and machine don't go together."""
    made = _Work(job, machine, facts)
    made.check_reach(made.floor.aim)
    results: list[tuple[str, Figure]] = [
        ("the depth of the step", made.floor.sizing.figure),
        ("the width of the step", made.wall.sizing.figure),
        ("full depth", made.floor.aim_figure),
        *made.spindle_results(),
    ]
    count, rows = made.floor.count, len(made.centres)
    passes = f"{count} down" + (f", {rows} rows each" if rows > 1 else "")
    return Plan(
        title=job.head.title,
        operation="step",
        unit=job.unit,
        steps=tuple(made.steps()),
        results=tuple(results),
        sources=tuple(dict.fromkeys(figure.source for _, figure in results if figure.source)),
        answers=(("which_feed", made.which_feed), ("how_many_passes", f"{passes}.")),
        depth_axis=job.depth_axis,
        full_depth=job.q(made.floor.aim),
        drawing=(
            ("width", job.q(made.wall.aim)),
            ("depth_full", job.q(made.floor.aim)),
            ("cutter_width", job.q(made.cutter)),
        ),
        drawing_kind="step",
    )
