"""A slot wider than its cutter that ends inside the work: open at one end, or closed at both.

Roughed in rows with stock left all round; the floor from its measurement; then the ends, each
from what is measured along the work, and the walls, as in any slot. Seen from above the finishing
cuts go round the inside clockwise, which is conventional, and each begins with the cutter let down
in a corner, so that every corner is as near as the dials set it; the two at the right-hand end
meet in a corner that is let down to last. Common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from assistant.errors import ImpossibleInput
from assistant.jobs.milling import mill
from assistant.jobs.milling.block import ACROSS
from assistant.jobs.milling.strokes import Row, conventional_across, conventional_way, turns_out
from assistant.jobs.operations.slot.ends import EndsWork
from assistant.jobs.operations.slot.flanks import far_end, near_end
from assistant.jobs.operations.slot.pocket_strokes import FlankStroke, Out, PocketRows, Run
from assistant.jobs.operations.slot.rows import SlotWork
from assistant.jobs.steps import Check, Cut, Move, Step
from assistant.jobs.to_size.depth_work import DepthWork
from assistant.machine import Axis
from assistant.replacing import replace
from assistant.spoken import Figure, Term
from assistant.units import Quantity


@dataclass(frozen=True)
class PocketWork:
    """The ends, the walls and the order of such a slot on one machine, with what was told."""

    work: SlotWork
    ends: EndsWork

    @property
    def closed(self) -> bool:
        """Whether both ends lie inside the work."""
        return self.ends.ends.closed

    @property
    def table(self) -> Axis:
        """The axis along the slot."""
        return self.ends.table

    @cached_property
    def saddle(self) -> Axis:
        """The axis across it."""
        return self.work.machine.axis(ACROSS)

    @cached_property
    def floor(self) -> DepthWork:
        """The floor, measured with the cutter out of the slot."""
        return replace(self.work.floor, lift=self.work.job.m(self.out.lift))

    @cached_property
    def out(self) -> Out:
        """How the cutter comes out of it."""
        job = self.work.job
        return Out(self.ends.depth, turns_out(self.ends.depth, self.work.floor.aim, job.unit))

    @property
    def feeds(self) -> int:
        """The way of the table in the rows: the metal still to be cut lies ahead of them."""
        return conventional_way(self.work.ahead)

    # -- places along it, from the end face to the cutter's middle ------------------------------

    @property
    def _left(self) -> Decimal:
        return self.ends.stops - self.work.job.wall

    @property
    def _right(self) -> Decimal:
        return self.ends.begins + self.work.job.wall if self.closed else self.ends.off_the_end

    @property
    def begins(self) -> Decimal:
        """Where the first row begins."""
        return self._left if self.closed and self.feeds < 0 else self._right

    def _along(self, at: Decimal) -> Quantity:
        return self.ends.face.position(at)

    @property
    def _left_terms(self) -> tuple[Term, ...]:
        job, ends = self.work.job, self.ends
        place = (Term("end face to the slot", job.q(ends.near)),) if self.closed else ()
        return (*place, Term("length", job.q(ends.length)),
                Term("half the cutter", job.q(ends.cutter / 2), -1),
                Term("stock", job.q(job.wall), -1))  # fmt: skip

    @property
    def _right_terms(self) -> tuple[Term, ...]:
        job, ends = self.work.job, self.ends
        if not self.closed:
            return (ends.clear_term,)
        return (Term("end face to the slot", job.q(ends.near)),
                Term("half the cutter", job.q(ends.cutter / 2)),
                Term("stock", job.q(job.wall)))  # fmt: skip

    def _run(self, way: int) -> Run:
        """A row, the one way or the other."""
        right, left = self._along(self._right), self._along(self._left)
        at, terms = (self._right, self._right_terms) if way > 0 else (self._left, self._left_terms)
        figure = self.ends.face.figure(at, *terms, what="start of the row",
                                       places=mill.places(self.work.job.unit))  # fmt: skip
        return Run(right, left, way, figure) if way > 0 else Run(left, right, way, figure)

    @property
    def run(self) -> Figure:
        """How far the table runs in a row."""
        job = self.work.job
        value = self._along(self._left) - self._along(self._right)
        if not self.closed:
            return Figure(value, "to run", mill.places(job.unit),
                          formula="from clear of the end to the stock at the other",
                          source="geometry")  # fmt: skip
        terms = (Term("length", job.q(self.ends.length)),
                 Term("cutter", job.q(self.ends.cutter), -1),
                 Term("stock at both ends", job.q(job.wall * 2), -1))  # fmt: skip
        return Figure(value, "to run", mill.places(job.unit), terms,
                      "length less the cutter and the stock", "geometry")  # fmt: skip

    def check(self) -> None:
        """Raises `ImpossibleInput` where the cutter leaves no room for stock on both sides: a cut
        that is fed back to a dial's reading stops short by the backlash, and needs more room."""
        job, ends = self.work.job, self.ends
        least = job.wall + self._lost(self.saddle)
        if self.work.walls[0].aim < least:
            width = self.work.walls[0].aim * 2 + ends.cutter
            raise ImpossibleInput(
                "cutter", f"{ends.cutter.normalize():f} {job.unit}",
                f"neither makes the slot's width nor leaves stock on both walls: take one that "
                f"makes it, or one of {(width - least * 2).normalize():f} at most",
            )  # fmt: skip
        room = ends.length - ends.cutter
        least = job.wall + self._lost(self.table)
        if room < least * 2:
            raise ImpossibleInput(
                "cutter", f"{ends.cutter.normalize():f} {job.unit}",
                f"is too large for a slot of {ends.length.normalize():f}: take one of "
                f"{(ends.length - least * 2).normalize():f} at most",
            )  # fmt: skip

    def _lost(self, axis: Axis) -> Decimal:
        """Lost motion, and the division that a setting may be off by."""
        return self.work.job.m(axis.backlash) + self.work.job.m(axis.graduation)

    # -- roughing -------------------------------------------------------------------------------

    def stroke(self, rows: tuple[Row, ...]) -> PocketRows:
        """The rows of one depth."""
        way = self.feeds
        others = self._run(way)
        # open at its end, the first row comes from there whichever way the others go
        first = others if self.closed else self._run(1)
        return PocketRows(
            rows, self.out, self.table, self.saddle, self.work.way, first, others,
            plunged=self.closed, inside=self.closed or way < 0,
        )  # fmt: skip

    # -- finishing ------------------------------------------------------------------------------

    @cached_property
    def finished_ends(self) -> tuple[DepthWork, ...]:
        """The near end, where it is closed, and the far end."""
        far = far_end(self.work, self.ends, self.work.floor.aim)
        if not self.closed:
            return (far,)
        # fed back to its reading, a row stopped short of it by the backlash
        lost = self.work.job.m(self.table.backlash) if self.feeds < 0 else Decimal(0)
        return (near_end(self.work, self.ends, self.work.floor.aim, lost), far)

    def _end_stroke(self, uncut: str) -> FlankStroke:
        """Across an end, between the roughed walls: they are finished after it."""
        way, job, work = conventional_across(uncut), self.work.job, self.work
        toward = way * work.way
        begin, stop = (self.work.middle - toward * self.work.offsets[1] * end for end in (1, -1))
        figure = work.side.figure(
            begin, Term("side to the middle", job.q(self.work.middle)),
            Term("to the roughed wall", job.q(self.work.offsets[1]), -toward),
            what="start of the cut", places=mill.places(job.unit),
        )  # fmt: skip
        run = Run(work.side.position(begin), work.side.position(stop), way, figure)
        return FlankStroke(
            self.out, self.floor.finished_at, self.saddle, run, work.way, plunged=True
        )

    def _wall_stroke(self, uncut: str) -> FlankStroke:
        """Along a wall, from the finished end where it begins to the other, or out of the slot."""
        way = conventional_way(uncut)
        left = self._came_out(self.finished_ends[-1])
        right = self._came_out(self.finished_ends[0]) if self.closed else self._run(1).figure
        at_right = right.value if self.closed else self._along(self._right)
        run = (
            Run(at_right, left.value, 1, right) if way > 0 else Run(left.value, at_right, -1, left)
        )
        return FlankStroke(
            self.out, self.floor.finished_at, self.table, run, 1, plunged=self.closed or way < 0
        )

    def _came_out(self, side: DepthWork) -> Figure:
        """Where the axis stands for an end or a wall as it was finished."""
        return Figure(
            side.finished_at, side.name, mill.places(self.work.job.unit), formula="as it came out",
            source=f"where the {side.name} came out",
        )  # fmt: skip

    def finishing(self) -> list[Step]:
        """Ends, walls, and the last corner."""
        steps: list[Step] = []
        for end, uncut in zip(self.finished_ends, ("right", "left")[-len(self.finished_ends):],
                              strict=True):  # fmt: skip
            steps += end.steps(self._end_stroke(uncut))
        for wall, uncut in zip(self.work.walls, (self.work.job.side, self.work.ahead), strict=True):
            steps += wall.steps(self._wall_stroke(uncut))
        if self.closed:
            steps += self._last_corner()
        return steps

    def _last_corner(self) -> list[Step]:
        """At the right-hand end of the back wall: the cut along that wall was fed back to its
        reading, so that it stopped short of the corner by the backlash."""
        job = self.work.job
        back = self.work.walls[0] if job.side == "back" else self.work.walls[1]
        return [
            Move(
                id="corner-across", title="Over the last corner: across",
                say=("Cutter out of the slot?", f"Unlock the {self.saddle.name}."),
                after=("Lock it.",), axis=ACROSS, target=back.finished_at,
                approach=self.work.way, verify=True, terms_of=self._came_out(back),
            ),
            Move(
                id="corner-along", title="Over the last corner: along",
                say=(f"Unlock the {self.table.name}.",), after=("Lock it.",),
                axis=self.table.name, target=self.finished_ends[0].finished_at, approach=1,
                verify=True, terms_of=self._came_out(self.finished_ends[0]),
            ),
            Cut(
                id="corner-cut", title="The last corner",
                spindle="on",
                say=("Slowly: it cuts in the corner.",),
                number=1, of=1, depth=job.q(self.floor.aim),
                taken=job.q(job.m(self.table.backlash)), kind="finishing",
                feed_axis=self.out.depth.name, feed_target=self.floor.finished_at,
            ),
            self.out.leave("corner", self.floor.finished_at),
        ]  # fmt: skip

    # -- the order ------------------------------------------------------------------------------

    def before_top(self) -> list[Step]:
        """The end face touched, and over the place where the top is touched."""
        ends = self.ends
        if not self.closed:
            return [ends.touch_face(), ends.over_the_top()]
        terms = self._left_terms if self.feeds < 0 else self._right_terms
        steps: list[Step] = [ends.touch_face(), ends.over_start(self.begins, *terms)]
        if not self.work.job.cutter.centre_cutting:
            steps.append(
                Check(
                    id="start-hole", title="Start hole",
                    say=("This cutter can't plunge. Drill a start hole, here.",
                         "Table and saddle locked. Keep it shallower than the floor.",
                         "Then the same cutter in again."),
                )
            )  # fmt: skip
        return steps

    @property
    def which_feed(self) -> str:
        """Which way the cutter goes, in words."""
        way = self.table.way(self.feeds)
        return f"Rows: table {way}. Walls and ends: clockwise, seen from above."
