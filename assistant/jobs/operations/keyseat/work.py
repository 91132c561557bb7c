"""Straight keyseat in a shaft: slotting cutter on a horizontal mill, end mill on a vertical one.

`read` takes the job from its file, `plan` works the whole of it out from what is known now.
"""

from __future__ import annotations

from assistant.errors import ImpossibleInput
from assistant.jobs.operations.keyseat.job import KeyseatJob, check_reach, check_told, read
from assistant.jobs.operations.keyseat.order import whole_plan
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Facts
from assistant.machine import Machine

__all__ = ["plan", "read"]


def plan(job: KeyseatJob, machine: Machine, facts: Facts) -> Plan:
    """The plan on this machine.

    Raises `ImpossibleInput` where cutter and machine don't go together, where the cutter can't
    reach the depth, and where a fact makes the seat impossible.
    """
    end_mill = job.cutter.kind == "end mill"
    wanted = "vertical mill" if end_mill else "horizontal mill"
    if machine.kind != wanted:
        raise ImpossibleInput(
            "machine", f"a {machine.kind}", f"a {job.cutter.kind} wants a {wanted}"
        )
    check_told(job, facts)
    made = whole_plan(job, machine, facts)
    if made.full_depth is not None:
        check_reach(job, made.full_depth)
    return made
