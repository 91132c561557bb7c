"""The order of the work: set up, touch the side, centre, touch the top, cut, measure, finish."""

from __future__ import annotations

from functools import lru_cache

from assistant.calc.exact import at_least
from assistant.calc.keys import max_lead
from assistant.jobs.common.facts import Told, as_facts, told
from assistant.jobs.common.next_part import PREVIOUS
from assistant.jobs.milling.touching import touch_top
from assistant.jobs.operations.keyseat.centre import Centre
from assistant.jobs.operations.keyseat.cutting import SEAT_FACTS, STROKE_FACTS, cutting_steps
from assistant.jobs.operations.keyseat.depths import SeatWork, seat_work
from assistant.jobs.operations.keyseat.job import DEFAULTS, KeyseatJob
from assistant.jobs.operations.keyseat.measuring import deburr
from assistant.jobs.operations.keyseat.setup import places, setup_steps, speed_of
from assistant.jobs.operations.keyseat.strokes import strokes_for
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Facts, Move, Step
from assistant.machine import Machine
from assistant.replacing import replace
from assistant.spoken import Figure, Term
from assistant.units import Quantity, inches, magnitude, quantity

CLEARANCE = {"inch": inches("0.250"), "mm": quantity(6, "mm")}
"""Room over the shaft while the saddle goes across: more than any dial slip."""


def whole_plan(job: KeyseatJob, machine: Machine, facts: Facts) -> Plan:
    """The whole plan from what is known now."""
    around = told(facts, *SEAT_FACTS, *STROKE_FACTS, "paper.", PREVIOUS, "walls.", "pass.")
    touching, centre = _touching(job, machine, around)
    steps = [*setup_steps(job, machine, facts), *touching]
    steps.extend(cutting_steps(job, machine, facts, 1, centre))
    for number in range(2, job.count + 1):
        steps.extend(_on_to(job, machine, number, told(facts, *SEAT_FACTS, *STROKE_FACTS)))
        steps.extend(cutting_steps(job, machine, facts, number, []))
    steps.append(deburr())
    bare = _without_steps(
        job, machine, told(facts, *SEAT_FACTS, *STROKE_FACTS, "paper.", "speed", "feed")
    )
    return replace(bare, steps=tuple(steps))


@lru_cache(maxsize=32)
def _touching(job: KeyseatJob, machine: Machine, kept: Told) -> tuple[tuple[Step, ...], list[Step]]:
    """From the first touch to the cutter clear of the work; and the centre correction."""
    facts = as_facts(kept)
    strokes = strokes_for(job, machine, facts)
    depths = seat_work(job, machine, facts)
    paper = quantity(DEFAULTS[job.unit]["paper"], job.unit)
    centre = Centre(job, machine, facts, paper)
    axis, up = depths.axis.name, depths.axis.way(1)
    steps: list[Step] = [] if centre.kept else list(strokes.marks(depths))
    steps.extend(centre.steps(_over_the_shaft(depths)))
    steps.extend(strokes.before_top(depths))
    gently = ", gently, from below." if axis == "knee" else ", gently."
    steps.extend(
        touch_top(
            machine,
            axis,
            1,
            paper,
            facts,
            surface="the top of the shaft",
            say=(f"Now touch the top: {axis} {up}{gently}",),
        )
    )
    steps.extend(strokes.after_top())
    return tuple(steps), centre.correction(depths)


@lru_cache(maxsize=32)
def _without_steps(job: KeyseatJob, machine: Machine, kept: Told) -> Plan:
    """The results and all else that a plan has besides its steps."""
    facts = as_facts(kept)
    depths = seat_work(job, machine, facts)
    seat, full = depths.seat, depths.aim_figure
    setting = speed_of(job, machine, facts)
    centre = Centre(job, machine, facts, quantity(DEFAULTS[job.unit]["paper"], job.unit))

    def figure(value: Quantity, what: str, terms: tuple[Term, ...] = ()) -> Figure:
        return Figure(value, what, places(job.unit), terms, source=seat.source)

    floor = seat.floor_to_opposite
    results = (
        (depths.sizing.what, depths.sizing.figure),
        ("full depth", full),
        ("nominal depth", figure(seat.depth_from_top.nominal, "depth from the top",
                                 full.terms[:-1])),
        ("chordal height", figure(seat.chordal_height, "chordal height")),
        ("floor to opposite side", replace(figure(floor.nominal, "floor to opposite side"),
                                           low=floor.low, high=floor.high)),
        ("side to centre", centre.figure),
        ("speed", setting.speed),
        ("feed", setting.feed),
        ("run", strokes_for(job, machine, facts).run(depths)),
    )  # fmt: skip
    return Plan(
        title=job.head.title,
        operation="keyseat",
        unit=job.unit,
        steps=(),
        results=results,
        sources=tuple(dict.fromkeys(figure.source for _, figure in results if figure.source)),
        depth_axis=depths.axis.name,
        full_depth=quantity(depths.aim, job.unit),
        drawing=(
            ("shaft", seat.shaft),
            ("width", seat.width.nominal),
            ("height", seat.height),
            ("depth_full", quantity(depths.aim, job.unit)),
            ("cutter", job.cutter.diameter),
            ("chordal_height", seat.chordal_height),
        ),
        drawing_kind="keyseat",
    )


@lru_cache(maxsize=64)
def _on_to(job: KeyseatJob, machine: Machine, number: int, kept: Told) -> tuple[Step, ...]:
    """From one keyseat to the next in line: nothing is unclamped, and the saddle stays."""
    facts = as_facts(kept)
    depths = seat_work(job, machine, facts, number)
    away = Move(
        id=f"seat-{number}-away",
        title=f"Keyseat {number} in line: clear of the shaft",
        say=("Next seat in line: don't unclamp, and don't move the saddle.",),
        axis=depths.axis.name,
        # counted, so that the depth is still known when the dial comes back
        target=depths.axis.per_turn * -_turns_clear(depths),
        approach=-1,
        lock=False,
    )
    return away, *strokes_for(job, machine, facts, number).on_to()


def _turns_clear(depths: SeatWork) -> int:
    """Whole turns that make at least the usual room."""
    return at_least(
        magnitude(CLEARANCE[depths.unit], depths.unit), magnitude(depths.axis.per_turn, depths.unit)
    )


def _over_the_shaft(depths: SeatWork) -> tuple[str, ...]:
    """Whole turns that take the shaft clear of the cutter before it goes across."""
    axis = depths.axis
    room = depths.seat.shaft / 2 + CLEARANCE[depths.unit]
    turns = at_least(magnitude(room, depths.unit), magnitude(axis.per_turn, depths.unit))
    words = "one turn" if turns == 1 else f"{turns} turns"
    return (f"{'Drop the knee' if axis.name == 'knee' else 'Raise the quill'} {words}.",)


def lead_limit(job: KeyseatJob) -> Figure:
    """How far out of line with the shaft the seat may run (ASME B17.1)."""
    return Figure(max_lead(job.length), "most out of line", places(job.unit))


__all__ = ["lead_limit", "whole_plan"]
