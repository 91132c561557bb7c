"""From a touched side to a line on the work, and both walls of what is cut there."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from assistant.calc.dial import settle
from assistant.jobs.common import checks
from assistant.jobs.common.next_part import before
from assistant.jobs.milling import mill
from assistant.jobs.milling.lands import together
from assistant.jobs.milling.touching import paper_told
from assistant.jobs.steps import Facts, Measure, Move, Touch
from assistant.jobs.to_size.sizing import sized
from assistant.machine import Axis
from assistant.spoken import Figure, Term
from assistant.units import Quantity, Unit, is_quantity, magnitude, quantity

OWN_PAPER = {"inch": Decimal("0.003"), "mm": Decimal("0.08")}


@dataclass(frozen=True)
class SideTouch:
    """A side that is touched, and the lines that are found from it.

    The axis keeps its zero at the touch, with half the cutter and the paper between: places are
    counted from there, on in the way in which it was touched.
    """

    axis: Axis
    way: int
    """Travel of the axis that brings the side to the cutter, and then on over the work."""
    unit: str
    facts: Facts
    half_cutter: Decimal
    surface: str
    """`the back of the block`."""
    name: str = "side"
    """In the ids of its steps."""
    own_fact: str = ""
    """Takes the paper, where one axis is touched off twice in a job."""

    @property
    def fact(self) -> str:
        """The fact that takes the paper."""
        return self.own_fact or f"paper.{self.axis.name.replace(' ', '-')}"

    @cached_property
    def paper(self) -> Decimal:
        """As told, for this part or for the one before; until then what is usual."""
        last = before(self.facts, self.fact)
        usual = last if is_quantity(last) else sized(OWN_PAPER[self.unit], self.unit)
        return magnitude(paper_told(self.facts, self.fact, usual), self.unit)

    def touch(self, *say: str, cautions: tuple[str, ...] = checks.TOUCH_CAUTIONS) -> Touch:
        """Touch it off."""
        way = self.axis.way(self.way)
        return Touch(
            id=f"touch-{self.name}",
            title=f"Touch {self.surface}",
            spindle="on",
            say=(*say, f"{self.axis.name.capitalize()} {way}, till it just touches the paper."),
            found=("That's your end." if self.axis.name == "table" else "That's your side.",),
            cautions=cautions,
            axis=self.axis.name,
            toward=self.way,
            surface=self.surface,
            paper_fact=self.fact,
            paper_expected=sized(OWN_PAPER[self.unit], self.unit),
        )

    def exact(self, from_side: Decimal) -> Decimal:
        """Travel from the touch till the cutter's centre is `from_side` beyond the side."""
        return self.half_cutter + self.paper + from_side

    def position(self, from_side: Decimal, moved: Decimal = Decimal(0)) -> Quantity:
        """Where the axis stands then, set to its dial; `moved` is a correction of its position."""
        exact = self.exact(from_side) * self.way + moved
        return settle(sized(exact, self.unit), self.axis.graduation)

    def figure(self, from_side: Decimal, *terms: Term, what: str, places: int) -> Figure:
        """That travel with its derivation."""
        own = [*terms, Term("half the cutter", sized(self.half_cutter, self.unit))]
        if self.paper:
            own.append(Term("paper", sized(self.paper, self.unit)))
        return Figure(
            sized(self.exact(from_side), self.unit),
            what,
            places,
            tuple(own),
            " + ".join(term.name for term in own),
            "geometry",
        )

    def move(
        self, id_: str, title: str, figure: Figure, from_side: Decimal, *say: str,
        moved: Decimal = Decimal(0), optional: bool = False, after: tuple[str, ...] = (),
    ) -> Move:  # fmt: skip
        """Go there, lock, and read again."""
        return Move(
            id=id_,
            title=title,
            say=say,
            after=("Lock it.", *after),
            axis=self.axis.name,
            target=self.position(from_side, moved),
            approach=self.way,
            verify=True,
            optional=optional,
            terms_of=figure,
        )


def walls(unit: str, shaft: Decimal, cutter: Decimal, axis: str) -> Measure:
    """Both walls to the sides of the shaft, front and back, cut to where the `axis` stands."""
    slack = quantity(mill.SLACK[unit], unit)
    nominal = quantity((shaft - cutter) / 2, unit)
    least, most = together(shaft, cutter, unit)
    terms = (Term("half the shaft", quantity(shaft / 2, unit)),
             Term("half the cutter", quantity(cutter / 2, unit), -1))  # fmt: skip
    return Measure(
        id="measure-walls",
        title="Both walls to the sides of the work",
        spindle="off",
        spindle_words="Spindle off.",
        say=("Measure both walls: front and back, to the side.",),
        cautions=checks.MEASURE_CAUTIONS,
        fact="walls",
        gauge="caliper",
        kind="walls",
        figure=Figure(nominal, "wall to side", Unit(unit).places, terms,
                      source="geometry"),
        nominal=nominal,
        band_low=nominal - slack,
        band_high=nominal + slack,
        sum_low=least,
        sum_high=most,
        at_axis=axis,
        optional=True,
    )  # fmt: skip
