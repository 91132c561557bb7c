"""What milling jobs share: the cutter, what holds the work, checks, speed and feed."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from assistant.calc.exact import at_least, in_unit
from assistant.calc.hand_stop import HandStop
from assistant.errors import ImpossibleInput
from assistant.fields import Fields
from assistant.jobs.common import checks, spindle
from assistant.jobs.common.spindle import Cutting, SpeedAndFeed, speed_and_feed
from assistant.jobs.jobfile import Head, read_surface_speed
from assistant.jobs.steps import Check, Facts, Ground, Measure, Note, Step
from assistant.jobs.to_size.sizing import sized
from assistant.machine import Axis, Machine
from assistant.spoken import Figure
from assistant.spoken.rounding import round_places
from assistant.units import Quantity, Unit, is_quantity, magnitude, quantity

DEFAULTS: dict[str, dict[str, Decimal]] = {
    "inch": {
        "witness": Decimal("0.003"),
        "finish": Decimal("0.010"),
        "max_pass": Decimal("0.060"),
        "wall": Decimal("0.010"),
        "aim": Decimal("0.002"),
        "paper": Decimal("0.003"),
    },
    "mm": {
        "witness": Decimal("0.1"),
        "finish": Decimal("0.25"),
        "max_pass": Decimal("1.5"),
        "wall": Decimal("0.25"),
        "aim": Decimal("0.05"),
        "paper": Decimal("0.08"),
    },
}
"""Where a job file is silent. Common practice, no source: witness skim, stock left for the
finishing cut on floor and walls, deepest pass, how far inside its limits a size is aimed at
least, thin paper."""

SLACK = {"inch": "0.060", "mm": "1.5"}
"""A size of stock, or one that is only checked, told further off than this is a slip of the tongue
or of the ear: common practice, no source."""

GIVES = Decimal("0.1")
"""Share of a pass by which a milling cutter and what it cuts give way, at the most that is seen:
common practice, no source."""
CUTTER_FACT = "cutter.width"
SHANKED = ("end mill", "t-slot cutter", "woodruff cutter", "dovetail cutter")
"""Cutters on a shank."""
LIGHT = {
    "dovetail cutter": "0.0005",
    "woodruff cutter": "0.0005",
    "t-slot cutter": "0.0005",
    "slitting saw": "0.001",
    "gear cutter": "0.0015",
}
"""Chip loads in inches of cutters with a thin neck, body or form: common practice, no source."""


@dataclass(frozen=True)
class MillCutter:
    """A cutter, as its marking or a measurement says."""

    kind: str
    diameter: Quantity
    width: Quantity
    """What it cuts in one pass: an end mill's diameter, a saw's or a slotting cutter's width."""
    body: Quantity | None
    """Diameter of collar, arbor bush or stem beside the teeth."""
    teeth: int
    material: str
    max_pass: Quantity
    chip_load: Quantity | None
    surface_speed: Quantity | None
    reach: Quantity | None
    """An end mill's length out of the holder."""
    centre_cutting: bool = True
    """Whether an end mill cuts at its middle, so that it can be plunged."""

    @property
    def on_arbor(self) -> bool:
        """Whether it is held on an arbor, not in a collet or holder."""
        return self.kind not in SHANKED


@dataclass(frozen=True, eq=False)
class Milling:
    """What every milling job has. Compared by identity, see `jobs.planning.read_job`."""

    head: Head
    cutter: MillCutter
    holding: str
    depth_axis: str
    witness: Decimal
    finish: Decimal
    aim_inside: Decimal

    @property
    def unit(self) -> str:
        """`inch` or `mm`."""
        return self.head.unit

    def m(self, size: Quantity) -> Decimal:
        """A size in the job's unit."""
        return magnitude(size, self.unit)

    def q(self, size: Decimal) -> Quantity:
        """A magnitude of the job's unit as a size."""
        return sized(size, self.unit)

    @property
    def stop(self) -> HandStop | None:
        """What stops a feed that ends in metal; None where it runs out."""
        return None

    @property
    def paper(self) -> Quantity:
        """What paper is usual, until it is told."""
        return self.q(DEFAULTS[self.unit]["paper"])


def read_cutter(
    fields: Fields, unit: str, kinds: tuple[str, ...], body: str = "body"
) -> MillCutter:
    """The `[cutter]` table; `body` is the trade's word for what stands beside the teeth."""
    kind = fields.choice("kind", kinds, kinds[0] if len(kinds) == 1 else ...)
    diameter = fields.length("diameter", unit)
    round_ended = kind in ("end mill", "face mill", "t-slot cutter")
    given_width = round_ended and kind != "t-slot cutter"
    cutter = MillCutter(
        kind=kind,
        diameter=diameter,
        width=diameter if given_width else fields.length("width", unit),
        body=fields.optional_length(body, unit),
        teeth=fields.whole("teeth", 1, 200, 4 if round_ended else 16),
        material=fields.choice("material", ("HSS", "carbide"), "HSS"),
        max_pass=fields.length("max_pass", unit, quantity(DEFAULTS[unit]["max_pass"], unit)),
        chip_load=fields.optional_length("chip_load", unit),
        surface_speed=read_surface_speed(fields, unit),
        reach=fields.optional_length("reach", unit),
        centre_cutting=fields.flag("centre_cutting", True) if kind == "end mill" else False,
    )
    fields.done()
    if cutter.body is not None and cutter.body >= diameter:
        fields.fail(body, str(cutter.body), "must be smaller than the cutter's diameter")
    return cutter


def common(
    head: Head,
    fields: Fields,
    kinds: tuple[str, ...],
    holdings: tuple[str, ...],
    body: str = "body",
    *,
    witness: bool = True,
) -> dict[str, object]:
    """The fields of `Milling` from a job file; `body` as in `read_cutter`, `witness` False where
    there is no first skim to be looked at."""
    usual = {name: quantity(value, head.unit) for name, value in DEFAULTS[head.unit].items()}

    def length(key: str, name: str) -> Decimal:
        return magnitude(fields.length(key, head.unit, usual[name], zero_ok=True), head.unit)

    return {
        "head": head,
        "cutter": read_cutter(fields.table_at("cutter"), head.unit, kinds, body),
        "holding": fields.choice("holding", holdings, holdings[0]),
        "depth_axis": fields.choice("depth_axis", ("knee", "quill"), "knee"),
        "witness": length("witness", "witness") if witness else Decimal(0),
        "finish": length("finishing_cut", "finish"),
        "aim_inside": length("aim_inside", "aim"),
    }


def wanted_machine(machine: Machine, kinds: tuple[str, ...], why: str) -> None:
    """Raises `ImpossibleInput` on a machine that can't do it."""
    if machine.kind not in kinds:
        raise ImpossibleInput(
            "machine", f"a {machine.kind}", f"{why} wants a {' or a '.join(kinds)}"
        )


def cutter_size(job: Milling, facts: Facts) -> Decimal:
    """What the cutter cuts, as measured, else as marked: a reground cutter is not its name."""
    told = facts.get(CUTTER_FACT)
    return job.m(told if is_quantity(told) else job.cutter.width)


@lru_cache(maxsize=32)
def cutting_of(job: Milling, hand_axis: str = "") -> Cutting:
    """What speed and feed are worked out from; kept, since it is compared by identity."""
    cutter = job.cutter
    chip_load, source = cutter.chip_load, "as the job file gives it"
    if chip_load is None and cutter.kind in LIGHT:
        chip_load = quantity(LIGHT[cutter.kind], "inch")
        source = "common practice, no source"
    return Cutting(
        cutter=cutter.kind,
        diameter=cutter.diameter,
        teeth=cutter.teeth,
        tool=cutter.material,
        material=job.head.material,
        surface_speed=cutter.surface_speed,
        chip_load=chip_load,
        chip_source=source,
        hand_axis=hand_axis,
        stop=job.stop,
    )


def speed_of(job: Milling, machine: Machine, facts: Facts, hand_axis: str = "") -> SpeedAndFeed:
    """Speed and feed of the job's cutter."""
    return speed_and_feed(cutting_of(job, hand_axis), machine, job.unit, facts)


def setup(
    job: Milling, machine: Machine, facts: Facts, *, what: str = "work", hand_axis: str = "",
    extra: tuple[Step, ...] = (), direction: bool = True, measured: bool = True,
) -> list[Step]:  # fmt: skip
    """Checks, the cutter measured, speed and feed: everything before the first touch. `measured`
    is False where no place and no size goes by what the cutter cuts."""
    steps = checks.first_checks(machine.kind)
    on_arbor = machine.kind == "horizontal mill" and job.cutter.on_arbor
    steps.append(checks.arbor() if on_arbor else _holder(job))
    steps.append(checks.work(job.holding, False, what))
    if direction:
        steps.append(checks.direction(machine.feed_axis))
    steps.extend(extra)
    if measured:
        steps.append(measure_cutter(job))
    steps.extend(spindle.notes(speed_of(job, machine, facts, hand_axis)))
    return steps


def _holder(job: Milling) -> Check:
    if job.cutter.kind == "end mill":
        return checks.holder()
    what = job.cutter.kind.replace("t-slot", "T-slot")
    where = "in its holder" if job.cutter.kind in SHANKED else "on its arbor or in its holder"
    return Check(
        id="check-holder",
        title="Cutter held",
        say=(f"{what[0].upper()}{what[1:]} tight {where}, running true?",),
    )


def measure_cutter(job: Milling) -> Measure:
    """What the cutter really cuts: half of it moves the centre."""
    width = job.cutter.width
    by_trial = job.cutter.kind in ("end mill", "face mill")
    say = (
        "What does the cutter cut? Try it in scrap, or measure it."
        if by_trial
        else "Measure the cutter's width. A reground cutter is not its name."
    )
    return Measure(
        id="measure-cutter",
        title="Cutter, measured",
        say=(say,),
        fact=CUTTER_FACT,
        gauge="micrometer",
        figure=Figure(width, "cutter diameter" if by_trial else "cutter width", places(job.unit)),
        nominal=width,
        band_low=width * 4 / 5,
        band_high=width * 6 / 5,
        resolution=Unit(job.unit).size("0.0001", "0.01"),
        rests=(Ground.TOOL,),
        optional=True,
    )


def measure_work(
    job: Milling, fact: str, what: str, nominal: Quantity, *, optional: bool = True
) -> Measure:
    """A size of the stock, measured before anything is worked out from it."""
    # told as it is shown: "two over" is over that number
    nominal = job.q(round_places(job.m(nominal), places(job.unit)))
    slack = quantity(SLACK[job.unit], job.unit)
    return Measure(
        id="measure-" + fact.replace(".", "-"),
        title=f"{what.removeprefix('the ').capitalize()}, measured",
        say=(f"Measure {what}.",),
        cautions=checks.MEASURE_CAUTIONS[:1],
        fact=fact,
        gauge="micrometer",
        figure=Figure(nominal, what, places(job.unit)),
        nominal=nominal,
        band_low=nominal - slack,
        band_high=nominal + slack,
        resolution=Unit(job.unit).size("0.0001", "0.01"),
        optional=optional,
    )


def deburr(
    say: str = "Deburr the edges.", spindle_words: str = "Spindle off, cutter clear."
) -> Note:
    """The end of the work."""
    return Note(
        id="deburr",
        title="Deburr",
        spindle="off",
        spindle_words=spindle_words,
        say=(say,),
        cautions=("Edges are sharp. Brush, never fingers.",),
    )


def told(job: Milling, facts: Facts, fact: str, nominal: Quantity) -> Decimal:
    """A size as measured, else nominal, in the job's unit."""
    value = facts.get(fact)
    return job.m(value if is_quantity(value) else nominal)


def places(unit: str) -> int:
    """Decimal places in which sizes of a job are shown."""
    return Unit(unit).places


def size_places(unit: str) -> int:
    """Places of depths and of sizes with limits."""
    return Unit(unit).coarse_places


def whole_turns(axis: Axis, room: Quantity) -> int:
    """Whole turns of a handwheel that make at least so much room."""
    return max(1, at_least(in_unit(room, "mm"), in_unit(axis.per_turn, "mm")))
