"""What a job file on a spur gear says: teeth, pitch, blank, cutter."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.gears import SpurGear, module_of, spur_gear
from assistant.errors import BadInput
from assistant.fields import Fields
from assistant.jobs.common.off_size import Expected
from assistant.jobs.jobfile import Head
from assistant.jobs.milling import mill
from assistant.jobs.milling.mill import Milling
from assistant.units import Quantity, magnitude, quantity

THINNER = {"inch": Decimal("0.004"), "mm": Decimal("0.1")}
"""How much thinner than theory a tooth may be, so that the gears run: common practice."""

BLANK = {"inch": (Decimal("0.005"), Decimal("0.002")), "mm": (Decimal("0.13"), Decimal("0.05"))}
"""How much smaller and larger than its size a blank may be turned: common practice, no source."""


@dataclass(frozen=True, eq=False)
class GearJob(Milling):
    """A spur gear."""

    teeth: int
    module: Quantity
    angle: Quantity
    gear: SpurGear
    thinner: Decimal
    face: Quantity


def read(head: Head, fields: Fields) -> GearJob:
    """The job from its file."""
    unit = head.unit
    gear = fields.table_at("gear")
    teeth = gear.whole("teeth", 12, 240)
    pitch = "diametral_pitch" in gear.table
    if pitch == ("module" in gear.table):
        gear.fail("module", "both" if pitch else "missing", "give module or diametral_pitch")
    module = (module_of(gear.number("diametral_pitch", 1, 200)) if pitch
              else gear.length("module", unit))  # fmt: skip
    angle = quantity(gear.number("pressure_angle", 1, 45, Decimal(20)), "degree")
    thinner = gear.length("thinner", unit, quantity(THINNER[unit], unit))
    try:
        found = spur_gear(teeth, module, angle)
    except BadInput as bad:
        gear.fail(bad.field, bad.value, bad.want)
    job = GearJob(
        **mill.common(head, fields, ("gear cutter",), ("dividing head",)),  # type: ignore[arg-type]
        teeth=teeth,
        module=module,
        angle=angle,
        gear=found,
        thinner=magnitude(thinner, unit),
        face=gear.length("face", unit),
    )
    gear.done()
    if job.thinner >= job.m(found.chordal_thickness) / 4:
        fields.fail("gear.thinner", str(thinner), "more than a quarter of the tooth")
    return job


def blank_expected(job: GearJob) -> Expected:
    """The blank as it should be turned. On a small one a tooth keeps its thickness, since the depth
    is less by as much, but comes out short; on a large one its tip rubs in the other gear."""
    size, (less, more) = job.m(job.gear.blank), BLANK[job.unit]
    return Expected(
        "blank.diameter", "the blank", size - less, size + more, mill.places(job.unit),
        under="The teeth come out short. Another blank, or ask.",
        over="The tips would rub in the other gear. Turn it down first.",
    )  # fmt: skip
