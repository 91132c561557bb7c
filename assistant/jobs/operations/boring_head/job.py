"""What a job file on a boring head says: the bore, the hole that is there, the head's dial."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property, lru_cache

from assistant.calc.turning import TurnPass, diameter_plan
from assistant.errors import BadInput
from assistant.fields import Fields
from assistant.jobs.common.off_size import need_metal
from assistant.jobs.common.spindle import Cutting
from assistant.jobs.jobfile import Head, read_surface_speed
from assistant.jobs.milling.mill import places
from assistant.jobs.to_size.sizing import Toleranced, toleranced
from assistant.spoken import Figure, Term
from assistant.units import Quantity, Unit, magnitude, quantity

COMMON = "common practice, no source"
USUAL = {"inch": ("0.040", "0.008", "0.0005"), "mm": ("1", "0.2", "0.01")}
"""Deepest cut a side, left for the finishing cut a side, inside the limits at least: common
practice, no source."""


@dataclass(frozen=True, eq=False)
class BoringJob:
    """A bore. Compared by identity, see `jobs.planning.read_job`."""

    head: Head
    size: Toleranced
    hole: Quantity
    """The hole that is there."""
    depth: Quantity
    through: bool
    graduation: Quantity
    reads: str
    """What the head's dial reads: `diameter` or `radius`."""
    most: Quantity
    """The deepest cut, a side."""
    finish: Quantity
    inside: Decimal
    tool: str
    surface_speed: Quantity | None

    @property
    def unit(self) -> str:
        """`inch` or `mm`."""
        return self.head.unit

    def q(self, size: Decimal) -> Quantity:
        """A magnitude of the job's unit as a size."""
        return quantity(size, self.unit)

    @property
    def share(self) -> Decimal:
        """How much of what the bore grows by its dial counts. All that is told of how deep it is
        cut is counted so: never the one and the other in one breath."""
        return Decimal(1) if self.reads == "diameter" else Decimal("0.5")

    @property
    def q_share(self) -> Quantity:
        """The same as a size of the drawing."""
        return quantity(self.share, "dimensionless")

    def full_depth(self, hole: Quantity) -> Figure:
        """What comes off in all, as its dial counts it."""
        part = "half " if self.reads == "radius" else ""
        terms = (Term(f"{part}the bore", self.q(self.aim) * self.share),
                 Term(f"{part}the hole", hole * self.share, -1))  # fmt: skip
        formula = f"{'half of ' if part else ''}bore less hole"
        value = (self.q(self.aim) - hole) * self.share
        return Figure(value, "full depth", places(self.unit), terms, formula, "geometry")

    @cached_property
    def aim(self) -> Decimal:
        """The diameter that is aimed at."""
        return self.size.aim(self.inside)


def read(head: Head, fields: Fields) -> BoringJob:
    """The job from its file."""
    unit = head.unit
    bore, tool = fields.table_at("bore"), fields.table_at("boring_head")
    most, finish, inside = (quantity(text, unit) for text in USUAL[unit])
    job = BoringJob(
        head=head,
        size=toleranced(bore, "diameter", unit),
        hole=bore.length("hole", unit),
        depth=bore.length("depth", unit),
        through=bore.flag("through", True),
        graduation=tool.length("graduation", unit),
        reads=tool.choice("reads", ("diameter", "radius")),
        most=tool.length("max_cut", unit, most),
        finish=tool.length("finishing_cut", unit, finish),
        inside=magnitude(bore.length("aim_inside", unit, inside, zero_ok=True), unit),
        tool=tool.choice("material", ("HSS", "carbide"), "HSS"),
        surface_speed=read_surface_speed(tool, unit),
    )
    reach = tool.optional_length("reach", unit)
    bore.done()
    tool.done()
    if magnitude(job.hole, unit) >= job.size.low:
        fields.fail(
            "bore.hole", str(job.hole), f"must be smaller than the bore of {job.size.nominal:f}"
        )
    if job.graduation * 5 > job.finish:
        fields.fail("boring_head.graduation", f"{job.graduation:~}",
                    f"too coarse for a finishing cut of {job.finish:~}")  # fmt: skip
    if reach is not None and reach <= job.depth:
        fields.fail("boring_head.reach", str(reach), f"the bore is {job.depth} deep")
    try:
        passes_for(job, job.hole)
    except BadInput as bad:
        fields.fail(f"boring_head: {bad.field}", bad.value, bad.want)
    return job


def passes_for(job: BoringJob, hole: Quantity) -> tuple[TurnPass, ...]:
    need_metal("hole", magnitude(hole, job.unit), job.size.low, job.unit, hole=True)
    return diameter_plan(hole, job.q(job.aim), job.most, job.finish)


@lru_cache(maxsize=16)
def cutting(job: BoringJob) -> Cutting:
    """What speed and feed are looked up by."""
    return Cutting(
        cutter="boring tool",
        diameter=job.q(job.size.nominal),
        teeth=1,
        tool=job.tool,
        material=job.head.material,
        cut="finish turning",
        surface_speed=job.surface_speed,
        chip_load=Unit(job.unit).size("0.0015", "0.04"),
        chip_source=COMMON,
        hand_axis="quill",
    )
