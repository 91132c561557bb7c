"""A slot in a block: right through, or ending inside the work, open at one end or closed at both;
as wide as the cutter (`slot_ends`) or wider (`slot_pocket`).

Order of cuts: down the middle (and beside it, where the slot is wide) to the floor in passes, the
floor from its measurement; then the wall nearest the touched side from the distance to that side,
and the other wall from the width of the slot. Ends inside the work come before the walls.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from functools import cached_property

from assistant.calc.exact import at_least
from assistant.calc.milling import slot_walls
from assistant.errors import ImpossibleInput
from assistant.fields import Fields
from assistant.jobs import block, mill
from assistant.jobs.block import BlockJob, BlockWork
from assistant.jobs.depth_work import DepthWork
from assistant.jobs.jobfile import Head
from assistant.jobs.sizing import Sizing, Toleranced, toleranced
from assistant.jobs.slot_ends import Ends, EndsWork, read_ends
from assistant.jobs.slot_flanks import flank
from assistant.jobs.slot_pocket import PocketWork
from assistant.jobs.steps import Facts, Note, Plan, Step
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.units import is_quantity

DRAWING = "the drawing"


@dataclass(frozen=True, eq=False)
class SlotJob(BlockJob):
    """A slot."""

    width: Toleranced
    depth: Toleranced
    from_side: Toleranced
    """From the touched side to the slot's centre line."""
    ends: Ends | None
    """None for a slot right through."""


def read(head: Head, fields: Fields) -> SlotJob:
    """The job from its file."""
    slot = fields.table_at("slot")
    base = block.common(head, fields, ("end mill", "slotting cutter"))
    cutter = base["cutter"]
    assert isinstance(cutter, mill.MillCutter)
    job = SlotJob(
        **base,  # type: ignore[arg-type]
        width=toleranced(slot, "width", head.unit),
        depth=toleranced(slot, "depth", head.unit),
        from_side=toleranced(slot, "from_side", head.unit),
        ends=read_ends(slot, cutter, head.unit),
    )
    slot.done()
    if job.m(job.cutter.width) > job.width.high:
        want = f"wider than the slot: wanted a cutter of {job.width.high:f} {head.unit} at most"
        fields.fail("cutter.diameter", f"{job.cutter.width:~}", want)
    if job.from_side.nominal <= job.width.nominal / 2:
        slot.fail("from_side", str(job.from_side.nominal), "the slot would run out of the side")
    return job


@dataclass(frozen=True)
class _Work(BlockWork):
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
        """From the touched side to the centre line."""
        return self.job.from_side.nominal

    @cached_property
    def centres(self) -> tuple[Decimal, ...]:
        """Rows of the roughing: from the touched side's wall to the other."""
        rough = self.offsets[1]
        if rough == 0:
            return (self.middle,)
        count = at_least(2 * rough, self.job.m(self.job.step_over))
        self.check_rows(count + 1)
        gap = 2 * rough / count
        return tuple(self.middle - rough + gap * i for i in range(count + 1))

    @cached_property
    def floor(self) -> DepthWork:
        """The floor, from the top."""
        job = self.job
        aim = job.depth.aim(job.aim_inside)
        return DepthWork(
            unit=job.unit,
            machine=self.machine,
            facts=self.facts,
            axis_name=job.depth_axis,
            sizing=Sizing(
                "the depth of the slot", "depth gauge", job.depth.low, job.depth.high,
                Decimal(0), job.unit, places=mill.size_places(job.unit), source=DRAWING,
                how="Burrs off the top first.",
            ),
            aim=aim,
            limit=job.m(job.cutter.max_pass),
            witness=job.witness,
            finish=job.finish,
            terms=(Term("depth on the drawing", job.q(job.depth.nominal)),),
            look="Spindle off. Look at the mark. Where it should be, end to end?",
        )  # fmt: skip

    def _wall(self, near: bool) -> DepthWork:
        """A wall: the cutter's centre goes from the centre line outwards."""
        job, half = self.job, self.cutter / 2
        offset, rough = self.offsets
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
                self.width / 2 + half, job.unit, Decimal(1), mill.size_places(job.unit),
                "too wide", "Too wide. Ask: a wider or a stepped key, or a new part.",
                (Term("width on the drawing", job.q(job.width.nominal)),), DRAWING,
            )  # fmt: skip
        return flank(
            self, self.side, self.middle, outward=-1 if near else 1, sizing=sizing,
            aim=offset, start=rough, prefix="near" if near else "far",
            name=f"{job.side} wall" if near else f"{self.ahead} wall", full=self.floor.aim,
            terms=(Term("half the slot", job.q(self.width / 2)),
                   Term("half the cutter", job.q(half), -1)),
            formula="(width - cutter) / 2",
        )  # fmt: skip

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

    @cached_property
    def pocket(self) -> PocketWork | None:
        """The slot, where it has ends inside the work and is wider than the cutter."""
        if self.along is None or self.narrow:
            return None
        return PocketWork(self, self.along, self.middle, self.offsets[1], self.floor, self.walls)

    def steps(self) -> list[Step]:
        """The whole order of the work."""
        steps = self.setup(*self._checks())
        steps += self.touch_side()
        steps.append(self._to_first())
        if self.pocket is not None:
            steps += self._inside(self.pocket)
        elif self.along is not None:
            steps += self._by_the_dial(self.along)
        else:
            steps += self._through()
        if self.narrow:
            steps += self._measure_width()
        steps.append(mill.deburr())
        return steps

    def check_ends(self) -> None:
        """Raises `ImpossibleInput` for a cutter that can't make the ends or the corners."""
        if self.along is not None:
            self.along.check_corner()
        if self.pocket is not None:
            self.pocket.check()

    def end_results(self) -> list[tuple[str, Figure]]:
        """What a slot that ends inside the work has besides."""
        along = self.along
        if along is None:
            return []
        ends = [] if self.pocket is None else self.pocket.finished_ends
        return [
            ("the length of the slot", along.size),
            *((f"{end.name}, cutter from {'the middle' if along.ends.closed else 'the face'}",
               end.aim_figure) for end in ends),
            ("run", along.run if self.pocket is None else self.pocket.run),
            ("corners", along.corners),
        ]  # fmt: skip

    def _checks(self) -> tuple[Step, ...]:
        """A start hole, where it isn't drilled with the spindle over its place."""
        return self.along.checks() if self.along is not None and self.pocket is None else ()

    def _to_first(self) -> Step:
        """From the side to the first row."""
        job, first = self.job, self.centres[0]
        terms = [Term("side to the middle", job.q(self.middle))]
        if first != self.middle:
            terms.append(Term("back from the middle", job.q(self.middle - first), -1))
        title = "To the middle of the slot" if len(self.centres) == 1 else "To the first row"
        return self.to_first(first, *terms, title=title)

    def _inside(self, pocket: PocketWork) -> list[Step]:
        """Wider than the cutter, with ends inside the work."""
        assert self.along is not None
        return [
            *pocket.before_top(),
            *self.touch_top(off_the_end=False),
            *self.along.after_top(),
            *self.floor.steps(pocket.stroke(self.rows(self.centres, full_first=True).rows)),
            *pocket.finishing(),
        ]

    def _by_the_dial(self, along: EndsWork) -> list[Step]:
        """As wide as the cutter, with ends inside the work."""
        return [
            *along.before_top(),
            *self.touch_top(off_the_end=False),
            *along.after_top(),
            *self.floor.steps(along.stroke(self.floor.aim)),
            *along.measure(self.floor.aim),
        ]

    def _through(self) -> list[Step]:
        """Right through the work."""
        steps = self.touch_top()
        steps += self.floor.steps(self.rows(self.centres, full_first=True))
        for work, uncut in zip(self.walls, (self.job.side, self.ahead), strict=False):
            steps += self.other_end(work.prefix, uncut)
            steps += work.steps(self.stroke(uncut, sideways=True))
        return steps

    def _measure_width(self) -> list[Step]:
        """The cutter made the width: it is only checked."""
        job = self.job
        slack = "0.030" if job.unit == "inch" else "0.8"
        what = "the width of the slot"
        steps: list[Step] = [
            mill.measure_made(job, "slot.width", what, job.width, slack, "too wide")
        ]
        told = self.facts.get("slot.width")
        if is_quantity(told) and job.m(told) > job.width.high:
            words = "Too wide. Ask: a wider or a stepped key, or a new part."
            steps.append(Note(id="too-wide", title="Too wide", say=(words,)))
        return steps


def plan(job: SlotJob, machine: Machine, facts: Facts) -> Plan:
    """The plan; `ImpossibleInput` where cutter, slot and machine don't go together."""
    made = _Work(job, machine, facts)
    made.check_reach(made.floor.aim)
    if made.cutter > job.width.high:
        raise ImpossibleInput(
            "cutter", f"{made.cutter:f} {job.unit}",
            f"wider than the slot of {job.width.high:f} at most: take a smaller one",
        )  # fmt: skip
    made.check_ends()
    low, high = job.q(job.width.low), job.q(job.width.high)
    width = Figure(job.q(job.width.nominal), "the width of the slot", mill.size_places(job.unit),
                   low=low, high=high, source=DRAWING)  # fmt: skip
    results: list[tuple[str, Figure]] = [
        ("the depth of the slot", made.floor.sizing.figure),
        ("the width of the slot", width),
        ("full depth", made.floor.aim_figure),
        *((f"{work.name}, cutter from the middle", work.aim_figure) for work in made.walls),
        *made.end_results(),
        *made.spindle_results(),
    ]
    count, rows = made.floor.count, len(made.centres)
    passes = f"{count} down" + (f", {rows} rows each" if rows > 1 else "")
    return Plan(
        title=job.head.title,
        operation="slot",
        unit=job.unit,
        steps=tuple(made.steps()),
        results=tuple(results),
        sources=tuple(dict.fromkeys(figure.source for _, figure in results if figure.source)),
        answers=(
            ("which_feed", (made.pocket or made.along or made).which_feed),
            ("how_many_passes", f"{passes}."),
        ),
        depth_axis=job.depth_axis,
        full_depth=job.q(made.floor.aim),
        drawing=(
            ("width", job.q(made.width)),
            ("depth_full", job.q(made.floor.aim)),
            ("cutter_width", job.q(made.cutter)),
        ),
        drawing_kind="slot",
    )


__all__ = ["plan", "read"]
