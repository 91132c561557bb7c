"""One direction, table or saddle: both touches, and the middle between them."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from assistant.calc.dial import settle
from assistant.calc.positions import Centre, centre_of, edge_to_spindle
from assistant.jobs.common import checks
from assistant.jobs.milling.mill import places, size_places
from assistant.jobs.milling.touching import paper_told
from assistant.jobs.operations.centre.job import SIDES, CentreJob
from assistant.jobs.steps import Facts, Move, Note, Step, Touch
from assistant.machine import Axis, Machine
from assistant.spoken import Figure, Term
from assistant.units import Quantity, is_quantity, magnitude, quantity

OUTSIDE = {"left": -1, "right": 1, "front": -1, "back": 1}
"""The way of table or saddle that brings that side of the work to a tool beside it."""
AXES = {"x": "table", "y": "saddle"}
AGREE = {"inch": Decimal("0.005"), "mm": Decimal("0.1")}
"""A size across further from the drawing's than this, and a touch or a turn is wrong."""
CHORD = Decimal("0.07")
"""Of a diameter: how much shorter a chord may be. By eye the spindle stands within a sixth of the
diameter over the middle, which makes it shorter by 0.06. Common practice, no source."""
FEELER = {"inch": Decimal("0.002"), "mm": Decimal("0.05")}
GEOMETRY = "plane geometry; common practice"


@dataclass(frozen=True)
class Direction:
    """One of the two directions, table or saddle."""

    job: CentreJob
    machine: Machine
    facts: Facts
    name: str
    """`x` or `y`."""

    @property
    def axis(self) -> Axis:
        return self.machine.axis(AXES[self.name])

    @property
    def first(self) -> str:
        """The side touched first."""
        return self.job.x_side if self.name == "x" else self.job.y_side

    @property
    def second(self) -> str:
        """The other one."""
        near, far = SIDES[self.name]
        return far if self.first == near else near

    @property
    def way(self) -> int:
        """Travel of the axis that makes the first touch: turned about from inside."""
        return OUTSIDE[self.first] * (-1 if self.job.inside else 1)

    @property
    def size(self) -> Quantity | None:
        """Across, from the drawing."""
        return self.job.size_x if self.name == "x" else self.job.size_y

    @cached_property
    def feeler(self) -> Quantity:
        """Between cutter and work; nothing with an edge finder."""
        none = quantity(0, self.job.unit)
        if self.job.tool == "edge finder":
            return none
        usual = quantity(FEELER[self.job.unit], self.job.unit)
        return paper_told(self.facts, self._paper, usual)

    @property
    def _paper(self) -> str:
        return f"paper.{self.axis.name}"

    @cached_property
    def tip(self) -> Quantity:
        """The tip with the feeler on both its sides."""
        wide: Quantity = self.job.tip + self.feeler * 2
        return wide

    # -- the middle -----------------------------------------------------------------------------

    def _slack(self) -> Quantity:
        """What the lost motion adds to the dial at the second touch."""
        slack: Quantity = self.axis.backlash * self.way
        return slack

    @cached_property
    def near(self) -> Quantity:
        """About where the dial stands at the second touch.

        Inside, the first touch is turned back from, to the other wall. Outside, the work goes on
        the way of the first touch: all of it passes below the spindle till its other side comes.
        """
        assert self.size is not None
        on = (self.size - self.tip) * -self.way if self.job.inside else (
            (self.size + self.tip) * self.way
        )  # fmt: skip
        return settle(on - self._slack(), self.axis.graduation)

    @property
    def fact(self) -> str:
        """Takes where the axis stood at the second touch."""
        return f"second.{self.name}"

    @cached_property
    def told(self) -> bool:
        """Whether the second touch was read."""
        return is_quantity(self.facts.get(self.fact))

    @cached_property
    def centre(self) -> Centre:
        """From both touches, the lost motion taken out."""
        stood = self.facts.get(self.fact)
        second = (stood if is_quantity(stood) else self.near) + self._slack()
        return centre_of(
            quantity(0, self.job.unit), quantity(magnitude(second, self.job.unit), self.job.unit),
            self.tip, inside=self.job.inside,
        )  # fmt: skip

    @cached_property
    def across(self) -> Figure:
        """Across the feature, as touched: a check that both touches were good."""
        terms = (
            Term("between the touches", abs(self.centre.position * 2)),
            Term("tip", self.tip, 1 if self.job.inside else -1),
        )
        return Figure(self.centre.size, f"across {self.name}", size_places(self.job.unit), terms,
                      source=GEOMETRY)  # fmt: skip

    @property
    def differs(self) -> Quantity | None:
        """How far that is from the drawing, where it is too far."""
        if self.size is None or not self.told:
            return None
        difference: Quantity = self.centre.size - self.size
        agree = quantity(AGREE[self.job.unit], self.job.unit)
        # of a round one the first direction meets a chord: shorter, but never so much by eye
        short = self.size * CHORD if self.chord else agree
        return difference if difference > agree or -difference > short else None

    @property
    def chord(self) -> bool:
        """Whether both touches lie beside the middle, where it was set by eye."""
        return self.job.round and self.name == "x"

    # -- steps ----------------------------------------------------------------------------------

    def steps(self, clear: str) -> list[Step]:
        """Both touches and the middle; for a corner the touch and the edge."""
        if self.job.feature == "corner":
            return [self._touch(self.first), self._to_edge(clear)]
        steps: list[Step] = [self._touch(self.first), self._second(clear)]
        if self.differs is not None:
            more = "Count the turns again." if not self.job.round else "Touch both again."
            steps.append(
                Note(
                    id=f"differs-{self.name}",
                    title="Not the drawing's size",
                    say=(f"That's not the drawing's size. {more}",),
                    figure=self.across,
                )
            )
        steps.append(self._to_middle(clear))
        return steps

    def _surface(self, side: str) -> str:
        return f"the {side} wall" if self.job.inside else f"the {side} of the work"

    @property
    def _spindle(self) -> str:
        """An edge finder runs; a feeler is drawn past a tool that stands."""
        return "on" if self.job.tool == "edge finder" else "off"

    @property
    def _stopped(self) -> str:
        return "Spindle stopped." if self._spindle == "off" else ""

    def _words(self, side: str, way: int) -> tuple[str, ...]:
        axis = f"{self.axis.name.capitalize()} {self.axis.way(way)}"
        if self.job.tool == "edge finder":
            return (f"{axis}, slower and slower. Stop at the kick.",)
        return (f"{axis}, till the feeler just drags.",)

    def _touch(self, side: str) -> Touch:
        where = "inside" if self.job.inside else "beside it"
        feeler = self.job.tool == "cutter"
        return Touch(
            id=f"touch-{self.name}-1",
            title=f"Touch {self._surface(side)}",
            spindle=self._spindle,
            spindle_words=self._stopped,
            say=(f"Tip {where}, at {self._surface(side)}.", *self._words(side, self.way)),
            cautions=checks.TOUCH_CAUTIONS if feeler else (),
            axis=self.axis.name,
            toward=self.way,
            surface=self._surface(side),
            paper_fact=self._paper if feeler else "",
            paper_expected=quantity(FEELER[self.job.unit], self.job.unit) if feeler else None,
        )

    def _second(self, clear: str) -> Touch:
        over = "Keep the count. Over to the other wall." if self.job.inside else (
            f"Keep the count. {clear}, and over to the other side."
        )  # fmt: skip
        return Touch(
            id=f"touch-{self.name}-2",
            title=f"Touch {self._surface(self.second)}",
            spindle=self._spindle,
            spindle_words=self._stopped,
            say=(over, *self._words(self.second, -self.way)),
            axis=self.axis.name,
            toward=-self.way,
            surface=self._surface(self.second),
            keeps=self.fact,
            near=self.near,
        )

    def _to_middle(self, clear: str) -> Move:
        middle: Quantity = self.centre.position
        half: Quantity = abs(middle)  # type: ignore[arg-type]
        terms = [Term("between the touches", half * 2)]
        if self.axis.backlash.magnitude:
            terms.append(Term("lost motion, taken out", self.axis.backlash, 0))
        return Move(
            id=f"middle-{self.name}",
            title=f"To the middle, {self.name.upper()}",
            say=() if self.job.inside else (f"{clear}. Then:",),
            after=("Lock it. Zero it: that's the middle.",)
            if self.axis.settable
            else ("Lock it. That's the middle.",),
            axis=self.axis.name,
            target=settle(middle, self.axis.graduation),
            approach=self.way,
            zero_after=True,
            terms_of=Figure(half, "middle", places(self.job.unit), tuple(terms),
                            "half of what lies between the touches", GEOMETRY),
        )  # fmt: skip

    @cached_property
    def edge(self) -> Figure:
        """From the touch till the spindle stands over the edge."""
        terms = [Term("half the tip", self.job.tip / 2)]
        if self.feeler.magnitude:
            terms.append(Term("feeler", self.feeler))
        return Figure(edge_to_spindle(self.job.tip, self.feeler), "touch to edge",
                      places(self.job.unit), tuple(terms), "half the tip + feeler",
                      GEOMETRY)  # fmt: skip

    def _to_edge(self, clear: str) -> Move:
        axis = self.axis
        return Move(
            id=f"edge-{self.name}",
            title=f"Over the edge, {self.name.upper()}",
            say=("Don't back it off.", f"{clear}. Then:"),
            after=("Lock it. Zero it: that's your edge.",)
            if axis.settable
            else ("Lock it. That's your edge.",),
            axis=axis.name,
            target=settle(self.edge.value, axis.graduation) * self.way,
            approach=self.way,
            zero_after=True,
            terms_of=self.edge,
        )
