"""How a pass is made and run back: slotting cutter in one stroke, end mill from end to end."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Protocol

from assistant.calc.dial import settle
from assistant.jobs.milling.strokes import backed_off, counted_back, turns_out
from assistant.jobs.milling.touching import paper_told
from assistant.jobs.operations.keyseat.depths import SeatWork
from assistant.jobs.operations.keyseat.job import KeyseatJob, cutter_width
from assistant.jobs.operations.keyseat.setup import places
from assistant.jobs.steps import Cut, Facts, Move, Note, Step, Touch
from assistant.machine import Machine
from assistant.replacing import replace
from assistant.spoken import Figure, Term
from assistant.units import Quantity, Unit, magnitude, quantity

TABLE_PAPER = "paper.table"


def run_out(diameter: Decimal, depth: Decimal) -> Decimal:
    """How far beyond full depth a round cutter still marks the shaft: sqrt(h (D - h)), half the
    chord of the cutter at depth h. Source: geometry of the circle."""
    return (depth * (diameter - depth)).sqrt()


class KeyseatStrokes(Protocol):
    """How a pass is made and run back on a set-up, and what comes before the first."""

    @property
    def plunged(self) -> bool:
        """Whether setting the depth cuts already: there is metal where the cut begins."""

    def cut(self, depths: SeatWork, cut: Cut) -> list[Step]:
        """The steps of one pass, after the depth is set."""

    def back(self, depths: SeatWork, name: str) -> list[Step]:
        """The steps that run back for the next pass."""

    def marks(self, depths: SeatWork) -> list[Step]:
        """Marking out, before the first touch."""

    def before_top(self, depths: SeatWork) -> list[Step]:
        """Touches that lengths are counted from, before the top is touched: whatever is raised or
        lowered for them must not come between the top and the first depth."""

    def run(self, depths: SeatWork) -> Figure:
        """How far the table runs."""

    def after_top(self) -> list[Step]:
        """Getting the cutter to where the depth is set, after the top is touched."""

    def on_to(self) -> list[Step]:
        """From the keyseat before, clear of the shaft, to where the depth is set."""


@dataclass(frozen=True)
class SlottingStrokes:
    """A slotting cutter: in from the open end to full length, back in the same slot."""

    job: KeyseatJob
    machine: Machine

    @property
    def plunged(self) -> bool:
        """It comes in from the open end."""
        return False

    def before_top(self, depths: SeatWork) -> list[Step]:
        """Nothing more to touch: the stop and the mark give the length."""
        return []

    def marks(self, depths: SeatWork) -> list[Step]:
        """The length: where full depth ends, and how far to run for it."""
        figure = self.run(depths)
        return [
            Note(
                id="set-length",
                title="Mark the length, set the stop",
                say=("Mark where full depth ends, from the end face. Set the table stop.",),
                figure=Figure(self.job.length, "full depth from the end face",
                              places(self.job.unit), figure.terms, figure.formula, figure.source),
            )
        ]  # fmt: skip

    def run(self, depths: SeatWork) -> Figure:
        """Travel of the table from the cutter just meeting the end face to full length."""
        unit = self.job.unit
        out = run_out(magnitude(self.job.cutter.diameter, unit), depths.aim)
        run_out_size = quantity(out, unit)
        return Figure(
            self.job.length + run_out_size,
            "table run, from meeting the end face",
            places(unit),
            (Term("length at full depth", self.job.length), Term("cutter run-out", run_out_size)),
            "length + sqrt(depth x (cutter diameter - depth))",
            "geometry",
        )

    def after_top(self) -> list[Step]:
        """Raising onto the touched shaft would plunge: the cutter goes off the end first."""
        return [
            Move(
                id="table-out",
                title="Table out before the knee comes up",
                say=("Run the table out till the cutter's off the end.",),
                axis=self.machine.feed_axis,
                target=None,
                done_words="clear",
            )
        ]

    def on_to(self) -> list[Step]:
        """One keyseat to a job: an open end has no next one in line."""
        return self.after_top()

    def cut(self, depths: SeatWork, cut: Cut) -> list[Step]:
        """One stroke."""
        hand = "Feed in to the stop."
        return [replace(cut, feed_axis=self.machine.feed_axis, say=(hand,))]

    def back(self, depths: SeatWork, name: str) -> list[Step]:
        """Back in the same slot: the cutter must not rub its way out."""
        axis = depths.axis.name
        return [
            Move(
                id=depths.id(f"{name}-back"),
                title="Run back",
                say=backed_off(depths.axis),
                again=(f"Run back the same way, the {axis} as it was. Clear of the end?",),
                axis=self.machine.feed_axis,
                target=None,
                done_words="clear",
            )
        ]


@dataclass(frozen=True)
class EndMillStrokes:
    """An end mill: from the start of the seat to its end, back clear of the floor."""

    job: KeyseatJob
    machine: Machine
    facts: Facts
    number: int = 1
    """Which keyseat of several in line."""

    @property
    def _paper(self) -> Quantity:
        usual = Unit(self.job.unit).size("0.003", "0.08")
        return paper_told(self.facts, TABLE_PAPER, usual)

    def _position(self, from_end: Quantity) -> Quantity:
        """Table position of the cutter's centre at a distance from the end face, counted from
        the touch on that face with half the cutter and the paper between."""
        half = cutter_width(self.job, self.facts) / 2
        axis = self.machine.axis("table")
        return settle(half + self._paper + from_end, axis.graduation)

    def _ends(self) -> tuple[Quantity, Quantity]:
        """Table positions at the start and the end of a cut."""
        half = cutter_width(self.job, self.facts) / 2
        if self.job.end == "open":
            # starts clear of the end face, ends with the round at full length
            return self._position(-half * 3), self._position(self.job.length)
        start = self.job.from_end or self.job.length * 0
        if self.job.pitch is not None:
            start = start + self.job.pitch * (self.number - 1)
        return self._position(start + half), self._position(start + self.job.length - half)

    def marks(self, depths: SeatWork) -> list[Step]:
        """Nothing to mark: the table dial gives the length."""
        return []

    def before_top(self, depths: SeatWork) -> list[Step]:
        """Touch the end face, since lengths are counted from there; and over a closed seat's
        start, where the top is then touched and the cutter plunged."""
        touch = Touch(
            id="touch-table",
            title="Touch the end face",
            spindle="on",
            say=(
                "Now the end face. Cutter off the end, below the top.",
                "Table right, till it just touches the paper.",
            ),
            found=("That's your end.",),
            axis="table",
            toward=1,
            surface="the end face",
            paper_fact=TABLE_PAPER,
            paper_expected=Unit(self.job.unit).size("0.003", "0.08"),
        )
        away = f"{depths.axis.name.capitalize()} {depths.axis.way(-1)}, clear of the shaft. Then:"
        return [touch, *([] if self._open else [self._to_start(away)])]

    def run(self, depths: SeatWork) -> Figure:
        """Travel of the table from start to end of a cut."""
        start, end = self._ends()
        terms: tuple[Term, ...] = (Term("seat length", self.job.length),)
        if self.job.end == "closed":
            terms = (*terms, Term("cutter", cutter_width(self.job, self.facts), -1))
        return Figure(
            abs(end - start), "table run", places(self.job.unit), terms,
            "seat length less the cutter" if self.job.end == "closed" else "start clear to length",
            "geometry",
        )  # fmt: skip

    @property
    def plunged(self) -> bool:
        """A closed seat is begun inside the shaft."""
        return not self._open

    @property
    def _open(self) -> bool:
        return self.job.end == "open"

    def after_top(self) -> list[Step]:
        """Off the open end before the depth is set; over a closed seat it stands already."""
        if not self._open:
            return []
        return [self._to_start("Table out till the cutter's off the end.")]

    def on_to(self) -> list[Step]:
        """On to the start of this keyseat."""
        return [self._to_start("Table to the start, cutter clear of the shaft.")]

    def _to_start(self, say: str) -> Move:
        start, _ = self._ends()
        return Move(
            id="to-start" if self.number == 1 else f"seat-{self.number}-to-start",
            title="To the start of the seat",
            say=(say,),
            axis="table",
            target=start,
            approach=1,
            lock=False,
            terms_of=self._start_figure(start),
        )

    def _start_figure(self, start: Quantity) -> Figure:
        half = cutter_width(self.job, self.facts) / 2
        terms = [Term("half the cutter", half), Term("paper", self._paper)]
        if self.job.end == "closed" and self.job.from_end is not None:
            terms += [
                Term("end face to the seat", self.job.from_end),
                Term("half the cutter", half),
            ]
        if self.job.pitch is not None and self.number > 1:
            terms.append(Term("on to this seat", self.job.pitch * (self.number - 1)))
        return Figure(start, "start of the seat", places(self.job.unit), tuple(terms),
                      source="geometry")  # fmt: skip

    def cut(self, depths: SeatWork, cut: Cut) -> list[Step]:
        """Feed to the end of the seat."""
        _, end = self._ends()
        say = (
            ("Plunged and locked? Feed to the end.",)
            if self.job.end == "closed"
            else ("Feed in to the end.",)
        )
        return [replace(cut, feed_axis="table", feed_target=end, feed_approach=1, say=say)]

    def back(self, depths: SeatWork, name: str) -> list[Step]:
        """Clear of the floor, and back past the start to come to it the same way again.

        Past the start of a closed seat there is metal: the cutter has to come right out of it.
        """
        start, _ = self._ends()
        turns = 1 if self._open else turns_out(depths.axis, depths.aim, depths.unit)
        return [
            counted_back(depths.id(f"{name}-back"), depths.axis, turns, "table", start,
                         terms_of=self._start_figure(start))
        ]  # fmt: skip


def strokes_for(job: KeyseatJob, machine: Machine, facts: Facts, number: int = 1) -> KeyseatStrokes:
    """The strokes of the job's cutter."""
    if job.cutter.kind == "end mill":
        return EndMillStrokes(job, machine, facts, number)
    return SlottingStrokes(job, machine)
