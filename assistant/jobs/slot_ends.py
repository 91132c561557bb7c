"""Slots that end inside the work, with an end mill: open at one end, or closed at both.

Lengths along the work are counted from its right-hand end face, by the table's dial, with the
table always going right into the cut, so that both ends are set from the same side. A closed slot
is plunged at its start: with a cutter that cuts at its middle, or into a hole drilled before.
Common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from assistant.fields import Fields
from assistant.jobs import checks, mill
from assistant.jobs.centring import SideTouch
from assistant.jobs.mill import MillCutter, Milling
from assistant.jobs.sizing import Toleranced, toleranced
from assistant.jobs.steps import Facts, Move, Note, Step
from assistant.jobs.strokes import ThroughStroke, counted_turns, turns_out
from assistant.machine import Axis, Machine
from assistant.spoken import Figure, Term
from assistant.units import Quantity, is_quantity, magnitude

TABLE = "table"
OFF_THE_END = Decimal("1.5")
"""A slot open at one end is begun with the cutter's middle that many cutters before the end."""
FACT = "slot.length"


@dataclass(frozen=True)
class Ends:
    """How far a slot goes along the work, in the job's unit."""

    length: Toleranced
    from_end: Decimal | None
    """From the end face to the near end of a closed slot; None for one that is open there."""

    @property
    def closed(self) -> bool:
        """Whether both ends lie inside the work."""
        return self.from_end is not None


def read_ends(slot: Fields, cutter: MillCutter, width: Toleranced, unit: str) -> Ends | None:
    """`length` and `from_end` of `[slot]`; None for a slot right through the work."""
    from_end = slot.optional_length("from_end", unit)
    if slot.take("length", "", None) is None:
        if from_end is not None:
            slot.fail("length", "missing", "a slot that begins from_end the face has a length")
        return None
    length = toleranced(slot, "length", unit)
    marked = magnitude(cutter.width, unit)
    if cutter.kind != "end mill":
        slot.fail("length", f"{length.nominal:f}",
                  f"a {cutter.kind} runs out: wanted an end mill, or no length")  # fmt: skip
    if marked < width.low:
        slot.fail(
            "width", f"{width.nominal:f}",
            f"one that ends inside the work is cut as wide as its cutter: wanted a cutter of "
            f"{width.low:f} to {width.high:f}, or a slot right through",
        )  # fmt: skip
    if length.low <= marked:
        slot.fail("length", f"{length.nominal:f}", f"must be more than the cutter, {marked:f}")
    return Ends(length, None if from_end is None else magnitude(from_end, unit))


@dataclass(frozen=True)
class EndsWork:
    """The ends of a slot on one machine, with what was told."""

    ends: Ends
    job: Milling
    machine: Machine
    facts: Facts
    cutter: Decimal
    """What it cuts, as measured: a smaller one is fed further."""

    @cached_property
    def table(self) -> Axis:
        """The axis that lengths are counted on."""
        return self.machine.axis(TABLE)

    @cached_property
    def depth(self) -> Axis:
        """The axis that plunges."""
        return self.machine.axis(self.job.depth_axis)

    @cached_property
    def face(self) -> SideTouch:
        """The end face that lengths are counted from."""
        return SideTouch(self.table, 1, self.job.unit, self.facts, self.cutter / 2,
                         "the right-hand end face", TABLE)  # fmt: skip

    @property
    def _begins(self) -> Decimal:
        """From the end face to the cutter's middle where a pass begins."""
        if self.ends.from_end is None:
            return -self.cutter * OFF_THE_END
        return self.ends.from_end + self.cutter / 2

    @property
    def _stops(self) -> Decimal:
        """From the end face to the cutter's middle where a pass stops."""
        return (self.ends.from_end or Decimal(0)) + self.length - self.cutter / 2

    @property
    def length(self) -> Decimal:
        """The length that is aimed at."""
        return self.ends.length.aim(self.job.aim_inside)

    @cached_property
    def start(self) -> Quantity:
        """Table at the start of a pass, set to its dial."""
        return self.face.position(self._begins)

    @cached_property
    def finish(self) -> Quantity:
        """Table at the end of a pass, set to its dial."""
        return self.face.position(self._stops)

    @property
    def run(self) -> Figure:
        """How far the table runs in a pass."""
        job = self.job
        if self.ends.closed:
            terms = (Term("length", job.q(self.length)),
                     Term("cutter", job.q(self.cutter), -1))  # fmt: skip
            return Figure(self.finish - self.start, "to run", mill.places(job.unit), terms,
                          "length less the cutter", "geometry")  # fmt: skip
        return Figure(self.finish - self.start, "to run", mill.places(job.unit),
                      formula="from clear of the end to the length", source="geometry")  # fmt: skip

    def stroke(self, full_depth: Decimal) -> ThroughStroke:
        """From start to end, and back; out of a closed slot by whole turns."""
        return ThroughStroke(self.depth, self.table, 1, target=self.finish, begin=self.start,
                             turns_out=self._turns_out(full_depth))  # fmt: skip

    def _turns_out(self, full_depth: Decimal) -> int:
        if not self.ends.closed:
            return 0
        return turns_out(self.depth, full_depth, self.job.unit)

    @property
    def which_feed(self) -> str:
        """Which way the table is fed, in words."""
        return f"Table {self.table.way(1)}: the cutter fills the slot."

    # -- steps ----------------------------------------------------------------------------------

    def checks(self) -> tuple[Step, ...]:
        """Before a closed slot is begun."""
        if not self.ends.closed or self.job.cutter.centre_cutting:
            return ()
        return (checks.start_hole(),)

    def before_top(self) -> list[Step]:
        """The end face touched, and over the start of a closed slot: nothing is raised or lowered
        between the touch on the top and the first depth."""
        steps: list[Step] = [self.face.touch("Now the end. Cutter off it, below the top.")]
        if self.ends.closed:
            away = f"{self.depth.name.capitalize()} {self.depth.way(-1)}, clear of the top. Then:"
            steps.append(self._to_start(away))
        return steps

    def after_top(self) -> list[Step]:
        """Off the open end before the depth is set."""
        return [] if self.ends.closed else [self._to_start("Cutter off the end.")]

    def _to_start(self, say: str) -> Move:
        from_end = self.ends.from_end or Decimal(0)
        terms = [Term("end face to the slot", self.job.q(from_end))] if self.ends.closed else []
        half = Term("half the cutter", self.job.q(self.cutter / 2))
        return Move(
            id="to-start",
            title="To the start of the slot",
            say=(say,),
            axis=TABLE,
            target=self.start,
            approach=1,
            lock=False,
            terms_of=self.face.figure(self._begins, *terms, *([half] if terms else []),
                                      what="start of the slot",
                                      places=mill.places(self.job.unit)),
        )  # fmt: skip

    def measure(self, full_depth: Decimal) -> list[Step]:
        """The length, which the dial has made: checked, and what it means where it isn't in. The
        cutter stands in a closed slot, and has to come out by whole turns first."""
        job, length = self.job, self.ends.length
        out = again = ""
        if turns := self._turns_out(full_depth):
            count, those = counted_turns(turns)
            axis = self.depth
            out = f" {axis.name.capitalize()} {axis.way(-1)} exactly {count}."
            again = f" {axis.way(1).capitalize()} {those} again."
        slack = "0.060" if job.unit == "inch" else "1.5"
        what = "the length of the slot"
        steps: list[Step] = [mill.measure_made(job, FACT, what, length, slack, "too long", out)]
        told = self.facts.get(FACT)
        if is_quantity(told) and job.m(told) > length.high:
            steps.append(Note(id="too-long", title="Too long",
                              say=("Too long. Ask before you go on.",)))  # fmt: skip
        elif is_quantity(told) and job.m(told) < length.low:
            steps += self._further(job.q(self.length) - told, again)
        return steps

    def _further(self, short: Quantity, again: str) -> list[Step]:
        """One pass more at full depth, with the table so much further."""
        target = self.face.position(self._stops, self.job.m(short))
        return [
            Move(
                id="length-feed",
                title="Feed on to the length",
                say=(f"Short.{again} Spindle on.", "The same depth. Feed on to the length:"),
                after=("Then back off the wall, and spindle off.",),
                axis=TABLE,
                target=target,
                approach=1,
                lock=False,
                terms_of=Figure(short, "short of the length", mill.places(self.job.unit),
                                (Term("wanted", self.job.q(self.length)),
                                 Term("measured", self.job.q(self.length) - short, -1)),
                                source="the drawing"),
            )
        ]  # fmt: skip
