"""What is wrong with a sheet: the word of the operation's own reader, and of its plan."""

from __future__ import annotations

import re
from dataclasses import dataclass

from assistant.errors import BadFile, BadInput
from assistant.filling.sheet import Sheet
from assistant.jobs.planning import plan_for, read_job
from assistant.machine import Machine

FILE = "this job"
"""Stands for the path of a job that is in no file yet."""
NOT_YET = ("missing", "empty", "neither")
"""Values of errors about what isn't told yet."""
_LONG = re.compile(r"(\d+\.\d{4})\d+")
_TABLE = re.compile(r"(\w[\w ]*) (\d+)[:.] ?(\w+)$")


@dataclass(frozen=True)
class Fault:
    """What can't be, and the field that is to be told anew."""

    key: str
    """Of a field of the sheet; '' where the error names none."""
    text: str
    missing: bool
    """Whether it is only that something isn't told."""


def fault_in(sheet: Sheet, machine: Machine | None = None) -> Fault | None:
    """The first thing that is wrong; None where nothing is.

    Without a machine the file alone is read, which may be half told.
    """
    text = sheet.text
    try:
        read_job(text, FILE)
        if machine is not None:
            plan_for(text, FILE, machine, {})
    except BadInput as bad:
        named = bad.key if isinstance(bad, BadFile) else bad.field
        missing = str(bad.value) in NOT_YET and isinstance(bad, BadFile)
        return Fault(_field(sheet, named), _words(sheet, named, bad), missing)
    return None


def _field(sheet: Sheet, named: str) -> str:
    """The field that an error means: by its key, else by the last part of it, else by the words
    that both have, what was told last before what was told first."""
    key = re.sub(r":? +", ".", named.replace(": ", ".").strip())
    table = _TABLE.match(named)  # `step 2: length` is the second [[step]]
    if table is not None:
        key = f"{table[1]}.{int(table[2]) - 1}.{table[3]}"
    holding = [one.key for one in sheet.fields.values() if sheet.holds(one) and not one.gate]
    if key in holding:
        return key
    told = [one for one in sheet.told if one in holding][::-1]
    rest = [*told, *(one for one in holding if one not in told)]
    last = key.rsplit(".", 1)[-1]
    for one in rest:
        if one.rsplit(".", 1)[-1] == last:
            return one
    words = set(re.findall(r"[a-z]+", named.lower()))
    shared = {one: len(words & set(re.findall(r"[a-z]+", _called(sheet, one)))) for one in rest}
    best = max(shared, key=lambda one: shared[one], default="")
    return best if best and shared[best] else ""


def _called(sheet: Sheet, key: str) -> str:
    return f"{key} {sheet.fields[key].name}".lower()


def _words(sheet: Sheet, named: str, bad: BadInput) -> str:
    """The error for the ear: what is meant is named as it was asked for, numbers in few places."""
    key = _field(sheet, named)
    name = sheet.fields[key].name if key else named.replace("_", " ").replace(".", " ")
    value = str(bad.value).strip("'")
    said = "" if value in NOT_YET else f", {value}"
    return _LONG.sub(r"\1", f"{name[:1].upper()}{name[1:]}{said}: {bad.want}.").replace("..", ".")
