"""The cutting of a keyseat: passes and measurements, with the walls as soon as both show."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from assistant.jobs.common.facts import Told, as_facts, told
from assistant.jobs.milling.strokes import plunging
from assistant.jobs.operations.keyseat.depths import SeatWork, seat_work
from assistant.jobs.operations.keyseat.job import KeyseatJob
from assistant.jobs.operations.keyseat.measuring import walls
from assistant.jobs.operations.keyseat.strokes import KeyseatStrokes, strokes_for
from assistant.jobs.steps import Cut, Facts, Move, Step
from assistant.machine import Machine
from assistant.units import magnitude

SEAT_FACTS = ("shaft.diameter", "key.height")
STROKE_FACTS = ("cutter.width", "paper.table")


@dataclass(eq=False)
class _SeatStroke:
    """A pass of the set-up's strokes; after the first that is deeper than the chordal height the
    walls are measured: above it the mark is narrower than the cutter."""

    work: SeatWork
    strokes: KeyseatStrokes
    centre: list[Step]
    """The steps of a centre correction, where the walls were told."""
    depth: Decimal = Decimal(0)
    measured: bool = False

    def passes(self, move: Move, cut: Cut) -> list[Step]:
        self.depth = magnitude(cut.depth, self.work.unit)
        set_ = plunging(move) if self.strokes.plunged else move
        return [set_, *self.strokes.cut(self.work, cut)]

    def back(self, name: str) -> list[Step]:
        back = self.strokes.back(self.work, name)
        if self.measured or self.work.number > 1 or self.depth <= self.work.arc:
            return back
        self.measured = True
        return [walls(self.work), *self.centre, *back]


def cutting_steps(
    job: KeyseatJob, machine: Machine, facts: Facts, number: int, centre: list[Step]
) -> list[Step]:
    """One seat from the first skim to the size that is in. `centre` are the steps of a centre
    correction, put in where both walls can first be measured."""
    own = "" if number == 1 else f"seat-{number}."
    kept = told(facts, *SEAT_FACTS, *STROKE_FACTS, f"{own}pass.", f"{own}size.")
    return list(_cutting(job, machine, number, kept, tuple(centre)))


@lru_cache(maxsize=64)
def _cutting(
    job: KeyseatJob, machine: Machine, number: int, kept: Told, centre: tuple[Step, ...]
) -> tuple[Step, ...]:
    facts = as_facts(kept)
    work = seat_work(job, machine, facts, number)
    strokes = strokes_for(job, machine, facts, number)
    return tuple(work.worked_out(_SeatStroke(work, strokes, list(centre))))
