"""Depths of a keyseat: from the standard to the passes, and from measurements to what is left."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from assistant.calc.dial import Toward, settle
from assistant.calc.keys import Keyseat
from assistant.jobs.milling.lands import pause_at
from assistant.jobs.operations.keyseat.job import KeyseatJob, seat_of, shaft_diameter
from assistant.jobs.operations.keyseat.setup import size_places
from assistant.jobs.steps import Facts
from assistant.jobs.to_size.depth_work import DepthWork
from assistant.jobs.to_size.infeed import NOTHING
from assistant.jobs.to_size.passes import Pass, roughing_passes
from assistant.jobs.to_size.sizing import Sizing
from assistant.machine import Machine
from assistant.spoken import Term
from assistant.units import Quantity, magnitude, quantity

ADVICE = "Too deep: the key will sit low. A taller key, or ask the designer. Don't shim it."


@dataclass(frozen=True, kw_only=True)
class SeatWork(DepthWork):
    """The depth side of one keyseat as it stands, in the job's unit."""

    job: KeyseatJob
    seat: Keyseat
    """With what was measured so far."""
    number: int = 1
    """Which keyseat of several in line."""

    __hash__ = DepthWork.__hash__

    @cached_property
    def finishing_cut(self) -> Decimal:
        """Left for the finishing cut; at least the machine's least useful cut."""
        return max(self.finish, self.least_cut) if self.finish else NOTHING

    @cached_property
    def passes(self) -> tuple[Pass, ...]:
        """Witness and roughing passes, with the operator's own depths of cut."""
        return roughing_passes(
            self.aim - self.finishing_cut,
            witness=self.witness,
            limit=self.limit,
            least=self.least_cut,
            chosen=self.chosen_at_first,
            step=self._m(self.axis.graduation),
            pause=self._pause if self.number == 1 else NOTHING,
        )

    @cached_property
    def arc(self) -> Decimal:
        """The depth from which on the cut is as wide as the cutter."""
        return self._m(self.seat.chordal_height)

    @property
    def _pause(self) -> Decimal:
        return pause_at(self.arc, self._m(self.axis.graduation), self.unit)

    def position(self, depth: Decimal, offset: Decimal = NOTHING) -> Quantity:
        """Where the axis stands for a depth, in whole divisions: the finished one on the deep side,
        where the band lies."""
        toward = Toward.DEEPER if depth >= self.aim else Toward.NEAREST
        return settle(self._q(depth + offset), self.axis.graduation, toward, halves=False)

    def _to_be_taken(self, one: Pass, reached: Decimal) -> Decimal:
        """To the depth that is aimed at: the part of a division beyond it isn't counted."""
        return one.taken

    def deepest(self, offset: Decimal = NOTHING) -> Quantity:
        """The position beyond which the floor would be too deep."""
        exact = self._q(self.sizing.most + offset)
        return settle(exact, self.axis.graduation, Toward.SHALLOWER, halves=False)


def seat_work(job: KeyseatJob, machine: Machine, facts: Facts, number: int = 1) -> SeatWork:
    """The depth work of one keyseat: those of the first have no prefix."""
    seat, unit = seat_of(job, facts), job.unit
    nominal = magnitude(seat.depth_from_top.nominal, unit)
    band = magnitude(seat.depth_from_top.high, unit) - nominal
    inside = min(magnitude(job.aim, unit), band / 2)
    terms, formula = _derivation(job, seat)
    return SeatWork(
        unit=unit,
        machine=machine,
        facts=facts,
        axis_name=job.depth_axis,
        sizing=_sizing(job, facts, seat),
        aim=nominal + inside,
        limit=magnitude(job.cutter.max_pass, unit),
        witness=magnitude(job.witness, unit),
        finish=magnitude(job.finish, unit),
        prefix="" if number == 1 else f"seat-{number}",
        terms=(*terms, Term("deep of nominal, to be inside", quantity(inside, unit))),
        formula=formula,
        job=job,
        seat=seat,
        number=number,
    )


def _derivation(job: KeyseatJob, seat: Keyseat) -> tuple[tuple[Term, ...], str]:
    """How the nominal depth comes about."""
    if job.depth_given is None and seat.key.shaft_depth is None:
        terms = (
            Term("chordal height", seat.chordal_height),
            Term("half the key", seat.key.height / 2),
        )
        return terms, "chordal height + half the key + aim inside the band"
    name = "depth in the shaft" if job.depth_given is None else "to nominal depth"
    return (Term(name, seat.depth_from_top.nominal),), "nominal depth from the top + aim inside"


def _sizing(job: KeyseatJob, facts: Facts, seat: Keyseat) -> Sizing:
    """What is measured: over the seated key, or from the floor to the opposite side."""
    over, shaft = job.measure == "over the key", shaft_diameter(job, facts)
    chosen = seat.over_key if over else seat.floor_to_opposite
    none = shaft + seat.height if over else shaft
    terms: tuple[Term, ...] = (
        Term("shaft", shaft),
        Term("depth from the top", seat.depth_from_top.nominal, -1),
    )
    if over:
        terms = (
            Term("floor to opposite side", seat.floor_to_opposite.nominal),
            Term("key", seat.height),
        )
    return Sizing(
        what="over the key" if over else "floor to opposite side",
        gauge="micrometer",
        low=magnitude(chosen.low, job.unit),
        high=magnitude(chosen.high, job.unit),
        at_zero=magnitude(none, job.unit),
        unit=job.unit,
        slope=Decimal(-1),
        places=size_places(job.unit),
        advice=ADVICE,
        terms=terms,
        source=seat.source,
    )
