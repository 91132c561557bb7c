"""How a pass is made inside a slot that is wider than its cutter and ends in the work.

Rows go side by side in the conventional way. What is finished is set with the cutter out of the
slot, over the work, where both dials can be come to from the side that takes up their backlash;
then it goes down in the corner where its cut begins. It comes out and goes down by whole turns of
the depth axis, as moves that are counted: after a break, or a handle that was bumped, it is known
where it stands. It only moves sideways at depth in cuts, and is told so. Common practice, no
source.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from assistant.calc.dial import settle
from assistant.jobs.milling.strokes import Row, plunging
from assistant.jobs.steps import Cut, Move, Step
from assistant.jobs.to_size.sizing import sized
from assistant.machine import Axis
from assistant.replacing import replace
from assistant.spoken import Figure
from assistant.units import Quantity, inches, magnitude, unit_name

JUST_OVER = inches("0.010")
"""How far over a floor the cutter stops where its spindle may stand still: it gave way when it cut
that floor. Common practice, no source."""


@dataclass(frozen=True)
class Run:
    """From where to where a cut feeds along its axis, counted from its zero."""

    begin: Quantity
    stop: Quantity
    way: int
    """The way that the axis goes in the cut."""
    figure: Figure
    """The beginning with its derivation."""


@dataclass(frozen=True)
class Out:
    """Out of the slot by whole turns of the depth axis, and down again."""

    depth: Axis
    turns: int

    @cached_property
    def lift(self) -> Quantity:
        """How far that is."""
        lift: Quantity = self.depth.per_turn * self.turns
        return lift

    def leave(self, name: str, at: Quantity) -> Move:
        """Out of it, from where the depth axis stands `at`."""
        return Move(id=f"{name}-out", title="Out of the slot", axis=self.depth.name,
                    target=self.over(at), approach=-1, lock=False)  # fmt: skip

    def over(self, at: Quantity) -> Quantity:
        """Where the depth axis then stands. A plan asks for the same few places many times."""
        unit = unit_name(self.depth.per_turn)
        return sized(magnitude(at, unit) - magnitude(self.lift, unit), unit)

    def enter(self, name: str, at: Quantity, *say: str) -> Move:
        """Down again, to where the depth axis stands `at`."""
        return Move(id=f"{name}-in", title="Into the slot again", say=say,
                    axis=self.depth.name, target=at, approach=1, lock=False)  # fmt: skip


@dataclass(frozen=True)
class PocketRows:
    """The roughing: rows side by side at each depth, and what stands between their ends.

    Between two passes the cutter is out of the slot, with the table where the first row begins.
    """

    rows: tuple[Row, ...]
    out: Out
    along: Axis
    across: Axis
    toward: int
    """The way of `across` from row to row."""
    first: Run
    """The first row, in full metal."""
    others: Run
    """The rows beside it."""
    plunged: bool
    """The first row begins inside the work."""
    inside: bool
    """The rows beside it begin inside the slot: the cutter goes over to them at depth. Else they
    begin off the end, and stop at ends that leave ridges between them."""

    def passes(self, move: Move, cut: Cut) -> list[Step]:
        """Every row at this depth, and out."""
        name = cut.id.removesuffix("-cut")
        at = move.target
        assert at is not None
        steps: list[Step] = []
        if cut.number > 1:
            if len(self.rows) > 1:
                steps.append(self._over(f"{name}-across", 1, "Cutter out of the slot?"))
            if self.plunged:
                over = settle(at - cut.taken - JUST_OVER, self.out.depth.graduation, halves=False)
                steps.append(self.out.enter(name, over, "To just over the floor that is cut."))
            else:
                move = replace(move, spindle="on", spindle_words="Clear of the end? Spindle on.")
        steps.append(plunging(move) if self.plunged else move)
        for number in range(1, len(self.rows) + 1):
            tail = "" if number == 1 else f"-row-{number}"
            if number > 1:
                steps += self._to_row(f"{name}{tail}", number, cut, at)
            steps.append(self._row(f"{name}{tail}-cut", number, cut))
        if len(self.rows) > 1 and self._leaves_ridges:
            steps.append(self._across_the_end(f"{name}-row-end-cut", cut))
        return [*steps, self.out.leave(name, at)]

    @property
    def _leaves_ridges(self) -> bool:
        """Rows that stop inside the work end in a round each."""
        return bool(self.first.stop == self.others.stop)

    def _row(self, id_: str, number: int, cut: Cut) -> Cut:
        run = self.first if number == 1 else self.others
        way = f"{self.along.name.capitalize()} {self.along.way(run.way)}"
        words = f"{way}: conventional, no climbing."
        if number == 1:
            words = (
                "Plunged and locked? Feed to the end."
                if self.plunged
                else f"Feed the {self.along.name} in to the length."
            )
        title = cut.title
        if len(self.rows) > 1:
            title = f"{title}, row {number} of {len(self.rows)}"
        return replace(
            cut, id=id_, title=title, say=(words,), feed_axis=self.along.name,
            feed_target=run.stop, feed_approach=run.way,
            answers=(("which_feed", f"{way}."),),
        )  # fmt: skip

    def _to_row(self, name: str, number: int, cut: Cut, at: Quantity) -> list[Step]:
        """From the end of the row before it to the start of this one."""
        steps: list[Step] = []
        before = self.first if number == 2 else self.others
        if before.stop != self.others.begin:
            steps += [self.out.leave(name, at), self._to_start(name, self.others)]
        if not self.inside:
            over = self._over(f"{name}-across", number, "Cutter out of the slot?")
            return [*steps, over, self.out.enter(name, at, "Clear of the end?")]
        if steps:
            steps.append(self.out.enter(name, at, "Into the row that is cut."))
        row = self.rows[number - 1]
        return [
            *steps,
            replace(
                cut, id=f"{name}-over-cut", title=f"{cut.title}, over to row {number}",
                say=(f"It stands in row {number - 1}, clear.",
                     f"Lock the {self.along.name}, unlock the {self.across.name}.",
                     "Going over, it cuts. Feed gently."),
                after=(f"Then lock the {self.across.name}, unlock the {self.along.name}.",),
                feed_axis=self.across.name, feed_target=row.position, feed_approach=self.toward,
                answers=(("which_feed", self._across_way(self.toward)),),
            ),
        ]  # fmt: skip

    def _across_the_end(self, id_: str, cut: Cut) -> Cut:
        """Back to the first row along the end: conventional, since the rows were."""
        return replace(
            cut, id=id_, title=f"{cut.title}, across the end",
            say=(f"Lock the {self.along.name}, unlock the {self.across.name}.",
                 "Now across the end: it cuts the ridges between the rows."),
            feed_axis=self.across.name, feed_target=self.rows[0].position,
            feed_approach=-self.toward,
            answers=(("which_feed", self._across_way(-self.toward)),),
        )  # fmt: skip

    def _across_way(self, way: int) -> str:
        return f"{self.across.name.capitalize()} {self.across.way(way)}."

    def _over(self, id_: str, number: int, clear: str) -> Move:
        row = self.rows[number - 1]
        return Move(
            id=id_, title=f"Across to row {number}",
            say=(clear, f"Unlock the {self.across.name}."), after=("Lock it.",),
            axis=self.across.name, target=row.position, approach=self.toward,
            terms_of=row.figure,
        )  # fmt: skip

    def _to_start(self, name: str, run: Run) -> Move:
        return Move(
            id=f"{name}-back", title="Back to the start", say=(f"Unlock the {self.along.name}.",),
            axis=self.along.name, target=run.begin, approach=1, lock=False, terms_of=run.figure,
        )  # fmt: skip

    def back(self, name: str) -> list[Step]:
        """The table to where the next pass begins."""
        return [self._to_start(name, self.first)]


@dataclass(frozen=True)
class FlankStroke:
    """A wall or an end: set out of the slot, down in a corner, fed along it."""

    out: Out
    at: Quantity
    """Where the depth axis stands for the finished floor."""
    along: Axis
    run: Run
    approach: int
    """The way of the last travel of `along` to where the cut begins."""
    plunged: bool
    """It begins in a corner of the slot, not off the end of the work."""

    def passes(self, move: Move, cut: Cut) -> list[Step]:
        """Over the start of the cut, the setting, down, the cut, and out to be measured."""
        name, along = cut.id.removesuffix("-cut"), self.along.name
        way = f"{along.capitalize()} {self.along.way(self.run.way)}: conventional, no climbing."
        begin = Move(
            id=f"{name}-begin", title="Over the start of the cut",
            say=("Cutter out of the slot?", f"Unlock the {along}."),
            axis=along, target=self.run.begin, approach=self.approach, lock=False,
            terms_of=self.run.figure,
        )  # fmt: skip
        down = self.out.enter(
            name, self.at, *(("Slowly: it cuts, down the side.",) if self.plunged else ())
        )
        asks = "Spindle on." if self.plunged else "Clear of the end? Spindle on."
        down = replace(down, spindle="on", spindle_words=asks)
        feed = replace(cut, say=(way,), feed_axis=along, feed_target=self.run.stop,
                       feed_approach=self.run.way, answers=(("which_feed", way),))  # fmt: skip
        return [begin, move, down, feed, self.out.leave(name, self.at)]

    def back(self, name: str) -> list[Step]:
        """It is out already."""
        return []
