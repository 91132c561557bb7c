"""The cutting of a keyseat: witness, roughing, measuring, finishing from the measurement."""

from __future__ import annotations

from decimal import Decimal
from typing import Protocol

from assistant.calc.dial import Toward
from assistant.jobs import checks
from assistant.jobs.keyseat.depths import MOST_FINISHING_CUTS, Depths
from assistant.jobs.keyseat.setup import places, size_places
from assistant.jobs.steps import Cut, Measure, Move, Note, Step
from assistant.spoken import Figure, Term
from assistant.units import is_quantity, quantity


class Strokes(Protocol):
    """How one pass is made and run back on this set-up."""

    def cut(self, depths: Depths, cut: Cut) -> list[Step]:
        """The steps of one pass, after the depth is set."""

    def back(self, depths: Depths, name: str) -> list[Step]:
        """The steps that run back for the next pass."""


def cutting_steps(depths: Depths, strokes: Strokes, centre: list[Step]) -> list[Step]:
    """From the first skim to the size that is in. `centre` are the steps of a centre correction,
    put in where both walls can first be measured."""
    steps: list[Step] = []
    walls_done = False
    arc = depths._m(depths.seat.chordal_height)
    passes = depths.passes
    roughs_and_finish = len(passes) + (1 if depths.finishing_cut else 0)
    previous = Decimal(0)
    for one in passes:
        # a measurement taken in doubt re-bases the passes after it
        offset = _check_offset(depths, one.number)
        steps.append(_set_roughing(depths, one.number, one.kind, previous, one.depth, offset,
                                   one.limit))  # fmt: skip
        name = f"{one.kind}-{one.number}"
        cut = Cut(
            id=depths.id(f"{name}-cut"),
            title=f"Cut, pass {one.number} of {roughs_and_finish}",
            number=one.number,
            of=roughs_and_finish,
            depth=quantity(one.depth, depths.unit),
            taken=quantity(one.taken, depths.unit),
            remaining=quantity(depths.full - one.depth, depths.unit),
            kind=one.kind,
            figure=depths.full_figure,
        )
        steps.extend(strokes.cut(depths, cut))
        if one.kind == "witness":
            steps.append(_look_at_the_mark(depths))
        if not walls_done and depths.number == 1 and one.depth > arc:
            # above the chordal height the mark is narrower than the cutter: no walls to measure
            walls_done = True
            steps.append(_walls(depths))
            steps.extend(centre)
        previous = one.depth
        steps.extend(strokes.back(depths, name))
    steps.extend(_finishing(depths, strokes, roughs_and_finish))
    return steps


def _check_offset(depths: Depths, number: int) -> Decimal:
    """What a measurement taken in doubt says of this pass: nothing for those cut before it."""
    since = depths.facts.get(depths.fact("check.pass"))
    if is_quantity(since) and number < since.magnitude:
        return Decimal(0)
    return depths.offset(depths.fact("check.size"))


def _set_roughing(
    depths: Depths, number: int, kind: str, before: Decimal, depth: Decimal, offset: Decimal,
    limit: Decimal,
) -> Move:  # fmt: skip
    unit = depths.unit
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
        limit=depths.target(depths._m(depths.seat.depth_from_top.high), offset, Toward.SHALLOWER)
        * sign(depths),
        pass_number=number,
        pass_fact=depths.fact(f"pass.{number}"),
        pass_limit=quantity(limit, unit),
    )


def sign(depths: Depths) -> int:
    """Depth grows with positive travel of knee and quill alike: the knee up, the quill down."""
    return 1


def _look_at_the_mark(depths: Depths) -> Measure:
    return Measure(
        id=depths.id("look-at-mark"),
        title="Look at the mark",
        say=("Spindle off. Look at the mark. Is it even, end to end?",),
        cautions=checks.MEASURE_CAUTIONS,
        fact=depths.fact("mark"),
        gauge="by eye",
        kind="even",
        optional=True,
    )


def _walls(depths: Depths) -> Measure:
    seat = depths.seat
    land = (seat.shaft - seat.width.nominal) / 2
    slack = quantity("0.060" if depths.unit == "inch" else "1.5", depths.unit)
    return Measure(
        id="measure-walls",
        title="Both walls to the sides of the shaft",
        say=("Spindle off. Measure both walls: front and back, to the side of the shaft.",),
        cautions=checks.MEASURE_CAUTIONS,
        fact="walls",
        gauge="caliper",
        kind="walls",
        figure=Figure(
            land,
            "wall to side of shaft",
            places(depths.unit),
            (Term("half the shaft", seat.shaft / 2), Term("half the seat", seat.width.nominal / 2,
                                                          -1)),
            source="geometry",
        ),
        nominal=land,
        band_low=land - slack,
        band_high=land + slack,
        optional=True,
    )  # fmt: skip


def _finishing(depths: Depths, strokes: Strokes, of: int) -> list[Step]:
    """Measure, take what is left from the measurement, until the size is in."""
    steps: list[Step] = []
    for round_ in range(1, MOST_FINISHING_CUTS + 1):
        fact = depths.fact(f"size.{round_}")
        before_finishing = round_ == 1 and bool(depths.finishing_cut)
        steps.append(_measure_size(depths, fact, before_finishing))
        size = depths.facts.get(fact)
        if not is_quantity(size):
            if not before_finishing:
                break
            # not measured yet: the finishing cut as it is foreseen
            foreseen = depths.offset(depths.fact("check.size"))
            steps.extend(_finish(depths, strokes, round_, of, foreseen))
            continue
        if size <= depths.limits[1]:
            break
        if round_ == MOST_FINISHING_CUTS:
            steps.append(_something_springs(depths))
            break
        steps.extend(_finish(depths, strokes, round_, of, depths.offset(fact)))
    return steps


def _finish(depths: Depths, strokes: Strokes, round_: int, of: int, offset: Decimal) -> list[Step]:
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
    cut = Cut(
        id=depths.id(f"finishing-{round_}-cut"),
        title="Finishing cut" if round_ == 1 else f"Finishing cut {round_}",
        number=of + round_ - 1,
        of=of + round_ - 1,
        depth=quantity(depth, unit),
        taken=quantity(max(Decimal(0), depth - before), unit),
        remaining=quantity(0, unit),
        kind="finishing",
        figure=depths.full_figure,
    )
    target = depths.finishing_target(offset, size if is_quantity(size) else None)
    deepest = depths.target(depths._m(depths.seat.depth_from_top.high), offset, Toward.SHALLOWER)
    steps: list[Step] = [
        Move(
            id=depths.id(f"finishing-{round_}-set"),
            title="Set the finishing cut",
            after=("Lock it.",),
            axis=depths.axis.name,
            target=target * sign(depths),
            approach=sign(depths),
            terms_of=Figure(quantity(depth - before, unit), "left to cut", places(unit), terms,
                            source=depths.seat.source),
            depth_after=quantity(depth, unit),
            limit=deepest * sign(depths),
            leaves_inside=depths.inside(target, offset),
            size_places=size_places(unit),
        )
    ]  # fmt: skip
    steps.extend(strokes.cut(depths, cut))
    steps.extend(strokes.back(depths, f"finishing-{round_}"))
    return steps


def _measure_size(depths: Depths, fact: str, before_finishing: bool) -> Measure:
    figure = depths.size_figure
    low, high = depths.limits
    unit = depths.unit
    slack = quantity("0.030" if unit == "inch" else "0.8", unit)
    name = figure.what
    lead = (
        "Spindle off. Before the finishing cut, measure"
        if before_finishing
        else ("Spindle off. Measure")
    )
    say = f"{lead} {name}."
    foreseen = high
    if before_finishing:
        foreseen = depths.size_of(depths.full - depths.finishing_cut)
    return Measure(
        id="measure-" + fact.replace(".", "-"),
        title=f"{'Before finishing: ' if before_finishing else ''}{name}",
        say=(say,),
        cautions=checks.MEASURE_CAUTIONS,
        fact=fact,
        gauge="micrometer",
        figure=figure,
        nominal=foreseen,
        low=low,
        high=high,
        band_low=low - slack,
        band_high=max(foreseen, high) + slack,
        at_axis=depths.axis.name,
        resolution=quantity("0.001" if unit == "inch" else "0.01", unit),
    )


def _something_springs(depths: Depths) -> Note:
    return Note(
        id=depths.id("something-springs"),
        title="Still over after several finishing cuts",
        say=("Still over after several cuts. Something springs or slips. Look before you go on.",),
    )


def verdict_steps(depths: Depths) -> list[Step]:
    """What follows the last measurement, where the seat came out too deep."""
    last = _last_size(depths)
    steps: list[Step] = []
    if last is not None and last < depths.limits[0]:
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


def deburr() -> Note:
    """The end of the work."""
    return Note(
        id="deburr",
        title="Deburr, try the key",
        say=("Deburr both edges, and try the key.",),
        cautions=("Edges are sharp. Brush, never fingers.",),
    )


def _last_size(depths: Depths) -> object:
    sizes = [
        depths.facts[depths.fact(f"size.{n}")]
        for n in range(1, MOST_FINISHING_CUTS + 1)
        if is_quantity(depths.facts.get(depths.fact(f"size.{n}")))
    ]
    return sizes[-1] if sizes else None
