"""A wall or an end of a slot as it is finished: half its stock, a measurement, and the rest.

The cutter's centre goes outwards from a line between the two. Whichever way that is, it is set
with the last travel the way in which the surface that places are counted from was touched.
"""

from __future__ import annotations

from decimal import Decimal

from assistant.jobs.block import BlockWork
from assistant.jobs.centring import SideTouch
from assistant.jobs.depth_work import DepthWork
from assistant.jobs.sizing import Sizing
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
        limit=work.job.m(work.job.step_over),
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
    )


__all__ = ["flank"]
