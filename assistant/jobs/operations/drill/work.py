"""One hole drilled to depth, and what is done to it: pilot, pecks, reamer, counterbore, sink."""

from __future__ import annotations

from assistant.fields import Fields
from assistant.jobs.drilling.one_hole import OneHole, plan_one, read_one
from assistant.jobs.jobfile import Head
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Facts
from assistant.machine import Machine


def read(head: Head, fields: Fields) -> OneHole:
    """The job from its file; every error is a `BadFile` that names file, key and value."""
    return read_one(head, fields, "hole")


def plan(job: OneHole, machine: Machine, facts: Facts) -> Plan:
    """The plan on this machine; raises `ImpossibleInput` on one that can't drill so."""
    return plan_one(job, machine, facts, "drilling to depth")
