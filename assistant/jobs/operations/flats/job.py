"""What a job file on flats says: the bar, how many, how far across, how long."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.polygons import flat_width, polygon
from assistant.errors import BadInput, ImpossibleInput
from assistant.fields import Fields
from assistant.jobs.common.off_size import Expected, around, need_metal
from assistant.jobs.jobfile import Head
from assistant.jobs.milling import mill
from assistant.jobs.milling.mill import Milling
from assistant.jobs.to_size.sizing import Toleranced, toleranced
from assistant.units import Quantity

BLOCKS = (1, 2, 4, 6)
"""Numbers of flats that a square or hexagon block can turn to."""
BAR = {"inch": Decimal("0.010"), "mm": Decimal("0.25")}
"""How far from its size a bar is another one than was meant: common practice, no source."""


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
    """Cut from the top of the stock; raises `ImpossibleInput` where there is none to cut."""
    need_metal("stock", stock, across, job.unit)
    if job.sides % 2:
        depth = stock - across
    elif job.sides == 2:
        depth = (stock - across) / 2
    else:
        depth = job.m(polygon(job.sides, job.q(across), job.q(stock)).depth)
    return depth


def flat_of(job: FlatsJob, stock: Decimal) -> Decimal:
    """How wide a flat comes out."""
    if job.sides > 2 and job.sides % 2 == 0:
        return job.m(polygon(job.sides, job.q(job.across.nominal), job.q(stock)).flat_width)
    return job.m(flat_width(job.q(stock), job.q(depth_of(job, stock, job.across.nominal))))


def stock_expected(job: FlatsJob) -> Expected:
    """The bar as the job gives it. The flats are cut to size from what it measures; how wide they
    come out goes with the bar."""
    return around(
        "stock.diameter",
        "the bar",
        job.m(job.stock),
        BAR[job.unit],
        mill.places(job.unit),
        under="The flats come out narrow, the corners round. Another bar, or ask.",
        over="The flats come out wide, the corners sharp. Is it the right bar?",
    )


def check_wide_enough(job: FlatsJob, stock: Decimal) -> None:
    """Raises `ImpossibleInput` where the flats of the bar as measured are wider than the cutter."""
    width = flat_of(job, stock)
    if width > job.m(job.cutter.diameter):
        raise ImpossibleInput(
            "bar", f"{stock.normalize():f} {job.unit}",
            f"its flats are {width:.3f} wide: wanted a cutter wider than that, or another bar",
        )  # fmt: skip
