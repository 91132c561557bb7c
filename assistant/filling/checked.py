"""What is wrong with a sheet: the word of the file's own reader, put as it was asked."""

from __future__ import annotations

import re
from dataclasses import dataclass

from assistant.errors import BadFile, BadInput
from assistant.filling.said import size_words
from assistant.filling.sheet import Sheet
from assistant.filling.values import read_size
from assistant.jobs.field import Field, Value

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


def fault_in(sheet: Sheet, *, whole: bool = False) -> Fault | None:
    """The first thing that is wrong; None where nothing is. `whole` once all is told: until then
    the file may be half told."""
    try:
        sheet.check(whole=whole)
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
    fields = sheet.fields.values()
    asked = [one for one in fields if not one.gate and one.worked is None]
    holding = [one.key for one in asked if sheet.holds(one)]
    found = sheet.fields.get(key)
    if found is not None and sheet.holds(found):
        return found.source or key  # what is worked out is told anew by what it is worked out of
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


def too_large(sheet: Sheet, one: Field, value: Value | None) -> Fault | None:
    """A size that can't be, beside one that it has to be smaller than."""
    size, most = read_size(value, sheet.unit), sheet.size(one.below)
    if not one.below or size is None or most is None or size < most:
        return None
    named = f"{one.name[:1].upper()}{one.name[1:]}, {size_words(size, sheet.unit)}"
    other = f"the {sheet.fields[one.below].name} is {size_words(most, sheet.unit)}"
    return Fault(one.key, f"{named}: {other}.", missing=False)


def _called(sheet: Sheet, key: str) -> str:
    return f"{key} {sheet.fields[key].name}".lower()


def _words(sheet: Sheet, named: str, bad: BadInput) -> str:
    """The error for the ear: what is meant is named as it was asked for, numbers in few places."""
    key = _field(sheet, named)
    name = sheet.fields[key].name if key else named.replace("_", " ").replace(".", " ")
    value = str(bad.value).strip("'")
    said = "" if value in NOT_YET else f", {value}"
    return _LONG.sub(r"\1", f"{name[:1].upper()}{name[1:]}{said}: {bad.want}.").replace("..", ".")
