"""What a job file on flats says: the bar, how many, how far across, how long."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.polygons import flat_width, polygon
from assistant.errors import BadInput, ImpossibleInput
from assistant.fields import Fields
from assistant.jobs import mill
from assistant.jobs.jobfile import Head
from assistant.jobs.mill import Milling
from assistant.jobs.sizing import Toleranced, toleranced
from assistant.units import Quantity

BLOCKS = (1, 2, 4, 6)
"""Numbers of flats that a square or hexagon block can turn to."""


@dataclass(frozen=True, eq=False)
class FlatsJob(Milling):
    """Flats on a bar."""

    stock: Quantity
    sides: int
    across: Toleranced
    """Across two flats; from a flat to the round opposite where their number is odd."""
    length: Quantity
    """From the end face."""


def read(head: Head, fields: Fields) -> FlatsJob:
    """The job from its file."""
    flats = fields.table_at("flats")
    job = FlatsJob(
        **mill.common(head, fields, ("end mill",), ("dividing head", "block")),  # type: ignore[arg-type]
        stock=flats.length("stock", head.unit),
        sides=flats.whole("sides", 1, 60),
        across=toleranced(flats, "across", head.unit),
        length=flats.length("length", head.unit),
    )
    flats.done()
    if job.holding == "block" and job.sides not in BLOCKS:
        fields.fail("flats.sides", str(job.sides), "a block turns to 1, 2, 4 or 6: use the head")
    try:
        width = flat_of(job, job.m(job.stock))
    except BadInput as bad:
        fields.fail(f"flats: {bad.field}", bad.value, bad.want)
    if width > job.m(job.cutter.diameter):
        fields.fail("cutter.diameter", str(job.cutter.diameter),
                    f"the flats are {width:.3f} wide: wanted a wider cutter")  # fmt: skip
    return job


def depth_of(job: FlatsJob, stock: Decimal, across: Decimal) -> Decimal:
    """Cut from the top of the stock."""
    if job.sides % 2:
        depth = stock - across
    elif job.sides == 2:
        depth = (stock - across) / 2
    else:
        depth = job.m(polygon(job.sides, job.q(across), job.q(stock)).depth)
    if depth <= 0:
        raise ImpossibleInput("across", f"{across:f}", f"must be less than the stock, {stock:f}")
    return depth


def flat_of(job: FlatsJob, stock: Decimal) -> Decimal:
    """How wide a flat comes out."""
    if job.sides > 2 and job.sides % 2 == 0:
        return job.m(polygon(job.sides, job.q(job.across.nominal), job.q(stock)).flat_width)
    return job.m(flat_width(job.q(stock), job.q(depth_of(job, stock, job.across.nominal))))
