"""The form of a machine: every question, in the order of a walk round it."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import chain

from assistant.filling.machines.axes import AXES, axis_fields
from assistant.filling.machines.gearbox import closing_fields, gearbox_fields
from assistant.filling.machines.naming import names, over_field
from assistant.jobs.field import Field, Form, pick
from assistant.machine import KINDS

MACHINE = "new machine"
"""Stands where a job's form has its operation."""


def machine_form(taken: Mapping[str, str]) -> Form:
    """The form, `taken` being the files that there are: name -> what is said of it."""
    every_axis = dict.fromkeys(chain.from_iterable(AXES.values()))
    fields: tuple[Field, ...] = (
        pick("kind", "kind", "What kind of machine is it?",
             "Its handwheels go by it.", tuple(sorted(KINDS, key=_by_use))),
        pick("unit", "unit", "Are its dials in inches, or in millimetres?",
             "What is said and shown. One odd dial may be in the other.", ("inch", "mm")),
        *names(taken),
        over_field(taken),
        *chain.from_iterable(axis_fields(axis) for axis in every_axis),
        *gearbox_fields(),
        *closing_fields(),
    )  # fmt: skip
    return Form(MACHINE, "Machine", (), "name", fields, cuts=False, last="Begin a job now?")


def _by_use(kind: str) -> int:
    """Those with handwheels first."""
    order = list(AXES)
    return order.index(kind) if kind in order else len(order)
