"""Finding an edge: the tip kicks, half of it on, and the spindle stands over the edge."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.dial import settle
from assistant.calc.positions import edge_to_spindle
from assistant.jobs.milling.touching import paper_told
from assistant.jobs.steps import Facts, Ground, Move, Step, Touch
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.units import Quantity, Unit, quantity

FEELER = {"inch": Decimal("0.010"), "mm": Decimal("0.25")}
"""A usual feeler, until its thickness is told."""
FINDER_CAUTIONS = ("Edge finder at its maker's speed, a finger's breadth below the edge.",)
FEELER_CAUTIONS = ("Feeler: spindle stopped and isolated, tool turned backwards by hand.",)


@dataclass(frozen=True)
class Edge:
    """One edge of the work, touched with a round tip."""

    machine: Machine
    axis: str
    """`table` for the left and right edges, `saddle` for front and back."""
    edge: str
    """`left`, `right`, `front` or `back`."""
    tip: Quantity
    unit: str
    by: str = "edge finder"
    """`edge finder`, or `feeler`: a tool of the tip's diameter with a feeler between."""

    @property
    def into(self) -> int:
        """+1 where the work lies right of the edge or behind it, -1 left of it or before it."""
        return 1 if self.edge in ("left", "front") else -1

    @property
    def toward(self) -> int:
        """The way of the axis that brings the edge to the tip, and then the work under the
        spindle: the table to the left for a left edge, the saddle out for a front one."""
        return -self.into

    def steps(self, facts: Facts) -> list[Step]:
        """Touch it, then half the tip (and the feeler) on, and zero there."""
        fact = f"paper.{self.axis}"
        feeler = quantity(0, self.unit)
        usual = None
        if self.by == "feeler":
            usual = quantity(FEELER[self.unit], self.unit)
            feeler = paper_told(facts, fact, usual)
        axis = self.machine.axis(self.axis)
        way = axis.way(self.toward)
        exact = edge_to_spindle(self.tip, feeler)
        terms = [Term("half the tip", self.tip / 2)]
        if feeler.magnitude:
            terms.append(Term("feeler", feeler))
        until = "the tip kicks" if self.by == "edge finder" else "the feeler drags"
        touch = Touch(
            id=f"edge-{self.axis}",
            spindle="on" if self.by == "edge finder" else "off",
            title=f"Find the {self.edge} edge",
            say=(f"Now the {self.edge} edge.",
                 f"{self.axis.capitalize()} {way}, slowly, till {until}."),
            found=("That's your edge.",),
            cautions=FINDER_CAUTIONS if self.by == "edge finder" else FEELER_CAUTIONS,
            axis=self.axis,
            toward=self.toward,
            surface=f"the {self.edge} edge",
            by=(Ground.WORK,),
            # found again in the middle of a job, the tip takes the place of the tool
            anew=(Ground.TOOL,),
            paper_fact=fact if usual is not None else "",
            paper_expected=usual,
        )  # fmt: skip
        over = Move(
            id=f"over-{self.axis}",
            title=f"Spindle over the {self.edge} edge",
            say=("Raise it clear of the work.",),
            after=("Then zero it again.",) if axis.settable else (),
            axis=self.axis,
            target=settle(exact, axis.graduation) * self.toward,
            approach=self.toward,
            lock=False,
            zero_after=True,
            terms_of=Figure(exact, f"edge to spindle, {self.edge}", Unit(self.unit).places,
                            tuple(terms), "half the tip + feeler", "geometry"),
        )  # fmt: skip
        return [touch, over]
