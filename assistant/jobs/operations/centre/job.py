"""What a job file on finding a place says: the feature, the sides, the tip."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.fields import Fields
from assistant.jobs.jobfile import Head
from assistant.units import Quantity, magnitude

FEATURES = ("corner", "boss", "plate", "bore")
TOOLS = ("edge finder", "cutter")
SIDES = {"x": ("left", "right"), "y": ("front", "back")}


@dataclass(frozen=True, eq=False)
class CentreJob:
    """What is to be found. Compared by identity, see `jobs.planning.read_job`."""

    head: Head
    feature: str
    x_side: str
    y_side: str
    """The sides touched first; for a corner the only ones."""
    size_x: Quantity | None
    size_y: Quantity | None
    """Across, from the drawing; none for a corner."""
    tool: str
    tip: Quantity

    @property
    def unit(self) -> str:
        """`inch` or `mm`."""
        return self.head.unit

    @property
    def inside(self) -> bool:
        """Whether it is touched from inside."""
        return self.feature == "bore"

    @property
    def round(self) -> bool:
        """Whether the first axis meets a chord, not the diameter."""
        return self.feature in ("bore", "boss") and self.size_x == self.size_y


def read(head: Head, fields: Fields) -> CentreJob:
    """The job from its file."""
    unit = head.unit
    feature = fields.table_at("feature")
    kind = feature.choice("kind", FEATURES)
    size_x = size_y = None
    if kind in ("boss", "bore"):
        size_x = size_y = feature.optional_length("diameter", unit)
    if kind != "corner" and size_x is None:
        size_x, size_y = feature.length("across_x", unit), feature.length("across_y", unit)
    tool = fields.table_at("tip")
    job = CentreJob(
        head=head,
        feature=kind,
        x_side=feature.choice("x_side", SIDES["x"], "left"),
        y_side=feature.choice("y_side", SIDES["y"], "front"),
        size_x=size_x,
        size_y=size_y,
        tool=tool.choice("kind", TOOLS, "edge finder"),
        tip=tool.length("diameter", unit),
    )
    feature.done()
    tool.done()
    for name, size in (("across_x", size_x), ("across_y", size_y)):
        if size is not None and job.inside and size <= job.tip:
            tool.fail("diameter", str(job.tip), f"doesn't go into {size}")
        if size is not None and magnitude(size, unit) > Decimal(2000):
            feature.fail(name, str(size), "check the unit")
    return job
