"""A slot in numbers, whatever ends it has: its width, the rows of its roughing, floor and walls."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from functools import cached_property

from assistant.calc.exact import at_least
from assistant.calc.hand_stop import HandStop
from assistant.calc.milling import slot_walls
from assistant.jobs.milling import mill
from assistant.jobs.milling.block import DRAWING, BlockJob, BlockWork
from assistant.jobs.operations.slot.ends import Ends, EndsWork
from assistant.jobs.operations.slot.flanks import flank
from assistant.jobs.to_size.depth_work import DepthWork
from assistant.jobs.to_size.sizing import Sizing, Toleranced
from assistant.spoken import Term
from assistant.spoken.limits import Standing


@dataclass(frozen=True, eq=False)
class SlotJob(BlockJob):
    """A slot."""

    width: Toleranced
    depth: Toleranced
    from_side: Toleranced
    """From the touched side to the slot's centre line."""
    ends: Ends | None
    """None for a slot right through."""

    @property
    def stop(self) -> HandStop | None:
        """A slot that ends inside the work is ended by hand."""
        return None if self.ends is None else HandStop(to_metal=True)


@dataclass(frozen=True)
class SlotWork(BlockWork):
    """A slot on one machine with what was told."""

    job: SlotJob = field()

    @cached_property
    def width(self) -> Decimal:
        """The width that is aimed at."""
        return self.job.width.aim(self.job.aim_inside)

    @property
    def narrow(self) -> bool:
        """Whether the cutter makes the width in one pass."""
        return self.cutter >= self.job.width.low

    @cached_property
    def offsets(self) -> tuple[Decimal, Decimal]:
        """Cutter's centre either side of the centre line: finished, and roughed."""
        job = self.job
        if self.narrow:
            return Decimal(0), Decimal(0)
        room = slot_walls(job.q(self.width), job.q(self.cutter))
        stock = min(job.wall, job.m(room.offset))
        found = slot_walls(job.q(self.width), job.q(self.cutter), job.q(stock))
        return job.m(found.offset), job.m(found.rough_offset)

    @property
    def middle(self) -> Decimal:
        """From the touched side to the centre line: inside its limits, where they lie to one
        side."""
        return self.job.from_side.aim(self.job.aim_inside)

    @cached_property
    def centres(self) -> tuple[Decimal, ...]:
        """Rows of the roughing: from the touched side's wall to the other."""
        rough = self.offsets[1]
        if rough == 0:
            return (self.middle,)
        count = at_least(2 * rough, self.step_over)
        self.check_rows(count + 1)
        gap = 2 * rough / count
        return tuple(self.middle - rough + gap * i for i in range(count + 1))

    @cached_property
    def floor(self) -> DepthWork:
        """The floor, from the top."""
        look = "Look at the mark. Where it should be, end to end?"
        return self.floor_at("the depth of the slot", self.job.depth, look)

    def _wall(self, near: bool) -> DepthWork:
        """A wall: the cutter's centre goes from the centre line outwards."""
        job, half = self.job, self.cutter / 2
        offset, rough = self.offsets
        further = Decimal(0) if near else self._near_left
        if near:
            low, high = self._near_limits
            sizing = Sizing(
                f"from the {job.side} to the wall", "caliper", low, high,
                self.middle - half, job.unit, Decimal(-1), mill.size_places(job.unit),
                "too near", "Too near the side. Ask before you go on.",
                (Term("side to the middle", job.q(self.middle)),
                 Term("half the slot", job.q(self.width / 2), -1)), DRAWING,
            )  # fmt: skip
        else:
            sizing = Sizing(
                "the width of the slot", "caliper", job.width.low, job.width.high,
                self.width / 2 + half - further, job.unit, Decimal(1), mill.size_places(job.unit),
                "too wide", "Too wide. Ask: a wider or a stepped key, or a new part.",
                (Term("width on the drawing", job.q(job.width.nominal)),), DRAWING,
            )  # fmt: skip
        return flank(
            self, self.side, self.middle, outward=-1 if near else 1, sizing=sizing,
            aim=offset + further, start=rough, prefix="near" if near else "far",
            name=f"{job.side} wall" if near else f"{self.ahead} wall", full=self.floor.aim,
            terms=(Term("half the slot", job.q(self.width / 2)),
                   Term("half the cutter", job.q(half), -1)),
            formula="(width - cutter) / 2",
        )  # fmt: skip

    @property
    def _near_left(self) -> Decimal:
        """How much metal the near wall was left with, inside its limits: the slot is the narrower
        by it, and the far wall goes further."""
        near = self._wall(True)
        if near.standing is not Standing.IN:
            return Decimal(0)
        return near.aim - near.reached[-1].depth

    @cached_property
    def _near_limits(self) -> tuple[Decimal, Decimal]:
        """From the touched side to the near wall: however wide the slot then becomes inside its
        limits, its middle is inside its own. Told in few places, the limits must not grow."""
        job = self.job
        places = Decimal(1).scaleb(-mill.size_places(job.unit))
        low = (job.from_side.low - job.width.low / 2).quantize(places, ROUND_CEILING)
        high = (job.from_side.high - job.width.high / 2).quantize(places, ROUND_FLOOR)
        if low <= high:
            return low, high
        # a middle held closer than the width: as wide as it is aimed at, then
        return job.from_side.low - self.width / 2, job.from_side.high - self.width / 2

    @cached_property
    def walls(self) -> tuple[DepthWork, ...]:
        """Near wall, far wall; none where the cutter makes the width."""
        return () if self.narrow else (self._wall(True), self._wall(False))

    @cached_property
    def along(self) -> EndsWork | None:
        """The ends, where the slot has any inside the work."""
        job = self.job
        if job.ends is None:
            return None
        return EndsWork(job.ends, job, self.machine, self.facts, self.cutter)
