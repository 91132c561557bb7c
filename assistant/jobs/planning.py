"""From the texts of job and machine to a plan: finds the operation's module and asks it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache
from importlib import import_module
from types import MappingProxyType
from typing import Any, Protocol, cast

from assistant.fields import Fields
from assistant.jobs.common.next_part import without_what_still_holds
from assistant.jobs.common.not_known import with_unknown_backlash_said
from assistant.jobs.common.spindle_states import asked_for
from assistant.jobs.jobfile import Head, read_head
from assistant.jobs.steps import Facts, Plan
from assistant.machine import Machine

OPERATIONS: Mapping[str, str] = MappingProxyType(
    {
        "angle": "assistant.jobs.operations.angle.work",
        "boring-head": "assistant.jobs.operations.boring_head.work",
        "broach": "assistant.jobs.operations.broach.work",
        "centre": "assistant.jobs.operations.centre.work",
        "dovetail": "assistant.jobs.operations.dovetail.work",
        "face": "assistant.jobs.operations.face.work",
        "flats": "assistant.jobs.operations.flats.work",
        "gear": "assistant.jobs.operations.gear.work",
        "keyseat": "assistant.jobs.operations.keyseat.work",
        "holes": "assistant.jobs.operations.holes.work",
        "divide": "assistant.jobs.operations.divide.work",
        "drill": "assistant.jobs.operations.drill.work",
        "tap": "assistant.jobs.operations.tap.work",
        "turn": "assistant.jobs.operations.turn.work",
        "bore": "assistant.jobs.operations.turn.work",
        "thread": "assistant.jobs.operations.thread.work",
        "taper": "assistant.jobs.operations.taper.work",
        "face-lathe": "assistant.jobs.operations.face_lathe.work",
        "part": "assistant.jobs.operations.part.work",
        "knurl": "assistant.jobs.operations.knurl.work",
        "dial-in": "assistant.jobs.operations.dial_in.work",
        "tailstock": "assistant.jobs.operations.tailstock.work",
        "slitting": "assistant.jobs.operations.slitting.work",
        "slot": "assistant.jobs.operations.slot.work",
        "tram": "assistant.jobs.operations.tram.work",
        "tslot": "assistant.jobs.operations.tslot.work",
        "square-block": "assistant.jobs.operations.square_block.work",
        "step": "assistant.jobs.operations.step.work",
        "woodruff": "assistant.jobs.operations.woodruff.work",
    }
)
"""Operation, as a job file names it -> its module."""


class Operation(Protocol):
    """What a module of `jobs/` offers."""

    def read(self, head: Head, fields: Fields) -> Any:
        """The job from its file; `BadFile` for anything wrong in it."""

    def plan(self, job: Any, machine: Machine, facts: Facts) -> Plan:
        """The whole plan from what is known now; `BadInput` where it can't be made."""


def operation(name: str) -> Operation:
    """The module of an operation, loaded when it is first wanted."""
    return cast(Operation, import_module(OPERATIONS[name]))


@lru_cache(maxsize=16)
def read_job(text: str, path: str, *, strict: bool = True) -> tuple[Head, Any]:
    """Head and job of a job file. Kept, since a plan is worked out anew at every fact told; not
    `strict` where it is of a job under way, so that it was taken once."""
    head, fields = read_head(text, path, strict=strict)
    if head.operation not in OPERATIONS:
        fields.refuse("operation", head.operation, "wanted one of " + ", ".join(OPERATIONS))
    job = operation(head.operation).read(head, fields)
    fields.done()
    return head, job


def plan_for(text: str, path: str, machine: Machine, facts: Facts, *, strict: bool = True) -> Plan:
    """The plan of a job on a machine, given what was told so far. Pure.

    Raises `BadFile` for the job file, `BadInput` where job, machine and facts can't go together.
    """
    head, job = read_job(text, path, strict=strict)
    plan = operation(head.operation).plan(job, machine, facts)
    kept = without_what_still_holds(plan, facts)
    asking = replace(kept, steps=asked_for(kept.steps))
    return with_unknown_backlash_said(asking, machine)
