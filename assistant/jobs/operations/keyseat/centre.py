"""Finding the centre of the shaft from one side, and correcting it when both walls show."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from assistant.calc.dial import settle
from assistant.calc.positions import side_to_centre
from assistant.jobs.common import checks
from assistant.jobs.common.next_part import before
from assistant.jobs.milling.lands import lands_told
from assistant.jobs.milling.touching import HELD_BY, paper_told
from assistant.jobs.operations.keyseat.depths import SeatWork
from assistant.jobs.operations.keyseat.job import KeyseatJob, cutter_width, seat_of, shaft_diameter
from assistant.jobs.operations.keyseat.setup import places, side_clears
from assistant.jobs.steps import Facts, Move, Step, Touch
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.units import Quantity, is_quantity, magnitude, quantity

AXIS = "saddle"
"""The shaft lies along the table: the saddle moves across it."""
PAPER = "paper.saddle"


@dataclass(frozen=True)
class Centre:
    """The side touch and the way from there to the centre line."""

    job: KeyseatJob
    machine: Machine
    facts: Facts
    paper: Quantity
    """What paper is usual, until it is told."""

    @property
    def kept(self) -> bool:
        """Whether this is a next part, set as the last one was."""
        return all(before(self.facts, name) is not None for name in ("shaft", AXIS))

    def steps(self, clear: tuple[str, ...]) -> list[Step]:
        """From the side to the centre line, or on from the centre line of the part before."""
        return self._next_part() if self.kept else [self.touch(), self.move(clear)]

    @cached_property
    def moved(self) -> Quantity:
        """How far the centre of a next part lies from that of the one before: in V-blocks it stays
        where it was, in a vice it moves by half the difference in diameter, away from the fixed
        jaw. Common practice, no source."""
        last = before(self.facts, "shaft")
        if self.job.holding != "vice" or not is_quantity(last):
            return quantity(0, self.job.unit)
        half: Quantity = (shaft_diameter(self.job, self.facts) - last) / 2
        moved: Quantity = half * (1 if self.job.fixed_jaw == "back" else -1)
        return moved

    def _next_part(self) -> list[Step]:
        """On by what the centre has moved, if that can be dialled."""
        last, stood = before(self.facts, "shaft"), before(self.facts, AXIS)
        if not (is_quantity(last) and is_quantity(stood)):
            return []
        shaft = shaft_diameter(self.job, self.facts)
        target = settle(stood + self.moved, self.machine.axis(AXIS).graduation)
        if target == stood:
            return []
        return [
            Move(
                id="next-centre",
                title="Centre line of the next shaft",
                say=("This shaft differs: the centre has moved by half of it. Unlock the saddle.",),
                after=("Lock it.",),
                axis=AXIS,
                target=target,
                approach=self.way,
                verify=True,
                terms_of=Figure(
                    quantity(abs(magnitude(self.moved, self.job.unit)), self.job.unit),
                    "centre moved",
                    places(self.job.unit),
                    (Term("this shaft", shaft, 0), Term("the last shaft", last, 0)),
                    "half the difference in diameter",
                    "common practice",
                ),
            )
        ]

    @property
    def way(self) -> int:
        """Travel of the saddle on to the centre line: in from the back of the shaft, where the
        cutter stands toward the column; out from the front."""
        return 1 if self.job.side == "back" else -1

    @cached_property
    def figure(self) -> Figure:
        """Half the shaft + half the cutter + paper."""
        shaft = shaft_diameter(self.job, self.facts)
        cutter = cutter_width(self.job, self.facts)
        paper = paper_told(self.facts, PAPER, self.paper)
        terms = [Term("half the shaft", shaft / 2), Term("half the cutter", cutter / 2)]
        if paper.magnitude:
            terms.append(Term("paper", paper))
        return Figure(
            side_to_centre(shaft, cutter, paper),
            "side to centre",
            places(self.job.unit),
            tuple(terms),
            "half the shaft + half the cutter + paper",
            "machine shop text on milling keyseats; common practice",
        )

    def touch(self) -> Step:
        """Touch the side, where the widest of the shaft can be touched."""
        say = [
            "Cutter down to the centre line of the shaft.",
            f"Touch where the shaft stands clear of the {HELD_BY[self.job.holding]}, "
            "or against a square.",
        ]
        if not side_clears(self.job):
            say[0] = "The cutter can't get down to the centre line: touch against a square."
        if self.job.cutter.kind == "end mill":
            say[0] = "Cutter beside the shaft, down past its centre line."
        way = self.machine.axis(AXIS).way(self.way)
        return Touch(
            id="touch-side",
            title=f"Touch the {self.job.side} of the shaft",
            spindle="on",
            say=(*say, f"Saddle {way}, till it just touches the paper."),
            found=("That's your side.",),
            cautions=checks.TOUCH_CAUTIONS,
            axis=AXIS,
            toward=self.way,
            surface=f"the {self.job.side} side of the shaft",
            paper_fact=PAPER,
            paper_expected=self.paper,
        )

    @cached_property
    def exact(self) -> Quantity:
        """Where the saddle stands on the centre line: from the touch, or, for a next part, from
        where it stood for the last one, with whatever that was corrected by."""
        stood = before(self.facts, AXIS)
        if self.kept and is_quantity(stood):
            kept: Quantity = stood + self.moved
            return kept
        from_touch: Quantity = self.figure.value * self.way
        return from_touch

    @cached_property
    def target(self) -> Quantity:
        """The same, set to what its dial can show."""
        return settle(self.exact, self.machine.axis(AXIS).graduation)

    def move(self, clear: tuple[str, ...]) -> Step:
        """From the side to the centre line; `clear` says how to get over the shaft first."""
        return Move(
            id="to-centre",
            title="To the centre line",
            say=("Don't back it off.", *clear, "Then:"),
            after=("Lock it.",),
            axis=AXIS,
            target=self.target,
            approach=self.way,
            verify=True,
            terms_of=self.figure,
        )

    def correction(self, work: SeatWork) -> list[Step]:
        """Half the difference of the two lands, where both were measured and a shift helps."""
        unit, axis = self.job.unit, self.machine.axis(AXIS)
        cutter = magnitude(cutter_width(self.job, self.facts), unit)
        widest = magnitude(seat_of(self.job, self.facts).width.high, unit)
        lands = lands_told(self.facts, cutter, widest, work, work.arc)
        if lands is None or lands.centred:
            return []
        if not lands.fits:
            return [lands.refused()]
        half = quantity(lands.half, unit)
        target = settle(self.exact + half, axis.graduation)
        if abs(target - self.target) * 2 < axis.graduation:
            return []
        return [
            Move(
                id="correct-centre",
                title="Correct the centre",
                say=("Off centre. Last chance to save it. Unlock the saddle.",),
                after=("Lock it.", *lands.told),
                axis=AXIS,
                target=target,
                approach=self.way,
                verify=True,
                optional=True,
                terms_of=Figure(
                    quantity(abs(lands.half), unit),
                    "off centre",
                    places(unit),
                    (Term("front land", quantity(lands.front, unit)),
                     Term("back land", quantity(lands.back, unit), -1)),
                    "half the difference of the lands",
                    "common practice",
                ),
            )
        ]  # fmt: skip
