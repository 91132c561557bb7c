"""Depths of a keyseat: from the standard to the passes, and from measurements to what is left."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from assistant.calc.dial import Toward, settle
from assistant.calc.keys import Keyseat
from assistant.jobs.keyseat.job import KeyseatJob, seat_of, shaft_diameter
from assistant.jobs.keyseat.setup import size_places
from assistant.jobs.lands import pause_at
from assistant.jobs.passes import Pass, roughing_passes
from assistant.jobs.steps import Facts
from assistant.machine import Axis, Machine
from assistant.spoken import Figure, Term
from assistant.spoken.rounding import judged, round_places
from assistant.units import Quantity, is_quantity, magnitude, quantity

NOTHING = Decimal(0)
MOST_FINISHING_CUTS = 6
"""More finishing cuts than this mean that something moves or springs: look, don't dial on."""


@dataclass(frozen=True)
class Depths:
    """The depth side of one keyseat job as it stands, in the job's unit."""

    job: KeyseatJob
    machine: Machine
    facts: Facts
    number: int = 1
    """Which keyseat of several in line."""

    def fact(self, name: str) -> str:
        """The name of a fact of this keyseat: those of the first have no prefix."""
        return name if self.number == 1 else f"seat-{self.number}.{name}"

    def id(self, name: str) -> str:
        """The id of a step of this keyseat."""
        return name if self.number == 1 else f"seat-{self.number}-{name}"

    @cached_property
    def seat(self) -> Keyseat:
        """The keyseat with what was measured so far."""
        return seat_of(self.job, self.facts)

    @property
    def unit(self) -> str:
        """`inch` or `mm`."""
        return self.job.unit

    @cached_property
    def axis(self) -> Axis:
        """The axis that sets the depth."""
        return self.machine.axis(self.job.depth_axis)

    def in_job_unit(self, size: Quantity) -> Decimal:
        """The magnitude of a size in the unit of the job."""
        return magnitude(size, self.unit)

    @cached_property
    def nominal(self) -> Decimal:
        """From the top of the shaft to the floor, as the standard has it."""
        return self.in_job_unit(self.seat.depth_from_top.nominal)

    @cached_property
    def aim_inside(self) -> Decimal:
        """How far inside the one-sided band the cut aims at least: never past its middle."""
        band = self.in_job_unit(self.seat.depth_from_top.high) - self.nominal
        return min(self.in_job_unit(self.job.aim), band / 2)

    @cached_property
    def full(self) -> Decimal:
        """The depth that is aimed at: on the deep side of nominal, inside the band."""
        return self.nominal + self.aim_inside

    @cached_property
    def finishing_cut(self) -> Decimal:
        """Left for the finishing cut; at least the machine's least useful cut."""
        wanted = self.in_job_unit(self.job.finish)
        return max(wanted, self.in_job_unit(self.machine.least_cut)) if wanted else Decimal(0)

    @cached_property
    def passes(self) -> tuple[Pass, ...]:
        """Witness and roughing passes, with the operator's own depths of cut."""
        chosen: dict[int, Decimal] = {}
        for name, value in self.facts.items():
            if name.startswith(self.fact("pass.")) and is_quantity(value):
                chosen[int(name.rsplit(".", 1)[1])] = self.in_job_unit(value)
        return roughing_passes(
            self.full - self.finishing_cut,
            witness=self.in_job_unit(self.job.witness),
            limit=self.in_job_unit(self.job.cutter.max_pass),
            least=self.in_job_unit(self.machine.least_cut),
            chosen=chosen,
            step=self.in_job_unit(self.axis.graduation),
            pause=self._pause if self.number == 1 else Decimal(0),
        )

    @cached_property
    def arc(self) -> Decimal:
        """The depth from which on the cut is as wide as the cutter."""
        return self.in_job_unit(self.seat.chordal_height)

    @property
    def _pause(self) -> Decimal:
        return pause_at(self.arc, self.in_job_unit(self.axis.graduation), self.unit)

    @property
    def walls_below(self) -> Decimal:
        """How much deeper than the arc the pass goes after which the walls are measured."""
        return next((one.depth - self.arc for one in self.passes if one.depth > self.arc), NOTHING)

    @property
    def passes_in_all(self) -> int:
        """Passes, the foreseen finishing cut among them."""
        return len(self.passes) + (1 if self.finishing_cut else 0)

    # -- measurements -----------------------------------------------------------------------

    @cached_property
    def limits(self) -> tuple[Quantity, Quantity]:
        """Least and most of the size that is measured."""
        chosen = (
            self.seat.over_key
            if self.job.measure == "over the key"
            else self.seat.floor_to_opposite
        )
        return chosen.low, chosen.high

    def enough(self, size: Quantity) -> bool:
        """Whether nothing more has to come off. The limits are those that are told, in their
        places: what is said to be on one must not be cut again. The size is as it was measured:
        half a thou over a limit is over it."""
        return self._judged(size) <= self._shown(self.limits[1])

    def too_deep(self, size: Quantity) -> bool:
        """Whether too much has come off, judged alike."""
        return self._judged(size) < self._shown(self.limits[0])

    def _judged(self, size: Quantity) -> Decimal:
        return judged(self.in_job_unit(size), size_places(self.unit))

    def _shown(self, size: Quantity) -> Decimal:
        return round_places(self.in_job_unit(size), size_places(self.unit))

    def depth_of(self, size: Quantity) -> Decimal:
        """The depth from the top that a measured size means."""
        floor = self.in_job_unit(size)
        if self.job.measure == "over the key":
            floor -= self.in_job_unit(self.seat.height)
        return self.in_job_unit(shaft_diameter(self.job, self.facts)) - floor

    def size_of(self, depth: Decimal) -> Quantity:
        """The size that would be measured at a depth."""
        size = self.in_job_unit(shaft_diameter(self.job, self.facts)) - depth
        if self.job.measure == "over the key":
            size += self.in_job_unit(self.seat.height)
        return quantity(size, self.unit)

    def offset(self, fact: str) -> Decimal:
        """How much further the dial stands than the depth that was measured: nothing where
        nothing was measured. Passes after a measurement start from it, not from the plan."""
        size, at = self.facts.get(fact), self.facts.get(f"{fact}.at")
        if not (is_quantity(size) and is_quantity(at)):
            return Decimal(0)
        return abs(self.in_job_unit(at)) - self.depth_of(size)

    def target(self, depth: Decimal, offset: Decimal, toward: Toward) -> Quantity:
        """The position on the depth axis for a depth, set to the dial's whole divisions."""
        exact = quantity(depth + offset, self.unit)
        return settle(exact, self.axis.graduation, toward, halves=False)

    def finishing_target(self, offset: Decimal, measured: Quantity | None) -> Quantity:
        """The position for the finishing cut: rounded to the deep side, where the band lies, and
        no shallower than the machine's least useful cut, which would rub, where the tolerance
        allows that."""
        depth = self.full
        if measured is not None:
            useful = self.depth_of(measured) + self.in_job_unit(self.machine.least_cut)
            if depth < useful <= self.in_job_unit(self.seat.depth_from_top.high):
                depth = useful
            # further off than one pass may take: as much as it may, and measured again
            most = self.depth_of(measured) + self.in_job_unit(self.job.cutter.max_pass)
            if depth > most:
                return self.target(most, offset, Toward.SHALLOWER)
        return self.target(depth, offset, Toward.DEEPER)

    def deepest(self, offset: Decimal) -> Quantity:
        """The position beyond which the floor would be too deep."""
        return self.target(
            self.in_job_unit(self.seat.depth_from_top.high), offset, Toward.SHALLOWER
        )

    def inside(self, target: Quantity, offset: Decimal) -> Quantity:
        """How far under the upper limit the size is left by a cut to that dial position."""
        left = self.limits[1] - self.size_of(self.in_job_unit(target) - offset)
        return quantity(self.in_job_unit(left), self.unit)

    # -- figures ----------------------------------------------------------------------------

    @cached_property
    def full_figure(self) -> Figure:
        """Full depth with its derivation."""
        seat = self.seat
        terms: tuple[Term, ...] = (Term("to nominal depth", seat.depth_from_top.nominal),)
        formula = "nominal depth from the top + aim inside the band"
        if self.job.depth_given is None and seat.key.shaft_depth is None:
            terms = (
                Term("chordal height", seat.chordal_height),
                Term("half the key", seat.key.height / 2),
            )
            formula = "chordal height + half the key + aim inside the band"
        elif self.job.depth_given is None:
            terms = (Term("depth in the shaft", seat.depth_from_top.nominal),)
        inside = quantity(self.aim_inside, self.unit)
        return Figure(
            quantity(self.full, self.unit),
            "full depth",
            size_places(self.unit),
            (*terms, Term("deep of nominal, to be inside", inside)),
            formula,
            seat.source,
        )

    @cached_property
    def size_figure(self) -> Figure:
        """The size measured at the end, with its one-sided limits."""
        low, high = self.limits
        if self.job.measure == "over the key":
            terms: tuple[Term, ...] = (
                Term("floor to opposite side", self.seat.floor_to_opposite.nominal),
                Term("key", self.seat.height),
            )
        else:
            terms = (
                Term("shaft", shaft_diameter(self.job, self.facts)),
                Term("depth from the top", self.seat.depth_from_top.nominal, -1),
            )
        what = self.job.measure if self.job.measure == "over the key" else "floor to opposite side"
        return Figure(
            high, what, size_places(self.unit), terms, source=self.seat.source, low=low, high=high
        )
