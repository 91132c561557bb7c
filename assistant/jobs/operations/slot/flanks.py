"""A wall or an end of a slot as it is finished: half its stock, a measurement, and the rest.

The cutter's centre goes outwards from a line between the two. Whichever way that is, it is set
with the last travel the way in which the surface that places are counted from was touched.
"""

from __future__ import annotations

from decimal import Decimal

from assistant.jobs.milling import mill
from assistant.jobs.milling.block import DRAWING, BlockWork
from assistant.jobs.milling.centring import SideTouch
from assistant.jobs.operations.slot.ends import EndsWork
from assistant.jobs.to_size.depth_work import DepthWork
from assistant.jobs.to_size.sizing import Sizing
from assistant.spoken import Term


def flank(
    work: BlockWork, touch: SideTouch, middle: Decimal, *, outward: int, sizing: Sizing,
    aim: Decimal, start: Decimal, prefix: str, name: str, full: Decimal,
    terms: tuple[Term, ...], formula: str,
) -> DepthWork:  # fmt: skip
    """Passes that move it from `start` to `aim`, both counted from `middle`, which lies so far
    from the surface that was touched; `outward` is -1 back toward that surface, +1 away from it.
    All in the job's unit; `full` is the depth of the floor."""
    return DepthWork(
        unit=work.job.unit,
        machine=work.machine,
        facts=work.facts,
        axis_name=touch.axis.name,
        sizing=sizing,
        aim=aim,
        limit=work.step_over,
        finish=(aim - start) / 2,
        start=start,
        origin=touch.way * touch.exact(middle),
        sign=touch.way * outward,
        arriving=touch.way,
        prefix=prefix,
        name=name,
        full=full,
        terms=terms,
        formula=formula,
        say=(f"Now the {name}.",),
        made="the wall",
    )


def near_end(work: BlockWork, ends: EndsWork, full: Decimal, short: Decimal) -> DepthWork:
    """The right-hand end of a closed slot, by its distance from the end face. Rows stopped so much
    `short` of their stock."""
    job, place = work.job, ends.ends.from_end
    assert place is not None
    middle, aim = ends.near + ends.length / 2, (ends.length - ends.cutter) / 2
    sizing = Sizing(
        "from the end face to the slot", "caliper", place.low, place.high,
        middle - ends.cutter / 2, job.unit, Decimal(-1), mill.size_places(job.unit),
        "too near", "Too near the end. Ask before you go on.",
        (Term("end face to the slot", job.q(place.nominal)),), DRAWING,
    )  # fmt: skip
    return flank(
        work, ends.face, middle, outward=-1, sizing=sizing, aim=aim,
        start=aim - job.wall - short, prefix="right", name="right-hand end", full=full,
        terms=_from_the_middle(ends), formula="(length - cutter) / 2",
    )  # fmt: skip


def far_end(work: BlockWork, ends: EndsWork, full: Decimal) -> DepthWork:
    """The left-hand end, by the length: from the middle, or from the face where it is open."""
    job, limits = work.job, ends.ends.length
    middle = ends.near + ends.length / 2 if ends.ends.closed else Decimal(0)
    aim = ends.stops - middle
    sizing = Sizing(
        "the length of the slot", "caliper", limits.low, limits.high,
        ends.length - aim, job.unit, Decimal(1), mill.size_places(job.unit), "too long",
        "Too long. Ask before you go on.",
        (Term("length on the drawing", job.q(limits.nominal)),), DRAWING,
    )  # fmt: skip
    terms, formula = _from_the_middle(ends), "(length - cutter) / 2"
    if not ends.ends.closed:
        terms, formula = (Term("length", job.q(ends.length)), terms[1]), "length - cutter / 2"
    return flank(
        work, ends.face, middle, outward=1, sizing=sizing, aim=aim, start=aim - job.wall,
        prefix="left", name="left-hand end", full=full, terms=terms, formula=formula,
    )  # fmt: skip


def _from_the_middle(ends: EndsWork) -> tuple[Term, Term]:
    q = ends.job.q
    return (Term("half the length", q(ends.length / 2)),
            Term("half the cutter", q(ends.cutter / 2), -1))  # fmt: skip


__all__ = ["far_end", "flank", "near_end"]
