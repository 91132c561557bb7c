"""What a keyseat job file says: shaft, key, seat, cutter, holding."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from assistant.calc.keys import Key, Keyseat, key_as_given, key_for_shaft, keyseat
from assistant.errors import BadInput, ImpossibleInput
from assistant.fields import Fields
from assistant.jobs.jobfile import Head, read_surface_speed
from assistant.jobs.milling import mill
from assistant.jobs.steps import FactKey, Facts, fact_key, from_key
from assistant.units import Quantity, is_quantity, magnitude, quantity

CUTTERS = ("slotting cutter", "woodruff cutter", "end mill")
HOLDINGS = ("vice", "v-blocks", "clamps")
MEASURES = ("over the key", "floor")
OTHER_KEY = (Decimal("0.8"), Decimal("1.5"))
"""A key measured lower or higher by so much is another one; a taller key may be fitted to a seat
that was cut too deep."""
REGROUND = Decimal("0.97")
"""A cutter narrower than this part of the seat was not reground, but is another one."""

AIM = {"inch": Decimal("0.003"), "mm": Decimal("0.08")}
"""How far inside the one-sided band to aim at least, where a job file is silent: the dial's next
division deeper makes it three to five thousandths. Common practice, no source."""
DEFAULTS = {unit: mill.DEFAULTS[unit] | {"aim": aim} for unit, aim in AIM.items()}
"""Where a job file is silent: a mill's, but for the aim."""


@dataclass(frozen=True)
class Cutter:
    """The cutter, as its marking or a measurement says."""

    kind: str
    diameter: Quantity
    width: Quantity
    """Across the teeth; for an end mill its diameter."""
    teeth: int
    material: str
    body: Quantity
    """Diameter of what stands over the work beside the teeth: collar, neck or holder."""
    centre_cutting: bool
    stick_out: Quantity | None
    """Length out of the holder, for an end mill."""
    max_pass: Quantity
    chip_load: Quantity | None
    surface_speed: Quantity | None


@dataclass(frozen=True, eq=False)
class KeyseatJob:
    """A straight keyseat in a shaft. Compared by identity, see `jobs.planning.read_job`."""

    head: Head
    shaft: Quantity
    key: Key
    depth_given: Quantity | None
    """From the top, where the drawing gives it instead of the standard."""
    length: Quantity
    """Of the seat at full depth."""
    end: str
    """`open` at the end of the shaft, or `closed`."""
    from_end: Quantity | None
    """Closed seats: from the end face to the near end of the seat."""
    count: int
    """Keyseats in line, cut one after another without unclamping."""
    pitch: Quantity | None
    """From the start of one to the start of the next, where there are several."""
    measure: str
    cutter: Cutter
    holding: str
    overhang: Quantity | None
    """How far the shaft stands out of the holding at the cut."""
    side: str
    """The side that is touched: `back` (toward the column) or `front`."""
    fixed_jaw: str
    """`back` or `front`: the side of the vice that doesn't move, for the next part."""
    depth_axis: str
    witness: Quantity
    finish: Quantity
    aim: Quantity

    @property
    def unit(self) -> str:
        """`inch` or `mm`."""
        return self.head.unit


def read(head: Head, fields: Fields) -> KeyseatJob:
    """The job from its file; every error is a `BadFile` that names file, key and value."""
    unit = head.unit
    default = {name: quantity(value, unit) for name, value in DEFAULTS[unit].items()}
    shaft_fields = fields.table_at("shaft")
    shaft = shaft_fields.length("diameter", unit)
    overhang = shaft_fields.optional_length("overhang", unit)
    shaft_fields.done()

    key_fields = fields.table_at("key", {})
    key = _key(key_fields, shaft, unit)
    depth = key_fields.optional_length("depth_from_top", unit)
    key_fields.done()

    seat = fields.table_at("seat")
    end = seat.choice("end", ("open", "closed"), "open")
    count = seat.whole("count", 1, 12 if end == "closed" else 1, 1)
    job = KeyseatJob(
        head=head,
        shaft=shaft,
        key=key,
        depth_given=depth,
        length=seat.length("length", unit),
        end=end,
        from_end=seat.length("from_end", unit) if end == "closed" else None,
        count=count,
        pitch=seat.length("pitch", unit) if count > 1 else None,
        measure=seat.choice("measure", MEASURES, "over the key"),
        cutter=_cutter(fields.table_at("cutter"), unit, default["max_pass"]),
        holding=fields.choice("holding", HOLDINGS, "vice"),
        overhang=overhang,
        side=fields.choice("touch_side", ("back", "front"), "back"),
        fixed_jaw=fields.choice("fixed_jaw", ("back", "front"), "back"),
        depth_axis=fields.choice("depth_axis", ("knee", "quill"), "knee"),
        witness=seat.length("witness", unit, default["witness"], zero_ok=True),
        finish=seat.length("finishing_cut", unit, default["finish"], zero_ok=True),
        aim=seat.length("aim_inside", unit, default["aim"], zero_ok=True),
    )
    seat.done()
    _check(job, fields)
    return job


def _key(fields: Fields, shaft: Quantity, unit: str) -> Key:
    width = fields.optional_length("width", unit)
    height = fields.optional_length("height", unit)
    try:
        if width is None and height is None:
            return key_for_shaft(shaft)
        if width is None or height is None:
            missing = "width" if width is None else "height"
            fields.fail(missing, "missing", "give width and height, or neither for the standard's")
        return key_as_given(width, height)
    except BadInput as bad:
        fields.fail(bad.field, bad.value, bad.want)


def _cutter(fields: Fields, unit: str, max_pass: Quantity) -> Cutter:
    kind = fields.choice("kind", CUTTERS)
    diameter = fields.length("diameter", unit)
    end_mill = kind == "end mill"
    body_key = {"slotting cutter": "collar", "woodruff cutter": "neck", "end mill": "holder"}[kind]
    cutter = Cutter(
        kind=kind,
        diameter=diameter,
        width=diameter if end_mill else fields.length("width", unit),
        teeth=fields.whole("teeth", 1, 80, 2 if end_mill else 16),
        material=fields.choice("material", ("HSS", "carbide"), "HSS"),
        body=fields.length(body_key, unit),
        centre_cutting=fields.flag("centre_cutting", end_mill),
        stick_out=fields.optional_length("stick_out", unit),
        max_pass=fields.length("max_pass", unit, max_pass),
        chip_load=fields.optional_length("chip_load", unit),
        surface_speed=read_surface_speed(fields, unit),
    )
    fields.done()
    return cutter


def _check(job: KeyseatJob, fields: Fields) -> None:
    """What can't go together, found before anything is planned."""
    try:
        seat = seat_of(job, {})
    except BadInput as bad:
        fields.fail(bad.field, bad.value, bad.want)
    cutter = job.cutter
    if cutter.kind != "end mill" and cutter.body >= cutter.diameter:
        body = "collar" if cutter.kind == "slotting cutter" else "neck"
        fields.fail(f"cutter.{body}", str(cutter.body), f"must be smaller than {cutter.diameter}")
    if job.pitch is not None and job.pitch < job.length:
        fields.fail("seat.pitch", str(job.pitch), "shorter than the seat: they would run together")
    if job.end == "closed" and job.cutter.kind == "slotting cutter":
        fields.refuse("seat.end", "closed", "a slotting cutter runs out: wanted an end mill")
    # an end mill is as wide as its diameter, which is what its file gives
    key = "cutter.diameter" if cutter.kind == "end mill" else "cutter.width"
    width = magnitude(job.cutter.width, job.unit)
    narrowest = magnitude(seat.width.nominal, job.unit) * REGROUND
    if width < narrowest:
        fields.fail(
            key,
            f"{width:f} {job.unit}",
            f"too narrow for the key: wanted a cutter that cuts {seat.width.nominal:~}, the seat "
            "is cut as wide as it",
        )
    if width > magnitude(seat.width.high, job.unit):
        fields.fail(
            key,
            f"{width:f} {job.unit}",
            f"wider than the seat of {magnitude(seat.width.high, job.unit).normalize():f} at most: "
            "wanted a cutter as wide as the key",
        )


def seat_of(job: KeyseatJob, facts: Facts) -> Keyseat:
    """The keyseat to be cut: measured shaft and key take the place of the nominal ones.

    Raises `ImpossibleInput` for a key or depth that the shaft can't take.
    """
    return _seat(job, fact_key(facts, "shaft.diameter"), fact_key(facts, "key.height"))


@lru_cache(maxsize=32)
def _seat(job: KeyseatJob, shaft: FactKey, key_height: FactKey) -> Keyseat:
    return keyseat(
        job.shaft,
        job.key,
        measured_shaft=from_key(shaft),
        measured_key=from_key(key_height),
        depth_from_top=job.depth_given,
    )


def cutter_width(job: KeyseatJob, facts: Facts) -> Quantity:
    """The width as measured, else as marked: a reground cutter is not its name."""
    return _measured(facts, "cutter.width") or job.cutter.width


def shaft_diameter(job: KeyseatJob, facts: Facts) -> Quantity:
    """The diameter as measured, else nominal."""
    return _measured(facts, "shaft.diameter") or job.shaft


def reach(job: KeyseatJob) -> Quantity:
    """How deep the cutter can go before its collar, neck or holder meets the work."""
    if job.cutter.kind == "end mill":
        return job.cutter.stick_out or job.cutter.diameter * 2
    reaches: Quantity = (job.cutter.diameter - job.cutter.body) / 2
    return reaches


def check_reach(job: KeyseatJob, depth: Quantity) -> None:
    """Raises `ImpossibleInput` where the full depth is beyond the cutter's reach."""
    if reach(job) <= depth:
        raise ImpossibleInput(
            "cutter reach",
            f"{magnitude(reach(job), job.unit):.4f} {job.unit}",
            f"the seat is {magnitude(depth, job.unit):.4f} deep: wanted a larger cutter, or a "
            "smaller collar, neck or holder",
        )


def check_told(job: KeyseatJob, facts: Facts) -> None:
    """Raises `ImpossibleInput` for a measured cutter or key that is not this seat's."""
    widest, width = seat_of(job, facts).width.high, cutter_width(job, facts)
    if width > widest:
        raise ImpossibleInput(
            "cutter", f"{magnitude(width, job.unit).normalize():f} {job.unit}",
            f"wider than the seat of {magnitude(widest, job.unit).normalize():f} at most: "
            "take a narrower one",
        )  # fmt: skip
    height, nominal = _measured(facts, "key.height"), job.key.height
    if height is not None and not nominal * OTHER_KEY[0] <= height <= nominal * OTHER_KEY[1]:
        raise ImpossibleInput(
            "key's height", f"{magnitude(height, job.unit).normalize():f} {job.unit}",
            f"this seat is for a key {magnitude(nominal, job.unit).normalize():f} high: "
            "measure that one",
        )  # fmt: skip


def _measured(facts: Facts, name: str) -> Quantity | None:
    value = facts.get(name)
    return value if is_quantity(value) else None
