"""How a pass is made and run back: right through, up to a stop, in rows, or straight in.

Seen from above with the operator at the front. A saddle that goes in carries the work toward the
column, so the cutter comes nearer to the front of the work; a table that goes right takes the
cutter to the left over it. Common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.exact import at_least
from assistant.calc.milling import climbs
from assistant.jobs.steps import Cut, Move, Step
from assistant.jobs.to_size.depth_work import Stroke
from assistant.machine import Axis
from assistant.replacing import replace
from assistant.spoken import Figure
from assistant.units import Quantity, magnitude

__all__ = [
    "PlungeStroke",
    "Row",
    "RowsStroke",
    "ThroughStroke",
    "backed_off",
    "conventional_across",
    "conventional_way",
    "counted_back",
    "counted_turns",
    "plunging",
    "turns_out",
]

RIGHT, LEFT = 1, -1
IN, OUT = 1, -1
OVER_CLOSED = {"inch": Decimal("0.040"), "mm": Decimal(1)}
"""Room over a cut that is closed where it begins, while the cutter runs back past its start:
common practice, no source."""


def conventional_way(uncut: str) -> int:
    """The way of the table, +1 right or -1 left, that mills conventionally with a right-hand
    cutter where the metal still to be cut lies at the `front` or the `back` of the cutter.

    The table going right takes the cutter left over the work, with the front on its left.
    """
    work_on = "left" if uncut == "front" else "right"
    return LEFT if climbs(work_on) else RIGHT  # type: ignore[arg-type]


def conventional_across(uncut: str) -> int:
    """The way of the saddle, +1 in or -1 out, that mills conventionally with a right-hand cutter
    where the metal still to be cut lies at the `right` or the `left` of the cutter.

    The saddle going in takes the cutter toward the front, with the right-hand end on its left.
    """
    work_on = "left" if uncut == "right" else "right"
    return OUT if climbs(work_on) else IN  # type: ignore[arg-type]


def counted_turns(turns: int) -> tuple[str, str]:
    """`3 turns` and `those 3 turns`: told exactly, since they are counted back again."""
    return (
        ("one turn", "that one turn") if turns == 1 else (f"{turns} turns", f"those {turns} turns")
    )


def turns_out(depth: Axis, full_depth: Decimal, unit: str) -> int:
    """Whole turns that take the cutter right out of a cut that is closed where it begins;
    `full_depth` in `unit`, `inch` or `mm`."""
    return at_least(full_depth + OVER_CLOSED[unit], magnitude(depth.per_turn, unit))


def counted_back(
    id_: str, depth: Axis, turns: int, feed: str, begin: Quantity | None, way: int = 1,
    *, terms_of: Figure | None = None,
) -> Move:  # fmt: skip
    """Back to where the cut begins: off by whole turns, counted, back past the start and to it
    again the way of the cut, and those turns on again."""
    count, again = counted_turns(turns)
    return Move(
        id=id_,
        title="Back to the start",
        say=(f"{depth.name.capitalize()} {depth.way(-1)} exactly {count} before you run back.",),
        after=(f"Then {depth.way(1)} {again} again.",),
        axis=feed,
        target=begin,
        approach=way,
        lock=False,
        terms_of=terms_of,
    )


def plunging(move: Move) -> Move:
    """The setting of a depth that cuts already: a cutter that stands still would break."""
    return replace(move, spindle="on", spindle_words="Spindle on: it plunges.")


def backed_off(depth: Axis) -> tuple[str, str]:
    """Said before running back in the open: one turn off, or the spindle stopped, and on again."""
    down, up = depth.way(-1), depth.way(1)
    return (
        f"Spindle off, or {depth.name} {down} exactly one turn, before you run back.",
        f"Then {up} that one turn again. Clear of the end?",
    )


@dataclass(frozen=True)
class ThroughStroke:
    """Fed along the table from clear of one end to clear of the other, or to a stop."""

    depth: Axis
    """The axis that sets the depth, backed off a turn before running back."""
    feed: Axis
    way: int = 0
    """The way that the table goes in the cut; 0 where either will do."""
    uncut: str = ""
    """Where the metal still to be cut lies: `front` or `back`, for the words."""
    target: Quantity | None = None
    """Where the feed stops, counted from its zero; None where it runs through."""
    begin: Quantity | None = None
    """Where the cut begins, counted from its zero, where it has one."""
    sideways: bool = False
    """The pass is set across the work: nothing has to be backed off before running back."""
    turns_out: int = 0
    """Whole turns of the depth axis that take the cutter right out of a cut that is closed where
    it begins: the table runs back past there, and past it there is metal. 0 where it is open."""

    @property
    def _say(self) -> str:
        if self.turns_out:
            return "Plunged and locked? Feed to the end."
        if self.target is not None:
            return f"Feed the {self.feed.name} in to the length."
        if not self.way:
            # "the table right through" would be heard as a way
            return f"Feed the {self.feed.name} through, from end to end."
        if not self.uncut:
            return f"{self.feed.name.capitalize()} {self.feed.way(self.way)}, right through."
        return (
            f"{self.feed.name.capitalize()} {self.feed.way(self.way)}: conventional, no climbing."
        )

    def passes(self, move: Move, cut: Cut) -> list[Step]:
        """Set it, feed through."""
        return [
            plunging(move) if self.turns_out else move,
            replace(
                cut,
                say=(self._say,),
                feed_axis=self.feed.name,
                feed_target=self.target,
                feed_approach=self.way or 1,
            ),
        ]

    def back(self, name: str) -> list[Step]:
        """Back to the start: the cutter must not rub its way."""
        if self.turns_out:
            return [counted_back(f"{name}-back", self.depth, self.turns_out, self.feed.name,
                                 self.begin, self.way or 1)]  # fmt: skip
        say: tuple[str, ...] = backed_off(self.depth)
        off, words = "", ""
        if self.sideways:
            off, words, say = "off", "Spindle off before you run back.", ("Clear of the end?",)
        if self.begin is None:
            return [
                Move(id=f"{name}-back", title="Run back", spindle=off, spindle_words=words,
                     say=say, axis=self.feed.name, target=None, done_words="clear")
            ]  # fmt: skip
        return [
            Move(id=f"{name}-back", title="Run back", spindle=off, spindle_words=words,
                 say=say[:1] if not off else (),
                 after=(f"Then {self.depth.way(1)} that one turn again.",), axis=self.feed.name,
                 target=self.begin, approach=self.way or 1, lock=False)
        ]  # fmt: skip


@dataclass(frozen=True)
class Row:
    """One row of a wide cut: where the cutter goes across the work."""

    position: Quantity
    """Of the axis across, counted from its zero and set to its dial."""
    figure: Figure
    """The exact place with its derivation."""


@dataclass(frozen=True)
class RowsStroke:
    """Rows side by side at each depth, every one from the same side.

    The cutter stands at the first row when the first pass begins: it was touched there.
    """

    rows: tuple[Row, ...]
    axis: str
    """The axis across: the saddle."""
    toward: int
    """The way of that axis from row to row."""
    first: Stroke
    """The first row, in full metal."""
    others: Stroke
    """The rows beside it."""

    def passes(self, move: Move, cut: Cut) -> list[Step]:
        """Every row at this depth."""
        if len(self.rows) == 1:
            return self.first.passes(move, cut)
        standing = cut.number == 1
        steps: list[Step] = []
        for number, row in enumerate(self.rows, 1):
            name = cut.id.removesuffix("-cut")
            tail = "" if number == 1 else f"-row-{number}"
            across = Move(
                id=f"{name}{tail}-across",
                title=f"Across to row {number}",
                say=("Unlock the saddle.",) if self.axis == "saddle" else (),
                after=("Lock it.",),
                axis=self.axis,
                target=row.position,
                approach=self.toward,
                terms_of=row.figure,
            )
            one = replace(
                cut, id=f"{name}{tail}-cut", title=f"{cut.title}, row {number} of {len(self.rows)}"
            )
            stroke = self.first if number == 1 else self.others
            made = stroke.passes(move, one)
            # the depth is set once for all rows
            if not (standing and number == 1):
                steps.append(across)
            steps += made if number == 1 else made[1:]
            if number < len(self.rows):
                steps += stroke.back(f"{name}{tail}")
        return steps

    def back(self, name: str) -> list[Step]:
        """Back from the last row."""
        return self.others.back(f"{name}-last") if len(self.rows) > 1 else self.first.back(name)


@dataclass(frozen=True)
class PlungeStroke:
    """Straight in along the depth axis, without feeding the table; then out by whole turns."""

    depth: Axis
    lift: Quantity
    """Whole turns by which the work is taken clear to be measured, counted."""
    light: Quantity
    """Whole turns that are enough to look at the witness mark."""
    clear_words: tuple[str, ...] = ()
    skim_words: tuple[str, ...] = ("Feed in gently, to the depth.",)
    """How the witness skim is fed in."""
    words: tuple[str, ...] = ("Feed in gently, to the depth.",)
    """How every other pass is."""

    def passes(self, move: Move, cut: Cut) -> list[Step]:
        """The setting is the cut itself: the feed goes to the depth."""
        return [
            replace(
                cut,
                say=self.skim_words if cut.kind == "witness" else self.words,
                feed_axis=self.depth.name,
                feed_target=move.target,
                feed_approach=move.approach,
                limit=move.limit,
                pass_limit=move.pass_limit,
            ),
            self._out(f"{cut.id.removesuffix('-cut')}-clear", move, cut.kind),
        ]

    def _out(self, name: str, move: Move, kind: str) -> Move:
        assert move.target is not None
        lift = self.light if kind == "witness" else self.lift
        return Move(
            id=name,
            title="Out of the cut",
            say=self.clear_words,
            spindle_after="off",
            axis=self.depth.name,
            target=move.target - lift * move.approach,
            approach=-move.approach,
            lock=False,
        )

    def back(self, name: str) -> list[Step]:
        """It is clear already."""
        return []
