"""The order of the work: set up, touch the side, centre, touch the top, cut, measure, finish."""

from __future__ import annotations

from typing import Protocol

from assistant.calc.keys import max_lead
from assistant.jobs.keyseat.centre import Centre
from assistant.jobs.keyseat.cutting import Strokes, cutting_steps, deburr, verdict_steps
from assistant.jobs.keyseat.depths import Depths
from assistant.jobs.keyseat.job import DEFAULTS, KeyseatJob
from assistant.jobs.keyseat.setup import places, setup_steps, speed_of
from assistant.jobs.steps import Facts, Move, Plan, Step
from assistant.jobs.touching import touch_top
from assistant.machine import Machine
from assistant.spoken import Figure
from assistant.units import inches, magnitude, quantity

CLEARANCE = {"inch": inches("0.250"), "mm": quantity(6, "mm")}
"""Room over the shaft while the saddle goes across: more than any dial slip."""


class KeyseatStrokes(Strokes, Protocol):
    """Strokes with what differs between cutters before the first cut."""

    def marks(self, depths: Depths) -> list[Step]:
        """Marking out, before the first touch."""

    def before(self, depths: Depths) -> list[Step]:
        """Touches that lengths are counted from, after the top is touched."""

    def run(self, depths: Depths) -> Figure:
        """How far the table runs."""

    def of_seat(self, number: int) -> KeyseatStrokes:
        """The strokes of another keyseat in line."""

    def clear(self) -> Step:
        """Getting the cutter off the work before the depth is set."""


def plan_with(job: KeyseatJob, machine: Machine, facts: Facts, strokes: KeyseatStrokes) -> Plan:
    """The whole plan with one way of making strokes."""
    depths = Depths(job, machine, facts)
    paper = quantity(DEFAULTS[job.unit]["paper"], job.unit)
    centre = Centre(job, machine, facts, paper)
    setting = speed_of(job, machine, facts)
    up = depths.axis.way(1)

    steps: list[Step] = list(setup_steps(job, machine, facts))
    if not centre.kept:
        steps.extend(strokes.marks(depths))
    steps.extend(centre.steps(_over_the_shaft(depths)))
    steps.extend(
        touch_top(
            machine,
            depths.axis.name,
            1,
            paper,
            facts,
            surface="the top of the shaft",
            say=(f"Now touch the top: {depths.axis.name} {up}, gently, from below."
                 if depths.axis.name == "knee"
                 else f"Now touch the top: {depths.axis.name} {up}, gently.",),
        )
    )  # fmt: skip
    steps.extend(strokes.before(depths))
    steps.append(strokes.clear())
    steps.extend(cutting_steps(depths, strokes, centre.correction()))
    steps.extend(verdict_steps(depths))
    for number in range(2, job.count + 1):
        steps.extend(_next_in_line(Depths(job, machine, facts, number), strokes))
    steps.append(deburr())
    full = depths.full_figure
    results = (
        ("over the key" if job.measure == "over the key" else "floor to opposite side",
         depths.size_figure),
        ("full depth", full),
        ("nominal depth", Figure(depths.seat.depth_from_top.nominal, "depth from the top",
                                 places(job.unit), full.terms[:-1], source=depths.seat.source)),
        ("chordal height", Figure(depths.seat.chordal_height, "chordal height",
                                  places(job.unit), source=depths.seat.source)),
        ("floor to opposite side", Figure(depths.seat.floor_to_opposite.nominal,
                                          "floor to opposite side", places(job.unit),
                                          low=depths.seat.floor_to_opposite.low,
                                          high=depths.seat.floor_to_opposite.high,
                                          source=depths.seat.source)),
        ("side to centre", centre.figure),
        ("speed", setting.speed),
        ("feed", setting.feed),
        ("run", strokes.run(depths)),
    )  # fmt: skip
    return Plan(
        title=job.head.title,
        operation="keyseat",
        unit=job.unit,
        steps=tuple(steps),
        results=results,
        sources=tuple(dict.fromkeys(figure.source for _, figure in results if figure.source)),
        depth_axis=depths.axis.name,
        full_depth=quantity(depths.full, job.unit),
        drawing=(
            ("shaft", depths.seat.shaft),
            ("width", depths.seat.width.nominal),
            ("height", depths.seat.height),
            ("depth_full", quantity(depths.full, job.unit)),
            ("cutter", job.cutter.diameter),
            ("chordal_height", depths.seat.chordal_height),
        ),
        drawing_kind="keyseat",
    )


def _next_in_line(depths: Depths, first: KeyseatStrokes) -> list[Step]:
    """One more keyseat in line: nothing is unclamped, and the saddle stays."""
    strokes = first.of_seat(depths.number)
    away = Move(
        id=f"seat-{depths.number}-away",
        title=f"Keyseat {depths.number} in line: clear of the shaft",
        say=("Next seat in line: don't unclamp, and don't move the saddle.",),
        axis=depths.axis.name,
        # counted, so that the depth is still known when the dial comes back
        target=depths.axis.per_turn * -_turns_clear(depths),
        approach=-1,
        lock=False,
    )
    cutting = cutting_steps(depths, strokes, [])
    return [away, strokes.clear(), *cutting, *verdict_steps(depths)]


def _turns_clear(depths: Depths) -> int:
    """Whole turns that make at least the usual room."""
    turn = magnitude(depths.axis.per_turn, depths.unit)
    return int(-(-magnitude(CLEARANCE[depths.unit], depths.unit) // turn))


def _over_the_shaft(depths: Depths) -> tuple[str, ...]:
    """Whole turns that take the shaft clear of the cutter before it goes across."""
    axis = depths.axis
    room = depths.seat.shaft / 2 + CLEARANCE[depths.unit]
    turn = magnitude(axis.per_turn, depths.unit)
    turns = int(-(-magnitude(room, depths.unit) // turn))
    words = "one turn" if turns == 1 else f"{turns} turns"
    return (f"{'Drop the knee' if axis.name == 'knee' else 'Raise the quill'} {words}.",)


def lead_limit(job: KeyseatJob) -> Figure:
    """How far out of line with the shaft the seat may run (ASME B17.1)."""
    return Figure(max_lead(job.length), "most out of line", places(job.unit))


__all__ = ["KeyseatStrokes", "Move", "lead_limit", "plan_with"]
