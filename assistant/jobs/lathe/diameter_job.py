"""A diameter to be turned or bored, as a job file gives it."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.fields import Fields
from assistant.jobs.to_size.infeed import NOTHING
from assistant.jobs.to_size.sizing import Toleranced, toleranced
from assistant.units import magnitude, quantity

USUAL: dict[str, dict[str, Decimal]] = {
    "inch": {
        "clean_up": Decimal("0.010"),
        "finish": Decimal("0.020"),
        "max_cut": Decimal("0.040"),
        "aim": Decimal("0.0005"),
    },
    "mm": {
        "clean_up": Decimal("0.3"),
        "finish": Decimal("0.5"),
        "max_cut": Decimal("1"),
        "aim": Decimal("0.01"),
    },
}
"""Where a job file is silent, common practice, no source: clean-up cut and finishing cut on the
diameter, deepest cut on one side, how far inside its limits a diameter is aimed at least."""


@dataclass(frozen=True)
class Diameter:
    """A diameter to be turned or bored, in the job's unit."""

    stock: Decimal
    """What it is cut from: the bar, or the hole there is."""
    size: Toleranced
    inner: bool
    """A bore: the cut goes out."""
    clean_up: Decimal
    finish: Decimal
    max_cut: Decimal
    """On one side."""
    aim_inside: Decimal
    prefix: str = ""
    what: str = "the diameter"

    @property
    def sign(self) -> int:
        """The way of the cross slide that cuts: in for turning, out for boring."""
        return -1 if self.inner else 1


def read_diameter(
    work: Fields, tool: Fields, unit: str, inner: bool, taper: Decimal = NOTHING
) -> Diameter:
    """What is cut from what: `stock` or `hole` and `diameter` of `[work]`, cuts of `[tool]`.

    `taper` is by how much the diameter may be larger than where the stock is touched.
    """

    def of_tool(key: str) -> Decimal:
        return magnitude(tool.length(key, unit, quantity(USUAL[unit][key], unit)), unit)

    key = "hole" if inner else "stock"
    one = Diameter(
        stock=magnitude(work.length(key, unit), unit),
        size=toleranced(work, "diameter", unit),
        inner=inner,
        clean_up=of_tool("clean_up"),
        finish=of_tool("finish"),
        max_cut=of_tool("max_cut"),
        aim_inside=of_tool("aim"),
        what="the bore" if inner else "the diameter",
    )
    if inner and one.stock >= one.size.low:
        work.fail(key, f"{one.stock} {unit}", "the hole must be smaller than the bore")
    if not inner and one.stock + taper <= one.size.high:
        work.fail(key, f"{one.stock} {unit}", "the stock must be larger than the diameter")
    return one
