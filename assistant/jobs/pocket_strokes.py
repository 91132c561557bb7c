"""How a pass is made inside a slot that is wider than its cutter and ends in the work.

Rows go side by side in the conventional way. What is finished is set with the cutter out of the
slot, over the work, where both dials can be come to from the side that takes up their backlash;
then it goes down in the corner where its cut begins, by whole turns that were counted. It only
moves sideways at depth in cuts, and is told so. Common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from assistant.jobs.steps import Cut, Move, Note, Step
from assistant.jobs.strokes import Row, counted_back, counted_turns, plunging
from assistant.machine import Axis
from assistant.spoken import Figure
from assistant.units import Quantity


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
    """Out of the slot by whole turns of the depth axis, counted, and down again by the same."""

    depth: Axis
    turns: int

    @property
    def away(self) -> str:
        """`Knee down exactly 4 turns`."""
        count = counted_turns(self.turns)[0]
        return f"{self.depth.name.capitalize()} {self.depth.way(-1)} exactly {count}"

    @property
    def again(self) -> str:
        """`Up those 4 turns again.`"""
        return f"{self.depth.way(1).capitalize()} {counted_turns(self.turns)[1]} again."

    def note(self, name: str) -> Note:
        """Out of it where nothing else is moved: to be measured."""
        say = (f"{self.away}: out of the slot.",)
        return Note(id=f"{name}-out", title="Out of the slot", say=say)


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
        """Every row at this depth."""
        name = cut.id.removesuffix("-cut")
        steps: list[Step] = []
        if cut.number > 1:
            if len(self.rows) > 1:
                steps.append(self._over(f"{name}-across", 1, "Cutter out of the slot?"))
            again = self.out.again if self.plunged else f"Spindle on. {self.out.again}"
            move = replace(move, say=(again, *move.say))
        if self.plunged:
            move = plunging(move)
        steps.append(move)
        for number in range(1, len(self.rows) + 1):
            tail = "" if number == 1 else f"-row-{number}"
            if number > 1:
                steps += self._to_row(f"{name}{tail}", number, cut)
            steps.append(self._row(f"{name}{tail}-cut", number, cut))
        if len(self.rows) > 1 and self._leaves_ridges:
            steps.append(self._across_the_end(f"{name}-row-end-cut", cut))
        return steps

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

    def _to_row(self, name: str, number: int, cut: Cut) -> list[Step]:
        """From the end of the row before it to the start of this one."""
        steps: list[Step] = []
        before = self.first if number == 2 else self.others
        if before.stop != self.others.begin:
            steps.append(counted_back(f"{name}-back", self.out.depth, self.out.turns,
                                      self.along.name, self.others.begin,
                                      terms_of=self.others.figure))  # fmt: skip
        if not self.inside:
            return [*steps, self._over(f"{name}-across", number, "Clear of the end?")]
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

    def back(self, name: str) -> list[Step]:
        """Out of the slot, and the table to where the next pass begins."""
        return [
            Move(
                id=f"{name}-back", title="Back to the start",
                say=(f"{self.out.away} before you run back.",
                     f"Unlock the {self.along.name}."),
                axis=self.along.name, target=self.first.begin, approach=1, lock=False,
                terms_of=self.first.figure,
            )
        ]  # fmt: skip


@dataclass(frozen=True)
class FlankStroke:
    """A wall or an end: set out of the slot, down in a corner, fed along it."""

    out: Out
    along: Axis
    run: Run
    approach: int
    """The way of the last travel of `along` to where the cut begins."""
    plunged: bool
    """It begins in a corner of the slot, not off the end of the work."""

    def passes(self, move: Move, cut: Cut) -> list[Step]:
        """Over the start of the cut, the setting, and the cut."""
        name = self.along.name
        way = f"{name} {self.along.way(self.run.way)}: conventional, no climbing."
        down = (
            (f"Spindle on. {self.out.again}", "Slowly: it cuts, down the side.")
            if self.plunged
            else ("Clear of the end? Spindle on.", self.out.again)
        )
        begin = Move(
            id=f"{cut.id.removesuffix('-cut')}-begin", title="Over the start of the cut",
            say=("Cutter out of the slot?", f"Unlock the {name}."),
            axis=name, target=self.run.begin, approach=self.approach, lock=False,
            terms_of=self.run.figure,
        )  # fmt: skip
        feed = replace(
            cut, say=(*down, f"Then {way}"), feed_axis=name, feed_target=self.run.stop,
            feed_approach=self.run.way, answers=(("which_feed", f"{way[0].upper()}{way[1:]}"),),
        )  # fmt: skip
        return [begin, move, feed]

    def back(self, name: str) -> list[Step]:
        """Out of the slot, to be measured."""
        return [self.out.note(name)]
