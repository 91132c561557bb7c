"""A slot in a block: right through, or ending inside the work, open at one end or closed at both;
as wide as the cutter or wider.

Order of cuts: down the middle (and beside it, where the slot is wide) to the floor in passes, the
floor from its measurement; then the wall nearest the touched side from the distance to that side,
and the other wall from the width of the slot. Ends inside the work come before the walls.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from assistant.errors import ImpossibleInput
from assistant.fields import Fields
from assistant.jobs.jobfile import Head
from assistant.jobs.milling import block, mill
from assistant.jobs.milling.block import DRAWING
from assistant.jobs.milling.checked_size import measure_made
from assistant.jobs.operations.slot.ends import EndsWork, read_ends
from assistant.jobs.operations.slot.pocket import PocketWork
from assistant.jobs.operations.slot.rows import SlotJob, SlotWork
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Facts, Note, Step
from assistant.jobs.to_size.sizing import toleranced
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.spoken.limits import Standing
from assistant.units import is_quantity


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
class _Work(SlotWork):
    @cached_property
    def pocket(self) -> PocketWork | None:
        """The slot, where it has ends inside the work and is wider than the cutter."""
        if self.along is None or self.narrow:
            return None
        return PocketWork(self, self.along)

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
            *pocket.floor.steps(pocket.stroke(self.rows(self.centres, full_first=True).rows)),
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
            made = work.steps(self.stroke(uncut, sideways=True))
            steps += self.fed_by(uncut, [*self.other_end(work.prefix, uncut), *made])
        return steps

    def _measure_width(self) -> list[Step]:
        """The cutter made the width: it is only checked."""
        job = self.job
        slack = "0.030" if job.unit == "inch" else "0.8"
        what = "the width of the slot"
        measure = measure_made(job, "slot.width", what, job.width, slack, "too wide")
        steps: list[Step] = [measure]
        told = self.facts.get("slot.width")
        if is_quantity(told) and measure.limits.standing(told, job.unit) is Standing.PAST:
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
