"""Work that stands out far, and slender boring bars: cuts no deeper than they stand, or none.

What is asked about and what is cut come from the one depth worked out here. Where even the least
useful cut would spring it too far the job isn't planned: it wants the tailstock, a steady, or to
be held shorter.
"""

from __future__ import annotations

from decimal import ROUND_FLOOR, Decimal
from functools import lru_cache

from assistant.calc.exact import shown, to_step
from assistant.calc.slender import deepest_cut, too_far_out
from assistant.errors import ImpossibleInput
from assistant.jobs.lathe.diameter_job import Diameter
from assistant.jobs.lathe.setup import LatheJob
from assistant.jobs.lathe.speed import Turning, a_turn
from assistant.machine import Machine
from assistant.replacing import replace
from assistant.units import Quantity

Pieces = tuple[tuple[Decimal, Decimal], ...]
"""Length and diameter of each, from the end on."""
GRAIN = {"inch": Decimal("0.001"), "mm": Decimal("0.01")}
"""Depths of cut are told in these: set down to one."""


def stands(
    job: LatheJob, machine: Machine, turning: Turning, wanted: Decimal,
    thin: Pieces, thick: Decimal,
) -> Decimal:  # fmt: skip
    """The deepest cut on one side: `wanted`, or less where the work would spring too far.

    `thin` are length and diameter of what is cut, from the end on; the rest, to the jaws, is
    `thick` in diameter. Raises `ImpossibleInput` where it stands no useful cut.
    """
    most = deepest(job, turning, thin, thick)
    if most is None:
        return wanted
    return _useful(job, machine, wanted, most, "holding.stick_out", _out(job), help_for(job))


@lru_cache(maxsize=32)
def deepest(job: LatheJob, turning: Turning, thin: Pieces, thick: Decimal) -> Decimal | None:
    """The deepest cut on one side that the work stands at its feed; None where it isn't known how
    far it stands out. Raises `ImpossibleInput` where it could whip."""
    out = job.holding.stick_out
    if out is None:
        return None
    pieces, left = [], job.m(out)
    for length, dia in thin:
        pieces.append((min(length, left), dia))
        left -= pieces[-1][0]
    pieces.append((left, thick))
    sizes = [(job.q(length), job.q(dia)) for length, dia in pieces if length > 0]
    held = "tailstock" if job.holding.tailstock else "chuck"
    if job.holding.how == "between centres":
        held = "centres"
    ratio = job.m(out) / min(job.m(dia) for _, dia in sizes)
    if too_far_out(ratio, held, job.holding.steady):
        raise ImpossibleInput(
            "holding.stick_out", _out(job),
            f"{ratio:.0f} diameters with nothing at the end can whip: {help_for(job)}",
        )  # fmt: skip
    return job.m(
        deepest_cut(
            sizes, a_turn(turning.feed), turning.material, held=held, steady=job.holding.steady
        )
    )


@lru_cache(maxsize=16)
def _bar_deepest(job: LatheJob, turning: Turning, bar: Decimal, reach: Decimal) -> Decimal:
    out, feed = ((job.q(reach), job.q(bar)),), a_turn(turning.feed)
    return job.m(deepest_cut(out, feed, turning.material, bends="tool steel"))


def bar_stands(
    job: LatheJob, machine: Machine, turning: Turning, wanted: Decimal, bar: Quantity,
    reach: Quantity,
) -> Decimal:  # fmt: skip
    """The deepest cut on one side that a boring bar stands: `wanted` or less.

    Raises `ImpossibleInput` where it stands no useful one.
    """
    most = _bar_deepest(job, turning, job.m(bar), job.m(reach))
    return _useful(job, machine, wanted, most, "tool.bar_reach", shown(reach),
                   "take a stouter bar, or set it out less")  # fmt: skip


def _useful(
    job: LatheJob, machine: Machine, wanted: Decimal, most: Decimal, field: str, value: str,
    what_helps: str,
) -> Decimal:  # fmt: skip
    found = min(wanted, to_step(most, GRAIN[job.unit], ROUND_FLOOR))
    least = job.m(machine.least_cut)
    if found < min(least, wanted):
        raise ImpossibleInput(
            field, value,
            f"springs too far at the least useful cut, {shown(job.q(least))} a side: {what_helps}",
        )  # fmt: skip
    return found


def _out(job: LatheJob) -> str:
    out = job.holding.stick_out
    return "missing" if out is None else shown(out)


def help_for(job: LatheJob) -> str:
    """What keeps the work from springing, as its job file would say it."""
    if not job.holding.tailstock and not job.holding.steady:
        return "bring up the tailstock (tailstock = true), set a steady, or hold it shorter"
    if not job.holding.steady:
        return "set a steady (steady = true), or hold it shorter"
    return "hold it shorter"


def kept_to(found: Decimal, wanted: Decimal) -> Decimal | None:
    """The deepest cut where it is less than what was wanted: then it is said."""
    return found if found < wanted else None


def lighter(one: Diameter, most: Decimal) -> Diameter:
    """The same diameter with no cut, first or last, deeper than `most` on one side."""
    return replace(
        one,
        max_cut=min(one.max_cut, most),
        clean_up=min(one.clean_up, most * 2),
        finish=min(one.finish, most * 2),
    )
