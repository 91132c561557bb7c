"""What may be begun, and with what: machines, the last job, what else the operator can take up."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from assistant.filling.job_sheet import JobSheet, like
from assistant.filling.machines.form import MACHINE, machine_form
from assistant.filling.machines.sheet import MachineSheet
from assistant.filling.sheet import Sheet
from assistant.jobs.operations import OPERATIONS
from assistant.machine import Machine

NEW, OPEN, LAST, DEMO = "new job", "open job", "last job", "the demo"
NEW_MACHINE = MACHINE
FREE = "free moves"
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
    taken: Mapping[str, str] = field(default_factory=dict)
    """Names that a new machine's file can't have unasked, each with what is said of it."""

    def works(self) -> tuple[str, ...]:
        """The kinds of work that a machine of the shop can do."""
        kinds = {machine.kind for machine in self.machines.values()}
        return tuple(name for name, one in OPERATIONS.items() if kinds & set(one.machines))

    def fitting(self, work: str) -> tuple[str, ...]:
        """The machines that can do it."""
        kinds = OPERATIONS[work].machines
        return tuple(name for name, one in self.machines.items() if one.kind in kinds)

    def with_handwheels(self) -> tuple[str, ...]:
        """The machines on which anything is moved by hand."""
        return tuple(name for name, one in self.machines.items() if one.axes)

    def sheet(self, work: str, machine: str = "") -> Sheet:
        """An empty sheet; of a new machine where `work` is that. A `KeyError` for a work or a
        machine that there isn't."""
        if work == NEW_MACHINE:
            return MachineSheet(machine_form(self.taken))
        return self.job_sheet(work, machine)

    def job_sheet(self, work: str, machine: str) -> JobSheet:
        """An empty sheet of a job."""
        return JobSheet(OPERATIONS[work].form, machine=machine, on=self.machines[machine])

    def as_last(self) -> JobSheet | None:
        """The sheet of the last job; None where there is none, or its machine is gone."""
        if self.last is None:
            return None
        work, machine = (str(self.last.table.get(key)) for key in ("operation", "machine"))
        if work not in OPERATIONS or machine not in self.machines:
            return None
        return like(self.job_sheet(work, machine), self.last.table)
