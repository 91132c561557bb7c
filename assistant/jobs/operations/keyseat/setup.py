"""Set-up of a keyseat: checks, measurements to begin with, speed and feed."""

from __future__ import annotations

from functools import lru_cache

from assistant.calc.hand_stop import HandStop
from assistant.calc.keys import Keyseat
from assistant.jobs.common import checks
from assistant.jobs.common.next_part import before
from assistant.jobs.common.off_size import Expected
from assistant.jobs.common.spindle import Cutting, SpeedAndFeed, notes, speed_and_feed
from assistant.jobs.milling.keyed_parts import key_expected, shaft_expected
from assistant.jobs.operations.keyseat.job import KeyseatJob, reach, seat_of
from assistant.jobs.steps import Check, FactKey, Facts, Ground, Measure, Step, fact_key, from_key
from assistant.machine import Machine
from assistant.spoken import Figure
from assistant.units import Quantity, Unit, magnitude

SLENDER = 3
"""A shaft that stands out more diameters than this needs its end supported (common practice)."""


MEASURED = ("shaft.diameter", "key.height", "cutter.width")


def speed_of(job: KeyseatJob, machine: Machine, facts: Facts) -> SpeedAndFeed:
    """Speed and feed of the job's cutter."""
    return speed_and_feed(_cutting(job), machine, job.unit, facts)


@lru_cache(maxsize=16)
def _cutting(job: KeyseatJob) -> Cutting:
    cutter = job.cutter
    return Cutting(
        cutter=cutter.kind,
        diameter=cutter.diameter,
        teeth=cutter.teeth,
        tool=cutter.material,
        material=job.head.material,
        surface_speed=cutter.surface_speed,
        chip_load=cutter.chip_load,
        stop=HandStop(to_metal=True),
    )


def setup_steps(job: KeyseatJob, machine: Machine, facts: Facts) -> tuple[Step, ...]:
    """Everything before the first touch."""
    keys = tuple(fact_key(facts, name) for name in MEASURED)
    if before(facts, "shaft") is not None:
        return _next_part(job, machine, facts)
    return _setup(job, machine, keys, fact_key(facts, "speed"), fact_key(facts, "feed"))


def _next_part(job: KeyseatJob, machine: Machine, facts: Facts) -> tuple[Step, ...]:
    """The next part in the same setting: the work is clamped anew and measured, no more."""
    first = {step.id: step for step in setup_steps(job, machine, {})}
    asked = {one.fact: one.asked(facts, job.unit) for one in expected(job)}
    return (
        first["check-work"],
        first["measure-shaft"], *asked["shaft.diameter"],
        first["measure-key"], *asked["key.height"],
    )  # fmt: skip


@lru_cache(maxsize=32)
def _setup(
    job: KeyseatJob, machine: Machine, seat_keys: tuple[FactKey, ...], *chosen: FactKey
) -> tuple[Step, ...]:
    # depends on few of the facts, and is a third of the plan: kept until one of those changes
    told = zip((*MEASURED, "speed", "feed"), (*seat_keys, *chosen), strict=True)
    facts = {name: value for name, key in told if (value := from_key(key)) is not None}
    seat, setting = seat_of(job, facts), speed_of(job, machine, facts)
    long = job.overhang is not None and job.overhang > job.shaft * SLENDER
    steps = checks.first_checks(machine.kind)
    if job.cutter.kind == "slotting cutter":
        steps.append(checks.arbor())
    elif job.cutter.kind == "end mill":
        steps.append(checks.holder())
    else:
        say = ("Cutter's shank tight in its collet or holder, running true?",)
        steps.append(Check(id="check-holder", title="Cutter held", say=say))
    steps.append(checks.work(job.holding, long))
    steps.append(checks.direction(machine.feed_axis))
    if job.cutter.kind == "woodruff cutter":
        steps.append(
            Check(
                id="check-neck",
                title="Weak neck",
                say=("Weak neck on this cutter. Small bites, go easy.",),
            )
        )
    if job.end == "closed" and not job.cutter.centre_cutting:
        steps.append(checks.start_hole())
    asked = {one.fact: one.asked(facts, job.unit) for one in expected(job)}
    for measure in _first_measurements(job, seat):
        steps += [measure, *asked[measure.fact]]
    steps.extend(notes(setting))
    return tuple(steps)


def side_clears(job: KeyseatJob) -> bool:
    """Whether collar, neck or holder passes the shaft's half, as it must when the cutter stands
    at the centre line beside the shaft."""
    return job.cutter.kind == "end mill" or reach(job) > job.shaft / 2


def expected(job: KeyseatJob) -> tuple[Expected, ...]:
    """Shaft, cutter and key as they should be. A cutter wider than the seat is refused
    (`job.check_told`); what shaft and key measure goes into the depth."""
    unit, width = job.unit, seat_of(job, {}).width
    return (
        shaft_expected(magnitude(job.shaft, unit), unit, places(unit)),
        Expected(
            "cutter.width", "the cutter", magnitude(width.low, job.unit),
            magnitude(width.high, job.unit), places(unit),
            under="The seat comes out too tight for the key. Another cutter, or ask.", over="",
        ),
        key_expected(magnitude(job.key.height, unit), unit, places(unit)),
    )  # fmt: skip


def _first_measurements(job: KeyseatJob, seat: Keyseat) -> list[Measure]:
    unit = job.unit
    return [
        _measure(job, "shaft.diameter", "the shaft", job.shaft, "micrometer"),
        Measure(
            id="measure-cutter",
            title="Cutter, measured",
            say=(
                "What does the cutter cut? Try it in scrap: half of that moves the centre."
                if job.cutter.kind == "end mill"
                else "Measure the cutter's width. A reground cutter is not its name.",
            ),
            fact="cutter.width",
            gauge="micrometer",
            figure=Figure(job.cutter.width, "cutter width", places=places(unit)),
            nominal=job.cutter.width,
            band_low=job.cutter.width * 4 / 5,
            band_high=seat.width.high,
            resolution=Unit(unit).size("0.0001", "0.01"),
            rests=(Ground.TOOL,),
            optional=True,
        ),
        _measure(job, "key.height", "the key's height", job.key.height, "micrometer"),
    ]


def _measure(job: KeyseatJob, fact: str, what: str, nominal: Quantity, gauge: str) -> Measure:
    slack = Unit(job.unit).size("0.030", "0.8")
    return Measure(
        id="measure-" + fact.split(".")[0],
        title=f"{what.removeprefix('the ').capitalize()}, measured",
        say=(f"Measure {what}.",),
        cautions=checks.MEASURE_CAUTIONS[:1],
        fact=fact,
        gauge=gauge,
        figure=Figure(nominal, what, places=places(job.unit)),
        nominal=nominal,
        band_low=nominal - slack,
        band_high=nominal + slack,
        resolution=Unit(job.unit).size("0.0001", "0.01"),
        optional=True,
    )


def places(unit: str) -> int:
    """Decimal places in which sizes of the job are shown."""
    return Unit(unit).places


def size_places(unit: str) -> int:
    """Places of depths and of sizes with limits: the standards give them to 0.001 in, 0.01 mm."""
    return Unit(unit).coarse_places
