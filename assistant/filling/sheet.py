"""The sheet that is filled in: what was told, what is usual, what is still to be asked."""

from __future__ import annotations

import copy
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any

from assistant.filling.head import around
from assistant.filling.values import as_toml, at, drop, fits, put, read_size, written_size
from assistant.jobs.field import Field, Form, Kind, Value
from assistant.jobs.jobfile import UNITS
from assistant.units import Quantity

YES, NO = "yes", "no"


@dataclass(frozen=True)
class Sheet:
    """One job as far as it is told. `Known` for the offers of its fields.

    A key told as None was left out on purpose: it is not asked again.
    """

    form: Form
    machine: str
    """Name of the machine's file."""
    machine_kind: str
    machine_unit: str
    """What its dials are marked in; '' for a press, which has none."""
    told: Mapping[str, Value | None] = field(default_factory=dict)
    """By the field's key, in the order in which they were told."""
    declined: frozenset[str] = frozenset()
    """Fields whose offer was not wanted."""
    base: Mapping[str, Any] = field(default_factory=dict)
    """The table of the job that this one is like; what no field asks for is kept of it."""

    @property
    def unit(self) -> str:
        """`inch` or `mm`."""
        return UNITS.get(str(self.told.get("unit")), self.machine_unit or "inch")

    @cached_property
    def fields(self) -> Mapping[str, Field]:
        """Every field, by its key, in the order in which they are asked."""
        whole = around(self.form.fields, cuts=self.form.cuts, dials=bool(self.machine_unit))
        return {one.key: one for one in whole}

    # -- what is known ------------------------------------------------------------------------

    def size(self, key: str) -> Quantity | None:
        """A size that was told, or is offered and taken unasked."""
        one = self.fields.get(key)
        value = None if one is None or not self.holds(one) else self.value(one)
        return read_size(value, self.unit)

    def word(self, key: str) -> str:
        """What a field is, in a word: as told, else as it is usual; '' where it isn't asked."""
        one = self.fields.get(key)
        if one is None or not self.holds(one):
            return ""
        value = self.value(one)
        if value is None:
            return one.usual
        return (YES if value else NO) if isinstance(value, bool) else str(value)

    def holds(self, one: Field) -> bool:
        """Whether a field belongs to this job, by what was told before."""
        return all(self.word(key) in words for key, words in one.when.items())

    def offered(self, one: Field) -> tuple[Quantity | int | str, ...]:
        """What is offered for a field; nothing where that was not wanted."""
        if one.offer is None or one.key in self.declined:
            return ()
        return one.offer(self)

    def value(self, one: Field) -> Value | None:
        """What a field is, as the file has it: as told, else what is taken unasked."""
        if one.key in self.told:
            return self.told[one.key]
        if one.offer is None:
            return None
        found = self.offered(one)
        if one.kind is Kind.YES:  # without a standard there is nothing to say yes to
            return None if found else False
        return self.of_offer(one) if one.aside and found else None

    def of_offer(self, one: Field) -> Value | None:
        """What is offered, as the file has it."""
        found = self.offered(one)
        if not found:
            return None
        if one.kind is Kind.YES:
            return True
        first = found[0]
        return first if isinstance(first, str | int) else written_size(first)

    # -- what is asked ------------------------------------------------------------------------

    def asked(self, *, more: bool) -> Iterator[Field]:
        """The fields of this job that a person is asked, in order."""
        for one in self.fields.values():
            nothing_offered = one.gate and one.offer is not None and not self.offered(one)
            if self.holds(one) and (more or not one.aside) and not nothing_offered:
                yield one

    def open(self, *, more: bool) -> Field | None:
        """The next one that wasn't told yet; None where all were."""
        return next((one for one in self.asked(more=more) if one.key not in self.told), None)

    def tell(self, key: str, value: Value | None) -> Sheet:
        """With a field told; told anew it keeps its place in the order."""
        return replace(self, told={**self.told, key: value})

    def untell(self, key: str) -> Sheet:
        """Without what was told for a field, and with its offer made anew."""
        told = {one: value for one, value in self.told.items() if one != key}
        return replace(self, told=told, declined=self.declined - {key})

    # -- what comes of it ---------------------------------------------------------------------

    def table(self) -> dict[str, Any]:
        """The job file as a table."""
        made = copy.deepcopy(dict(self.base))
        for one in self.fields.values():
            drop(made, one.key)
        head = {
            "title": self.title, "operation": self.form.operation, "machine": self.machine,
            "unit": self.unit,
        }  # fmt: skip
        made = {**head, **{key: value for key, value in made.items() if key not in head}}
        for one in self.fields.values():
            value = self.value(one) if self.holds(one) and not one.gate else None
            if value is not None:
                put(made, one.key, value)
        return made

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
    def text(self) -> str:
        """The job file."""
        return as_toml(self.table())


def like(sheet: Sheet, table: Mapping[str, Any]) -> Sheet:
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


def _gate(sheet: Sheet, gate: Field, told: Mapping[str, Value | None]) -> Value | None:
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
