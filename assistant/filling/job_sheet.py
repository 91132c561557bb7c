"""The sheet of a job: its machine, its head, and the word of its operation's own reader."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from assistant.filling.head import around
from assistant.filling.sheet import YES, Sheet
from assistant.filling.values import at, fits
from assistant.jobs.field import Field, Kind, Value
from assistant.jobs.jobfile import UNITS
from assistant.jobs.planning import plan_for, read_job
from assistant.machine import NO_MACHINE, Machine

FILE = "this job"
"""Stands for the path of a job that is in no file yet."""


@dataclass(frozen=True)
class JobSheet(Sheet):
    """One job as far as it is told."""

    machine: str = ""
    """Name of the machine's file."""
    on: Machine = NO_MACHINE
    """The machine itself."""

    @property
    def unit(self) -> str:
        """The job's; that of the dials where it isn't told."""
        dials = self.on.unit if self.on.axes else "inch"
        return UNITS.get(str(self.told.get("unit")), dials)

    @property
    def machine_kind(self) -> str:
        """What sort of machine it is for."""
        return self.on.kind

    def every_field(self) -> tuple[Field, ...]:
        """The form's own, and those of every job."""
        return around(self.form.fields, cuts=self.form.cuts, dials=bool(self.on.axes))

    def head(self) -> Mapping[str, Value]:
        """What every job begins with."""
        return {
            "title": self.title, "operation": self.form.operation, "machine": self.machine,
            "unit": self.unit,
        }  # fmt: skip

    def check(self, *, whole: bool) -> None:
        """The operation's reader, and once all is told the plan; raises `BadInput`."""
        text = self.text
        read_job(text, FILE)
        if whole:
            plan_for(text, FILE, self.on, {})

    @property
    def title(self) -> str:
        """As told, else what is made and the size that tells two such jobs apart."""
        told = self.told.get("title")
        if isinstance(told, str) and told.strip():
            return told
        main = self.form.field(self.form.main)
        size = None if main is None else self.value(main)
        if size is None:
            return self.form.called
        return f"{self.form.called}, {str(size).replace(' in', ' inch')}"  # a voice says it, too

    @property
    def heading(self) -> str:
        """The work, and where it is done."""
        return f"{self.form.called} on the {self.machine.replace('-', ' ')}"


def like(sheet: JobSheet, table: Mapping[str, Any]) -> JobSheet:
    """`sheet` with what the table of a job file tells. What no field asks for is kept as it is."""
    told: dict[str, Value | None] = {}
    for one in sheet.fields.values():
        found = at(table, one.key)
        if not one.gate and fits(one.kind, found):
            told[one.key] = found  # type: ignore[assignment]
    for one in sheet.fields.values():
        if one.gate and (answer := _gate(sheet, one, told)) is not None:
            told[one.key] = answer
    order = {
        key: told.get(key) for key, one in sheet.fields.items() if key in told or not one.aside
    }
    return replace(sheet, told=order, base=table)


def _gate(sheet: JobSheet, gate: Field, told: Mapping[str, Value | None]) -> Value | None:
    """Which answer to a question that is in no file leads to all that the file tells."""
    there = [
        words
        for one in sheet.fields.values()
        if (words := one.when.get(gate.key))
        and (_gate(sheet, one, told) not in (None, False) if one.gate else one.key in told)
    ]
    if not there:
        return None
    word = next((word for word in there[0] if all(word in each for each in there)), there[0][0])
    return word == YES if gate.kind is Kind.YES else word
