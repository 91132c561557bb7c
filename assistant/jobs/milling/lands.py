"""Both walls of a seat to the sides of the shaft: what they add up to, and the shift they ask for.

A mark in a round shaft is narrower than the cutter until it is as deep as the arc that the
cutter's width cuts off: only then are there walls. A shift after that leaves the seat as wide as
both cuts together, down to where they were measured: so the first pass goes but a little deeper
than the arc, where the deburring takes the edge off anyway, and the walls are measured there.
Measured deeper, as after a pass that went too far, a shift has to stay inside the limits of the
width, or it is not offered.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal

from assistant.calc.exact import to_step
from assistant.jobs.steps import Facts, Note
from assistant.jobs.to_size.infeed import Infeed
from assistant.jobs.to_size.sizing import in_words
from assistant.units import Quantity, Unit, is_quantity, magnitude, quantity

EDGE = {"inch": Decimal("0.010"), "mm": Decimal("0.25")}
"""How deep at the edge the seat may be wider: the deburring takes as much. Common practice, no
source."""
SUM = {"inch": Decimal("0.006"), "mm": Decimal("0.15")}
"""How far two walls and the cutter may be from the shaft together: two readings of a caliper and
the run-out of the cutter. Common practice, no source."""
CENTRED = {"inch": Decimal("0.001"), "mm": Decimal("0.02")}
"""Off the centre by less than this is nothing to correct: no caliper tells it. Common practice, no
source."""


def pause_at(arc: Decimal, grain: Decimal, unit: str) -> Decimal:
    """The depth at which the walls are measured: set down to the dial's graduation."""
    return to_step(arc + EDGE[unit], grain, ROUND_FLOOR)


def together(shaft: Decimal, cutter: Decimal, unit: str) -> tuple[Quantity, Quantity]:
    """Least and most that both walls can add up to."""
    lands = shaft - cutter
    return quantity(lands - SUM[unit], unit), quantity(lands + SUM[unit], unit)


@dataclass(frozen=True)
class Lands:
    """Both walls as told, in the job's unit."""

    front: Decimal
    back: Decimal
    cutter: Decimal
    widest: Decimal
    """The most that the seat may be wide."""
    below: Decimal
    """How much deeper than the arc the cut was when they were measured."""
    unit: str

    @property
    def half(self) -> Decimal:
        """How far the work has to go in, toward the column: a front wall that is larger means
        that the seat lies too far back."""
        return (self.front - self.back) / 2

    @property
    def centred(self) -> bool:
        """Whether there is nothing to correct."""
        return abs(self.half) < CENTRED[self.unit]

    @property
    def widened(self) -> Decimal:
        """How wide it comes out at the top if it is shifted."""
        return self.cutter + abs(self.half)

    @property
    def fits(self) -> bool:
        """Whether a shift leaves the seat inside its width, but for the edge."""
        return self.below <= EDGE[self.unit] or self.widened <= self.widest

    @property
    def told(self) -> tuple[str, ...]:
        """What a shift makes of the width, and how it is declined."""
        wide = f"{_size(self.widened, self.unit)} wide"
        said: tuple[str, ...] = (f"It comes out {wide} at the top. That's in.",)
        if self.widened > self.widest:
            said = (f"The top {_size(self.below, self.unit)} comes out {wide}.", "Deburr that off.")
        return (*said, "Or leave it so: skip that step.")

    def refused(self) -> Note:
        """Why it is not shifted, and what to do."""
        return Note(
            id="no-shift",
            title="Off centre, and too deep to shift",
            say=(
                f"Off centre by {_size(abs(self.half), self.unit)}.",
                f"A shift would make it {_size(self.widened, self.unit)} wide. "
                f"At most {_size(self.widest, self.unit)}.",
                "Don't shift it. Ask: a stepped key, or leave it off centre.",
            ),
        )


def lands_told(
    facts: Facts, cutter: Decimal, widest: Decimal, work: Infeed, arc: Decimal
) -> Lands | None:
    """Both walls, where both were told. The shaft's side is left at the depth `arc` of the
    cutting `work`."""
    front, back = facts.get("walls.left"), facts.get("walls.right")
    if not (is_quantity(front) and is_quantity(back)):
        return None
    unit = work.unit
    below = _below(facts, work, arc)
    return Lands(magnitude(front, unit), magnitude(back, unit), cutter, widest, below, unit)


def _below(facts: Facts, work: Infeed, arc: Decimal) -> Decimal:
    """How much deeper than the arc the cut was: as the pass is planned after which the walls are
    measured, or deeper where the axis was told to have gone further."""
    depths = [next((one.depth for one in work.passes if one.depth > arc), arc)]
    at = facts.get("walls.at")
    if is_quantity(at):
        depths.append(work.depth_at(at))
    return max(depths) - arc


def _size(size: Decimal, unit: str) -> str:
    return in_words(size.quantize(Decimal(1).scaleb(-Unit(unit).places)), unit)
