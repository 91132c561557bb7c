"""Woodruff keyseat: the cutter of the key's number, raised straight into the shaft.

On a horizontal mill the knee raises the shaft into the cutter; on a vertical mill, where the
cutter lies flat, the saddle carries the shaft's side into it. The table is never fed: the seat
is as long as the cutter makes it.
"""

from __future__ import annotations

from assistant.calc import woodruff
from assistant.errors import ImpossibleInput
from assistant.jobs.milling import mill
from assistant.jobs.milling.mill import MillCutter
from assistant.jobs.operations.woodruff.job import WoodruffJob, read
from assistant.jobs.operations.woodruff.order import Work
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Facts
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.units import Quantity, quantity


def plan(job: WoodruffJob, machine: Machine, facts: Facts) -> Plan:
    """The plan; `ImpossibleInput` where the stem would rub, or the seat can't be."""
    mill.wanted_machine(machine, ("horizontal mill", "vertical mill"), "a Woodruff cutter")
    made = Work(job, machine, facts)
    clearance = _stem(job.cutter, made)
    setting = mill.speed_of(job, machine, facts, made.depth.name)
    work = made.work
    stands = Figure(
        job.q(made.key_height - work.aim), "key above the shaft", mill.size_places(job.unit),
        (Term("key", job.q(made.key_height)), Term("depth", job.q(work.aim), -1)),
        source=made.seat.source,
    )  # fmt: skip
    results: list[tuple[str, Figure]] = [
        (made.sizing.what, made.sizing.figure),
        ("full depth", work.aim_figure),
        ("depth at the side", Figure(made.seat.side_depth.nominal, "depth at the side wall",
                                     source=made.seat.source)),
        ("chordal height", Figure(made.seat.chordal_height, "chordal height",
                                  source="geometry")),
        ("side to centre", made.centre_figure),
        ("end to the seat", made.along_figure),
        ("key above the shaft", stands),
        ("speed", setting.speed),
        ("feed", setting.feed),
    ]  # fmt: skip
    if clearance is not None:
        results.append(("stem clearance", clearance))
    width, across = _size(job, job.key.width), _size(job, job.key.diameter)
    key = f"Key {job.key.name}: cutter {width} by {across}."
    return Plan(
        title=job.head.title,
        operation="woodruff",
        unit=job.unit,
        steps=tuple(made.steps()),
        results=tuple(results),
        sources=tuple(dict.fromkeys(figure.source for _, figure in results if figure.source)),
        answers=(("what_cutter", key), ("key_stands", stands)),
        depth_axis=made.depth.name,
        full_depth=job.q(work.aim),
        drawing=(
            ("shaft", job.q(made.shaft)),
            ("cutter", job.cutter.diameter),
            ("depth_full", job.q(work.aim)),
            ("key_over", stands.value),
        ),
        drawing_kind="woodruff",
    )


def _size(job: WoodruffJob, size: Quantity) -> str:
    return f"{job.m(size).normalize():f}"


def _stem(cutter: MillCutter, made: Work) -> Figure | None:
    """What is left between stem and shaft at full depth."""
    if cutter.body is None:
        return None
    depth = quantity(made.work.aim, made.job.unit)
    left = woodruff.stem_clearance(cutter.diameter, cutter.body, depth)
    if left.magnitude <= 0:
        raise ImpossibleInput(
            "cutter stem", f"{made.job.m(cutter.body):.3f} {made.job.unit}",
            f"rubs before the seat is {made.work.aim:.3f} deep: wanted a thinner stem",
        )  # fmt: skip
    return Figure(left, "stem clear of the shaft", 3,
                  (Term("half the cutter", cutter.diameter / 2),
                   Term("half the stem", cutter.body / 2, -1), Term("depth", depth, -1)),
                  source="common practice")  # fmt: skip


__all__ = ["plan", "read"]
