"""From the texts of job and machine to a plan: finds the operation and asks it."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from assistant.jobs.common.next_part import without_what_still_holds
from assistant.jobs.common.not_known import with_unknown_backlash_said
from assistant.jobs.common.spindle_states import asked_for
from assistant.jobs.jobfile import Head, read_head
from assistant.jobs.operations import OPERATIONS
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Facts
from assistant.machine import Machine
from assistant.replacing import replace


@lru_cache(maxsize=16)
def read_job(text: str, path: str, *, strict: bool = True) -> tuple[Head, Any]:
    """Head and job of a job file. Kept, since a plan is worked out anew at every fact told; not
    `strict` where it is of a job under way, so that it was taken once."""
    head, fields = read_head(text, path, strict=strict)
    if head.operation not in OPERATIONS:
        known = "wanted one of " + ", ".join(sorted(OPERATIONS))
        fields.refuse("operation", head.operation, OPERATIONS.broken.get(head.operation, known))
    job = OPERATIONS[head.operation].read(head, fields)
    fields.done()
    return head, job


def plan_for(text: str, path: str, machine: Machine, facts: Facts, *, strict: bool = True) -> Plan:
    """The plan of a job on a machine, given what was told so far. Pure.

    Raises `BadFile` for the job file, `BadInput` where job, machine and facts can't go together.
    """
    head, job = read_job(text, path, strict=strict)
    operation = OPERATIONS[head.operation]
    plan = operation.plan(job, machine, facts)
    kept = without_what_still_holds(plan, facts, operation.stays)
    asking = replace(kept, steps=asked_for(kept.steps))
    return with_unknown_backlash_said(asking, machine)
