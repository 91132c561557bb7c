"""What a job may be begun with: machines, the last job, what else the operator can take up."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from assistant.filling.sheet import Sheet, like
from assistant.jobs.operations import OPERATIONS
from assistant.machine import Machine

NEW, OPEN, LAST, DEMO = "new job", "open job", "last job", "the demo"
"""What can be begun where nothing was named."""


@dataclass(frozen=True)
class Earlier:
    """A job that was worked before."""

    title: str
    table: Mapping[str, Any]
    """Its file."""


@dataclass(frozen=True)
class Shop:
    """What there is to choose from."""

    machines: Mapping[str, Machine]
    """By the name of its file, the operator's own before the project's."""
    last: Earlier | None = None
    """The job that was last finished."""
    begin: Mapping[str, str] = field(default_factory=dict)
    """What can be begun, each with a line about it; empty where a new job is asked for."""

    def works(self) -> tuple[str, ...]:
        """The kinds of work that a machine of the shop can do."""
        kinds = {machine.kind for machine in self.machines.values()}
        return tuple(name for name, one in OPERATIONS.items() if kinds & set(one.machines))

    def fitting(self, work: str) -> tuple[str, ...]:
        """The machines that can do it."""
        kinds = OPERATIONS[work].machines
        return tuple(name for name, one in self.machines.items() if one.kind in kinds)

    def sheet(self, work: str, machine: str) -> Sheet:
        """An empty sheet."""
        one = self.machines[machine]
        return Sheet(OPERATIONS[work].form, machine, one.kind, one.unit if one.axes else "")

    def as_last(self) -> Sheet | None:
        """The sheet of the last job; None where there is none, or its machine is gone."""
        if self.last is None:
            return None
        work, machine = (str(self.last.table.get(key)) for key in ("operation", "machine"))
        if work not in OPERATIONS or machine not in self.machines:
            return None
        return like(self.sheet(work, machine), self.last.table)
