"""What a Woodruff job file says: shaft, key number, place, cutter."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from assistant.calc import woodruff
from assistant.errors import BadInput
from assistant.fields import Fields
from assistant.jobs.common.off_size import Expected
from assistant.jobs.jobfile import Head
from assistant.jobs.milling import mill
from assistant.jobs.milling.keyed_parts import key_expected, shaft_expected
from assistant.jobs.milling.mill import Milling
from assistant.jobs.steps import FactKey, Facts, fact_key, from_key
from assistant.units import Quantity

MEASURES = ("over the key", "above the shaft")
SLACK = Decimal("0.03")
"""A cutter further than this share from its key is another key's."""


@dataclass(frozen=True, eq=False)
class WoodruffJob(Milling):
    """A Woodruff keyseat."""

    shaft: Quantity
    key: woodruff.WoodruffKey
    from_end: Quantity
    """From the end face to the middle of the seat."""
    measure: str
    side: str
    """Vertical mill: the side of the shaft that is cut, `front` or `back`."""


def read(head: Head, fields: Fields) -> WoodruffJob:
    """The job from its file."""
    unit = head.unit
    shaft_fields = fields.table_at("shaft")
    shaft = shaft_fields.length("diameter", unit)
    shaft_fields.done()
    key = _key(fields.table_at("key", {}), shaft, unit)
    seat = fields.table_at("seat")
    from_end = seat.length("from_end", unit)
    measure = seat.choice("measure", MEASURES, MEASURES[0])
    seat.done()
    cutter = fields.table_at("cutter", {})
    table = {"kind": "woodruff cutter", "diameter": key.diameter, "width": key.width,
             **cutter.table}  # fmt: skip
    own = Fields(fields.path, {**fields.table, "cutter": table})
    base = mill.common(head, own, ("woodruff cutter",), ("vice", "v-blocks", "clamps"), "stem")
    fields.used |= own.used | {"cutter"}
    job = WoodruffJob(
        **base,  # type: ignore[arg-type]
        shaft=shaft,
        key=key,
        from_end=from_end,
        measure=measure,
        side=fields.choice("side", ("front", "back"), "front"),
    )
    _check(job, fields)
    return job


def _key(fields: Fields, shaft: Quantity, unit: str) -> woodruff.WoodruffKey:
    number = fields.take("number", "", None)
    width = fields.optional_length("width", unit)
    height = fields.optional_length("height", unit)
    fields.done()
    try:
        if number is not None:
            return woodruff.key(str(number))
        if width is not None and height is not None:
            return woodruff.metric_key(width, height)
        suggested = woodruff.suggested_keys(shaft)
        return suggested[len(suggested) // 2]
    except BadInput as bad:
        fields.fail("number" if number is not None else "width", bad.value, bad.want)


def _check(job: WoodruffJob, fields: Fields) -> None:
    try:
        woodruff.seat(job.shaft, job.key)
    except BadInput as bad:
        fields.fail(f"key: {bad.field}", bad.value, bad.want)
    for name, ours, wanted in (
        ("diameter", job.cutter.diameter, job.key.diameter),
        ("width", job.cutter.width, job.key.width),
    ):
        if abs(job.m(ours) - job.m(wanted)) > job.m(wanted) * SLACK:
            fields.fail(f"cutter.{name}", str(ours), f"key {job.key.name} wants {wanted}")
    if job.from_end < job.cutter.diameter / 2:
        fields.fail("seat.from_end", str(job.from_end), "the seat would run out of the end face")


@lru_cache(maxsize=32)
def _kept_seat(job: WoodruffJob, shaft: FactKey, height: FactKey) -> woodruff.WoodruffSeat:
    return woodruff.seat(job.shaft, job.key, measured_shaft=from_key(shaft),
                         measured_height=from_key(height))  # fmt: skip


def seat_of(job: WoodruffJob, facts: Facts) -> woodruff.WoodruffSeat:
    """The seat with shaft and key as measured."""
    return _kept_seat(job, fact_key(facts, "shaft.diameter"), fact_key(facts, "key.height"))


def expected(job: WoodruffJob) -> tuple[Expected, Expected]:
    """Shaft and key as they should be: the depth goes by what they measure."""
    places = mill.places(job.unit)
    return (
        shaft_expected(job.m(job.shaft), job.unit, places),
        key_expected(job.m(job.key.height.nominal), job.unit, places),
    )
