"""What a job file on a broached keyway says: hub, key, broach."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from assistant.calc.broach import broach_plan
from assistant.calc.keys import HubKeyway, Key, hub_keyway, key_as_given, key_for_shaft
from assistant.errors import BadInput
from assistant.fields import Fields
from assistant.jobs.jobfile import Head
from assistant.jobs.steps import FactKey, from_key
from assistant.units import Quantity


@dataclass(frozen=True, eq=False)
class BroachJob:
    """A keyway to be pushed. Compared by identity, see `jobs.planning.read_job`."""

    head: Head
    bore: Quantity
    length: Quantity
    """Of the hub."""
    key: Key
    width: Quantity
    """Of the broach, as marked."""
    cut_per_pass: Quantity

    @property
    def unit(self) -> str:
        """`inch` or `mm`."""
        return self.head.unit


def read(head: Head, fields: Fields) -> BroachJob:
    """The job from its file."""
    unit = head.unit
    hub = fields.table_at("hub")
    bore, length = hub.length("bore", unit), hub.length("length", unit)
    hub.done()
    key = _key(fields.table_at("key", {}), bore, unit)
    broach = fields.table_at("broach")
    job = BroachJob(
        head=head,
        bore=bore,
        length=length,
        key=key,
        width=broach.length("width", unit),
        cut_per_pass=broach.length("cut_per_pass", unit),
    )
    longest = broach.optional_length("longest", unit)
    shortest = broach.optional_length("shortest", unit)
    broach.done()
    if longest is not None and length > longest:
        fields.fail(
            "hub.length",
            str(length),
            f"this broach takes {longest} at most: its chips have no more room",
        )
    if shortest is not None and length < shortest:
        fields.fail("hub.length", str(length), f"under {shortest} too few teeth guide it")
    try:
        keyway = keyway_of(job, None)
        broach_plan(keyway, job.cut_per_pass)
    except BadInput as bad:
        fields.fail(bad.field, bad.value, bad.want)
    if not keyway.width.low * Decimal("0.99") <= job.width <= keyway.width.high:
        fields.fail("broach.width", str(job.width), f"the key wants a keyway of {key.width}")
    return job


def _key(fields: Fields, bore: Quantity, unit: str) -> Key:
    width = fields.optional_length("width", unit)
    height = fields.optional_length("height", unit)
    fields.done()
    try:
        if width is None or height is None:
            if width is not height:
                missing = "width" if width is None else "height"
                fields.fail(missing, "missing", "give width and height, or neither")
            return key_for_shaft(bore)
        return key_as_given(width, height)
    except BadInput as bad:
        fields.fail(bad.field, bad.value, bad.want)


@lru_cache(maxsize=32)
def keyway_of(job: BroachJob, bore: FactKey) -> HubKeyway:
    """The keyway in the bore as measured, else as the job gives it."""
    return hub_keyway(from_key(bore) or job.bore, job.key)
