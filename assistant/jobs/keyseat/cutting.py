"""The cutting of a keyseat: witness, roughing, measuring, finishing from the measurement."""

from __future__ import annotations

from decimal import Decimal
from functools import lru_cache

from assistant.calc.dial import Toward
from assistant.jobs.keyseat.depths import MOST_FINISHING_CUTS, Depths
from assistant.jobs.keyseat.job import KeyseatJob
from assistant.jobs.keyseat.measuring import (
    look_at_the_mark,
    measure_size,
    something_springs,
    walls,
)
from assistant.jobs.keyseat.setup import places, size_places
from assistant.jobs.keyseat.strokes import KeyseatStrokes, strokes_for
from assistant.jobs.passes import Pass
from assistant.jobs.steps import Cut, Facts, Move, Note, Step
from assistant.jobs.strokes import plunging
from assistant.jobs.told import Told, as_facts, last_told, told
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.units import is_quantity, quantity

SEAT_FACTS = ("shaft.diameter", "key.height")
STROKE_FACTS = ("cutter.width", "paper.table")


def cutting_steps(
    job: KeyseatJob, machine: Machine, facts: Facts, number: int, centre: list[Step]
) -> list[Step]:
    """One seat from the first skim to the size that is in. `centre` are the steps of a centre
    correction, put in where both walls can first be measured."""
    own = "" if number == 1 else f"seat-{number}."
    common = told(facts, *SEAT_FACTS, *STROKE_FACTS, f"{own}pass.", f"{own}check.")
    roughing, place = _roughing(job, machine, number, common)
    sizes = told(facts, *SEAT_FACTS, *STROKE_FACTS, f"{own}pass.", f"{own}check.", f"{own}size.")
    return [*roughing[:place], *centre, *roughing[place:],
            *_finishing(job, machine, number, sizes)]  # fmt: skip


@lru_cache(maxsize=64)
def _roughing(
    job: KeyseatJob, machine: Machine, number: int, kept: Told
) -> tuple[tuple[Step, ...], int]:
    """Witness and roughing passes; and the place after the measuring of the walls."""
    facts = as_facts(kept)
    depths = Depths(job, machine, facts, number)
    strokes = strokes_for(job, machine, facts, number)
    steps: list[Step] = []
    place = 0
    of = depths.passes_in_all
    previous = Decimal(0)
    for one in depths.passes:
        # a measurement taken in doubt re-bases the passes after it
        offset = _check_offset(depths, one.number)
        move = _set_roughing(depths, one, previous, offset)
        steps.append(plunging(move) if strokes.plunged else move)
        name = f"{one.kind}-{one.number}"
        cut = Cut(
            id=depths.id(f"{name}-cut"),
            title=f"Cut, pass {one.number} of {of}",
            number=one.number,
            of=of,
            depth=quantity(one.depth, depths.unit),
            taken=quantity(one.taken, depths.unit),
            remaining=quantity(depths.full - one.depth, depths.unit),
            kind=one.kind,
            figure=depths.full_figure,
        )
        steps.extend(strokes.cut(depths, cut))
        if one.kind == "witness":
            steps.append(look_at_the_mark(depths))
        if not place and number == 1 and one.depth > depths.arc:
            # above the chordal height the mark is narrower than the cutter: no walls to measure
            steps.append(walls(depths))
            place = len(steps)
        previous = one.depth
        steps.extend(strokes.back(depths, name))
    return tuple(steps), place


def _check_offset(depths: Depths, number: int) -> Decimal:
    """What a measurement taken in doubt says of this pass: nothing for those cut before it."""
    since = depths.facts.get(depths.fact("check.pass"))
    if is_quantity(since) and number < since.magnitude:
        return Decimal(0)
    return depths.offset(depths.fact("check.size"))


def _set_roughing(depths: Depths, one: Pass, before: Decimal, offset: Decimal) -> Move:
    unit = depths.unit
    number, kind, depth, limit = one.number, one.kind, one.depth, one.limit
    exact = quantity(depth, unit)
    taken = quantity(depth - before, unit)
    terms = (
        (Term("witness skim", taken),)
        if kind == "witness"
        else (Term("cut so far", quantity(before, unit)), Term("this pass", taken))
    )
    return Move(
        id=depths.id(f"{kind}-{number}-set"),
        title=f"Set {'the witness skim' if kind == 'witness' else f'pass {number}'}",
        say=("A witness skim first.",) if kind == "witness" else (),
        after=("Lock it.",),
        axis=depths.axis.name,
        target=depths.target(depth, offset, Toward.NEAREST) * sign(depths),
        approach=sign(depths),
        terms_of=Figure(exact, "depth", places(unit), terms, source="common practice"),
        depth_after=exact,
        limit=depths.target(
            depths.in_job_unit(depths.seat.depth_from_top.high), offset, Toward.SHALLOWER
        )
        * sign(depths),
        pass_number=number,
        pass_fact=depths.fact(f"pass.{number}"),
        pass_limit=quantity(limit, unit),
    )


def sign(depths: Depths) -> int:
    """Depth grows with positive travel of knee and quill alike: the knee up, the quill down."""
    return 1


@lru_cache(maxsize=64)
def _finishing(job: KeyseatJob, machine: Machine, number: int, kept: Told) -> tuple[Step, ...]:
    """Measure, take what is left from the measurement, until the size is in; the verdict."""
    facts = as_facts(kept)
    depths = Depths(job, machine, facts, number)
    strokes = strokes_for(job, machine, facts, number)
    of = depths.passes_in_all
    steps: list[Step] = []
    for round_ in range(1, MOST_FINISHING_CUTS + 1):
        fact = depths.fact(f"size.{round_}")
        before_finishing = round_ == 1 and bool(depths.finishing_cut)
        steps.append(measure_size(depths, fact, before_finishing))
        size = depths.facts.get(fact)
        if not is_quantity(size):
            if not before_finishing:
                break
            # not measured yet: the finishing cut as it is foreseen
            foreseen = depths.offset(depths.fact("check.size"))
            steps.extend(_finish(depths, strokes, round_, of, foreseen))
            continue
        if depths.enough(size):
            break
        if round_ == MOST_FINISHING_CUTS:
            steps.append(something_springs(depths))
            break
        steps.extend(_finish(depths, strokes, round_, of, depths.offset(fact)))
    return (*steps, *_verdict(depths))


def _finish(
    depths: Depths, strokes: KeyseatStrokes, round_: int, of: int, offset: Decimal
) -> list[Step]:
    """The finishing cut of one round, from the dial as it stands and the size as measured."""
    fact = depths.fact(f"size.{round_}")
    size = depths.facts.get(fact)
    unit = depths.unit
    aim = depths.size_of(depths.full)
    depth = depths.full
    before = depths.full - depths.finishing_cut
    terms: tuple[Term, ...] = (Term("to full depth", quantity(depth, unit)),)
    if is_quantity(size):
        before = depths.depth_of(size)
        terms = (Term("measured", size), Term("to be inside", aim, -1))
    target = depths.finishing_target(offset, size if is_quantity(size) else None)
    inside = depths.inside(target, offset)
    # less than full depth where one pass may not take what is left
    depth = min(depth, depths.in_job_unit(target) * sign(depths) - offset)
    cut = Cut(
        id=depths.id(f"finishing-{round_}-cut"),
        title="Finishing cut" if round_ == 1 else f"Finishing cut {round_}",
        number=of + round_ - 1,
        of=of + round_ - 1,
        depth=quantity(depth, unit),
        taken=quantity(max(Decimal(0), depth - before), unit),
        remaining=quantity(max(Decimal(0), depths.full - depth), unit),
        kind="finishing",
        figure=depths.full_figure,
    )
    move = Move(
        id=depths.id(f"finishing-{round_}-set"),
        title="Set the finishing cut",
        after=("Lock it.",),
        axis=depths.axis.name,
        target=target * sign(depths),
        approach=sign(depths),
        terms_of=Figure(quantity(depth - before, unit), "left to cut", places(unit), terms,
                        source=depths.seat.source),
        depth_after=quantity(depth, unit),
        limit=depths.deepest(offset) * sign(depths),
        pass_limit=quantity(depths.in_job_unit(depths.job.cutter.max_pass), unit),
        leaves_inside=inside if inside.magnitude >= 0 else None,
        size_places=size_places(unit),
    )  # fmt: skip
    steps: list[Step] = [plunging(move) if strokes.plunged else move]
    steps.extend(strokes.cut(depths, cut))
    steps.extend(strokes.back(depths, f"finishing-{round_}"))
    return steps


def _verdict(depths: Depths) -> list[Step]:
    """What follows the last measurement, where the seat came out too deep."""
    last = last_told(depths.facts, depths.fact("size"))
    steps: list[Step] = []
    if last is not None and depths.too_deep(last[1]):
        steps.append(
            Note(
                id=depths.id("too-deep"),
                title="Too deep",
                say=(
                    "Too deep: the key will sit low.",
                    "A taller key, or ask the designer. Don't shim it.",
                ),
            )
        )
    return steps
