"""Slots that end inside the work, with an end mill: open at one end, or closed at both.

Lengths along the work are counted from its right-hand end face, by the table's dial, with the
table always going right to what is set. A closed slot is plunged where it begins: with a cutter
that cuts at its middle, or into a hole drilled before. One as wide as its cutter is cut here, both
ends by the dial; `pocket` has those that are wider. Common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from assistant.errors import ImpossibleInput
from assistant.fields import Fields
from assistant.jobs.common import checks
from assistant.jobs.milling import mill
from assistant.jobs.milling.centring import SideTouch
from assistant.jobs.milling.checked_size import measure_made
from assistant.jobs.milling.mill import MillCutter, Milling
from assistant.jobs.milling.strokes import ThroughStroke, counted_turns, turns_out
from assistant.jobs.steps import Facts, Move, Note, Step
from assistant.jobs.to_size.sizing import USUAL, Toleranced, toleranced
from assistant.machine import Axis, Machine
from assistant.spoken import Figure, Term
from assistant.spoken.limits import Standing
from assistant.units import Quantity, is_quantity, magnitude

TABLE = "table"
OFF_THE_END = Decimal("1.5")
"""A slot open at one end is begun with the cutter's middle that many cutters before the end."""
FACT = "slot.length"


@dataclass(frozen=True)
class Ends:
    """How far a slot goes along the work, in the job's unit."""

    length: Toleranced
    from_end: Toleranced | None
    """From the end face to the near end of a closed slot; None for one that is open there."""
    corner: Decimal | None = None
    """The largest radius that its corners may have; None where the drawing gives none."""

    @property
    def closed(self) -> bool:
        """Whether both ends lie inside the work."""
        return self.from_end is not None


def read_ends(slot: Fields, cutter: MillCutter, unit: str) -> Ends | None:
    """`length`, `from_end` and `corner` of `[slot]`; None for a slot right through the work."""
    corner = slot.optional_length("corner", unit)
    from_end = None
    if slot.take("from_end", "", None) is not None:
        from_end = toleranced(slot, "from_end", unit)
    if slot.take("length", "", None) is None:
        for key, given in (("from_end", from_end), ("corner", corner)):
            if given is not None:
                slot.fail("length", "missing", f"a slot with a {key} has a length")
        return None
    length = toleranced(slot, "length", unit)
    marked = magnitude(cutter.width, unit)
    if cutter.kind != "end mill":
        slot.fail("length", f"{length.nominal:f}",
                  f"a {cutter.kind} runs out: wanted an end mill, or no length")  # fmt: skip
    if length.low <= marked:
        slot.fail("length", f"{length.nominal:f}", f"must be more than the cutter, {marked:f}")
    largest = None if corner is None else magnitude(corner, unit)
    if largest is not None and marked > 2 * largest:
        slot.fail(
            "corner", f"{largest:f}",
            f"the cutter leaves {(marked / 2).normalize():f}, half of itself: wanted one of "
            f"{(2 * largest).normalize():f} {unit} at most",
        )  # fmt: skip
    return Ends(length, from_end, largest)


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
    def length(self) -> Decimal:
        """The length that is aimed at."""
        return self.ends.length.aim(self.job.aim_inside)

    @property
    def near(self) -> Decimal:
        """From the end face to the near end of the slot; nothing where it is open there."""
        place = self.ends.from_end
        return Decimal(0) if place is None else place.aim(self.job.aim_inside)

    @property
    def off_the_end(self) -> Decimal:
        """From the end face to the cutter's middle, off the end of the work."""
        return -self.cutter * OFF_THE_END

    @property
    def begins(self) -> Decimal:
        """From the end face to the cutter's middle where the slot begins."""
        return self.near + self.cutter / 2 if self.ends.closed else self.off_the_end

    @property
    def stops(self) -> Decimal:
        """From the end face to the cutter's middle where the slot ends."""
        return self.near + self.length - self.cutter / 2

    @cached_property
    def start(self) -> Quantity:
        """Table at the start of a pass, set to its dial."""
        return self.face.position(self.begins)

    @cached_property
    def finish(self) -> Quantity:
        """Table at the end of a pass, set to its dial."""
        return self.face.position(self.stops)

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

    @property
    def size(self) -> Figure:
        """The length with its limits."""
        low, high = self.job.q(self.ends.length.low), self.job.q(self.ends.length.high)
        return Figure(self.job.q(self.ends.length.nominal), "the length of the slot",
                      mill.size_places(self.job.unit), low=low, high=high,
                      source="the drawing")  # fmt: skip

    @property
    def corners(self) -> Figure:
        """The radius that the cutter leaves where a wall meets an end."""
        job = self.job
        return Figure(job.q(self.cutter / 2), "corner radius", mill.places(job.unit),
                      (Term("half the cutter", job.q(self.cutter / 2)),), "cutter / 2",
                      "geometry")  # fmt: skip

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

    def check_corner(self) -> None:
        """Raises `ImpossibleInput` where the cutter, as measured, leaves corners that are too
        large. What is over its name by less than a usual tolerance makes the corner of its name:
        common practice, no source."""
        corner, unit = self.ends.corner, self.job.unit
        if corner is not None and self.cutter / 2 > corner + Decimal(USUAL[unit]):
            raise ImpossibleInput(
                "cutter", f"{self.cutter.normalize():f} {unit}",
                f"leaves corners of half of that, and the drawing has {corner.normalize():f}: "
                "take a smaller one",
            )  # fmt: skip

    # -- steps ----------------------------------------------------------------------------------

    def checks(self) -> tuple[Step, ...]:
        """Before a closed slot is begun."""
        if not self.ends.closed or self.job.cutter.centre_cutting:
            return ()
        return (checks.start_hole(),)

    def before_top(self) -> list[Step]:
        """The end face touched, and over the start of a closed slot: nothing is raised or lowered
        between the touch on the top and the first depth."""
        if self.ends.closed:
            half = Term("half the cutter", self.job.q(self.cutter / 2))
            place = Term("end face to the slot", self.job.q(self.near))
            return [self.touch_face(), self.over_start(self.begins, place, half)]
        return [self.touch_face(), self.over_the_top()]

    def touch_face(self) -> Step:
        """The end face that lengths are counted from."""
        return self.face.touch("Now the end. Cutter off it, below the top.")

    def over_the_top(self) -> Move:
        """Over the work, to touch its top, where the slot itself begins off the end."""
        one = Term("end face to the touch", self.job.q(self.cutter))
        return self._to(self.cutter, one, id_="over-top", title="Over the top, to touch it",
                        say=self._clear)  # fmt: skip

    def over_start(self, at: Decimal, *terms: Term) -> Move:
        """Over the place where it is plunged, `at` from the end face."""
        return self._to(at, *terms, say=self._clear)

    def after_top(self) -> list[Step]:
        """Off the open end before the depth is set."""
        if self.ends.closed:
            return []
        return [self._to(self.off_the_end, self.clear_term, say="Cutter off the end.")]

    @property
    def clear_term(self) -> Term:
        """How far off the end the cutter's middle then is."""
        return Term("off the end", self.job.q(-self.off_the_end), -1)

    @property
    def _clear(self) -> str:
        return f"{self.depth.name.capitalize()} {self.depth.way(-1)}, clear of the top. Then:"

    def _to(self, at: Decimal, *terms: Term, say: str, id_: str = "to-start",
            title: str = "To the start of the slot") -> Move:  # fmt: skip
        return Move(
            id=id_,
            title=title,
            say=(say,),
            axis=TABLE,
            target=self.face.position(at),
            approach=1,
            lock=False,
            terms_of=self.face.figure(at, *terms, what="start of the slot",
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
        what = "the length of the slot"
        made = measure_made(job, FACT, what, length, mill.SLACK[job.unit], "too long", out)
        steps: list[Step] = [made]
        told = self.facts.get(FACT)
        if not is_quantity(told):
            return steps
        standing = made.limits.standing(told, job.unit)
        if standing is Standing.PAST:
            steps.append(Note(id="too-long", title="Too long",
                              say=("Too long. Ask before you go on.",)))  # fmt: skip
        elif standing is Standing.SHORT:
            steps += self._further(job.q(self.length) - told, again)
        return steps

    def _further(self, short: Quantity, again: str) -> list[Step]:
        """One pass more at full depth, with the table so much further."""
        target = self.face.position(self.stops, self.job.m(short))
        return [
            Move(
                id="length-feed",
                title="Feed on to the length",
                spindle="on",
                spindle_words=f"Short.{again} Spindle on.",
                spindle_after="off",
                say=("The same depth. Feed on to the length:",),
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
