"""The depth of a gear's spaces, judged by the thickness of the tooth between two of them."""

from __future__ import annotations

from decimal import Decimal

from assistant.calc.gears import extra_depth
from assistant.errors import ImpossibleInput
from assistant.jobs.milling import mill
from assistant.jobs.operations.gear.job import GearJob
from assistant.jobs.steps import Facts
from assistant.jobs.to_size.depth_work import DepthWork
from assistant.jobs.to_size.sizing import Sizing
from assistant.machine import Machine
from assistant.spoken import Term

SOURCE = "full-depth involute teeth, from memory of Machinery's Handbook"


def tooth_work(
    job: GearJob, machine: Machine, facts: Facts, blank: Decimal, short: Decimal
) -> DepthWork:
    """The passes of a space in a blank of that diameter, which is so much too small in radius; in
    the job's unit. Raises `ImpossibleInput` where nothing is left to cut."""
    gear = job.gear
    thick = job.m(gear.chordal_thickness)
    # a tooth thinner by one wants so much depth more: calc.gears says how much
    deeper = job.m(extra_depth(job.q(Decimal(2)), job.q(Decimal(1)), job.angle))
    slope = -1 / deeper
    nominal = job.m(gear.whole_depth) - short
    if nominal <= 0:
        raise ImpossibleInput("blank", f"{blank:f}", f"wanted {job.m(gear.blank):.4f}")
    sizing = Sizing(
        "the tooth", "gear tooth vernier", thick - job.thinner, thick, thick - slope * nominal,
        job.unit, slope, mill.places(job.unit), "too thin", "Too thin. Ask before you go on.",
        (Term("chordal thickness", gear.chordal_thickness),), SOURCE,
        "Chips out. Set it to the addendum.",
    )  # fmt: skip
    aim = sizing.depth_of(thick - job.thinner / 2)
    return DepthWork(
        unit=job.unit,
        machine=machine,
        facts=facts,
        axis_name=job.depth_axis,
        sizing=sizing,
        aim=aim,
        limit=job.m(job.cutter.max_pass),
        finish=job.finish,
        gives=mill.GIVES,
        terms=(
            Term("whole depth", gear.whole_depth),
            *((Term("blank too small, in radius", job.q(short), -1),) if short else ()),
            Term("for running clearance", job.q(aim - nominal)),
        ),
        formula="whole depth, and a little for running clearance",
    )  # fmt: skip
