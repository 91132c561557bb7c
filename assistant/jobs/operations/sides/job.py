"""The job file of ends and sides."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from assistant.fields import Fields
from assistant.jobs.jobfile import Head
from assistant.jobs.milling import mill
from assistant.jobs.milling.clean_up import SKIM
from assistant.jobs.milling.mill import Milling
from assistant.jobs.operations.sides.side import SIDES, Side
from assistant.jobs.to_size.sizing import Toleranced, toleranced
from assistant.units import magnitude, quantity

MILLED = {"ends": ("length",), "sides": ("width",), "round": ("length", "width")}
"""What is milled -> the sizes that it makes."""
SIZE_OF = {"table": "length", "saddle": "width"}
"""The axis that sets a side -> the size that it makes with the one opposite."""
HOLDINGS = ("vice", "clamps", "angle plate")


@dataclass(frozen=True, eq=False)
class SidesJob(Milling):
    """Ends and sides to be milled."""

    milled: str
    """`ends`, `sides` or `round`."""
    turned: bool
    """The work is turned round between the two; else all is milled in one setting."""
    first: Side
    stock: Mapping[str, Decimal]
    """Length and width before, as far as they are milled."""
    sizes: Mapping[str, Toleranced]
    height: Decimal | None
    """From the top to where the sides end; None where the cutter goes past the bottom edge."""
    skim: Decimal
    climbs: bool
    """Whether the finishing cuts climb where the machine allows it."""

    @property
    def close(self) -> Decimal:
        """What a climbing cut takes off a side once it is clean, for its finish."""
        return self.finish if self.climbs else Decimal(0)

    def least_stock(self, size: str) -> Decimal:
        """The least that has to be there before: a skim off either side over the largest size."""
        return self.sizes[size].high + 2 * self.skim + self.close


def read(head: Head, fields: Fields) -> SidesJob:
    """The job from its file."""
    unit = head.unit
    block, stock = fields.table_at("block"), fields.table_at("stock")
    milled = block.choice("milled", tuple(MILLED))
    sizes = MILLED[milled]
    turned = milled != "round" and block.choice("setting", ("turned", "one"), "turned") == "turned"
    height = block.optional_length("height", unit)
    job = SidesJob(
        **mill.common(head, fields, ("end mill",), HOLDINGS, witness=False),  # type: ignore[arg-type]
        milled=milled,
        turned=turned,
        first=_first(block, milled),
        stock={one: magnitude(stock.length(one, unit), unit) for one in sizes},
        sizes={one: toleranced(block, one, unit) for one in sizes},
        height=None if height is None else magnitude(height, unit),
        skim=magnitude(fields.length("skim", unit, quantity(SKIM[unit], unit)), unit),
        climbs=fields.choice("finish_way", ("conventional", "climbing"), "conventional")
        == "climbing",
    )
    block.done()
    stock.done()
    for size in sizes:
        least = job.least_stock(size)
        if job.stock[size] < least:
            fields.fail(
                f"stock.{size}", f"{job.stock[size]:f}",
                f"wanted {least.normalize():f} at least: {job.sizes[size].high:f} and a skim off "
                "either side",
            )  # fmt: skip
    _check_cutter(job, fields)
    _check_jaws(job, block)
    return job


def _first(block: Fields, milled: str) -> Side:
    """The side that is milled first: an end where ends are milled."""
    usual = "back" if milled == "sides" else "right"
    side = SIDES[block.choice("first", tuple(SIDES), usual)]
    if milled != "round" and SIZE_OF[side.axis] not in MILLED[milled]:
        want = "back or front" if milled == "sides" else "right or left"
        block.refuse("first", side.where, f"the {milled} are milled: wanted {want}")
    return side


def _check_cutter(job: SidesJob, fields: Fields) -> None:
    """One pass of the cutter's whole width would be a slot, and no side."""
    cutter = job.cutter
    most, wide = job.m(cutter.max_pass), job.m(cutter.diameter)
    if most > wide / 2:
        want = f"more than half of the cutter, {(wide / 2).normalize():f}, is a slot"
        fields.fail("cutter.max_pass", f"{most:f}", want)
    deepest = max(job.skim, job.close)
    if deepest > most:
        fields.fail("skim", f"{deepest:f}", f"more than a pass may take, {most:f}")
    if job.height is not None and cutter.reach is not None and job.m(cutter.reach) <= job.height:
        fields.fail("cutter.reach", f"{job.m(cutter.reach):f}",
                    f"the sides are {job.height:f} high: wanted a longer cutter")  # fmt: skip


def _check_jaws(job: SidesJob, block: Fields) -> None:
    """The jaws lie along the front and the back of the work: past its bottom edge they are hit."""
    along = job.milled == "round" or (job.milled == "sides" and not job.turned)
    if along and job.holding == "vice" and job.height is None:
        block.fail("height", "missing",
                   "the jaws are in the way below it: say how far down the sides go, held low in "
                   "the vice, or hold it by clamps")  # fmt: skip
