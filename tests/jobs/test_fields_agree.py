"""What a form asks is what the reader reads: the same keys, and the same ones needed.

The form declares a field once: key, kind, band, usual, why. The reader takes it out of the file by
its key. Here every reader reads every demo job of its operation as it is and with each field told
otherwise or left out, and what it takes is held against the form.
"""

from __future__ import annotations

import re
from copy import deepcopy
from typing import Any

import pytest

from assistant.app.paths import configs_folder
from assistant.errors import WheelcallError
from assistant.fields import Fields
from assistant.jobs.field import Field, Kind
from assistant.jobs.jobfile import Head, read_head
from assistant.jobs.operation import Operation
from assistant.jobs.operations import OPERATIONS
from assistant.textfile import read_file

EVERY = [pytest.param(one, id=name) for name, one in OPERATIONS.items()]
NOT_ASKED = {
    "holes": {"hole.counterbore.diameter"},
    "drill": {"hole.counterbore.diameter"},  # for a head that no table has
    "tailstock-hole": {"hole.counterbore.diameter"},
    "bore": {"step"},  # refused: only a shaft is stepped
    "thread": {"thread.hand", "thread.starts"},  # one of each is worked yet
    "taper": {"taper.side"},
}
"""Keys of which a person isn't asked: a file may have them."""
BY_THE_WORK = {
    "holes": {"hole.drill"},
    "drill": {"hole.drill"},  # only a reamer gives a drill by the table
    "tailstock-hole": {"hole.drill"},
    "slitting": {"cutter.body"},  # the reader lets it go, and a saw without it is refused
}
"""Keys of which the work decides whether they are needed."""

Table = dict[str, Any]


def jobs_of(operation: str) -> list[tuple[Head, Fields]]:
    found = []
    for path in sorted((configs_folder() / "jobs").glob("*.toml")):
        head, fields = read_head(read_file(path), str(path))
        if head.operation == operation:
            found.append((head, fields))
    return found


def one_of_many(key: str) -> str:
    """`step.0.length` of a form and `step 1.length` of an error are one key: `step.N.length`."""
    return re.sub(r"^(\w+?)s?[ .]\d+(?:\.|: )", r"\1.N.", key)


def put(table: Table, key: str, value: Any) -> None:
    """Set a key, tables and lists of tables made as they are wanted."""
    first, *rest = key.split(".")
    if not rest:
        table[first] = value
    elif rest[0].isdigit():
        entries = table.setdefault(first, [])
        entries += [{} for _ in range(int(rest[0]) + 1 - len(entries))]
        put(entries[int(rest[0])], ".".join(rest[1:]), value)
    else:
        put(table.setdefault(first, {}), ".".join(rest), value)


def drop(table: Table, key: str) -> None:
    *tables, last = key.split(".")
    at: Any = table
    for name in tables:
        if isinstance(at, list):
            at = at[int(name)] if int(name) < len(at) else {}
        else:
            at = at.get(name, {})
    at.pop(last, None)


def values(one: Field) -> list[Any]:
    if one.kind is Kind.YES:
        return [True, False]
    if one.kind is Kind.CHOICE:
        return [] if callable(one.choices) else list(one.choices)
    middle = (one.low + one.high) / 2
    if one.kind is Kind.LENGTH:
        return [f"{middle} in"]
    return [int(middle) if one.kind is Kind.WHOLE else middle]


def variants(operation: Operation, table: Table) -> list[Table]:
    """The file with each field told otherwise, left out, or told by another of several ways."""
    found = [table]
    fields = [one for one in operation.form.fields if not one.gate]
    for one in fields:
        for value in values(one):
            changed = deepcopy(table)
            put(changed, one.key, value)
            found.append(changed)
        without = deepcopy(table)
        drop(without, one.key)
        found.append(without)
    ways = {(key, word) for one in fields for key, words in one.when.items() for word in words}
    for key, word in sorted(ways):
        changed = deepcopy(table)
        for one in fields:
            if key in one.when and word not in one.when[key]:
                drop(changed, one.key)
        for one in fields:
            if word in one.when.get(key, ()):
                for value in values(one)[:1]:
                    put(changed, one.key, value)
        found.append(changed)
    return found


def taken(operation: Operation, monkeypatch: pytest.MonkeyPatch) -> tuple[set[str], set[str]]:
    """The keys that the reader takes, and those that it can't do without in every job."""
    keys: set[str] = set()
    missing: dict[str, int] = {}
    plain, jobs = Fields.take, jobs_of(operation.name)

    def take(self: Fields, key: str, want: str, default: Any = ...) -> Any:
        whole = one_of_many(self.prefix + key)
        keys.add(whole)
        if default is ... and key not in self.table:
            missing[whole] = missing.get(whole, 0) + 1
        return plain(self, key, want, default)

    monkeypatch.setattr(Fields, "take", take)
    for head, fields in jobs:
        for table in variants(operation, dict(deepcopy(fields.table))):
            tried = Fields(fields.path, table)
            tried.used = set(fields.used)
            try:
                operation.read(head, tried)
            except WheelcallError:
                continue  # what can't be is refused; it was read till then
    tables = {key for key in keys if any(each.startswith(f"{key}.") for each in keys)}
    lists = {f"{key}s" for key in tables} | {
        key.partition(".N.")[0] for key in keys if ".N." in key
    }
    return keys - tables - lists - {f"{one}s" for one in lists}, set(missing)


@pytest.mark.parametrize("one", EVERY)
def test_the_reader_takes_what_the_form_asks_and_no_more(one: Operation, monkeypatch):
    asked = {one_of_many(each.key): each for each in one.form.fields if not each.gate}
    keys, missing = taken(one, monkeypatch)
    assert keys - set(asked) == NOT_ASKED.get(one.name, set())
    assert set(asked) - keys == set()
    # what is usual where the file is silent can be left out, and what isn't, can't
    for key, each in asked.items():
        if key in BY_THE_WORK.get(one.name, ()):
            continue
        if each.needed and not each.when and each.offer is None:
            assert key in missing, f"{key} is asked as needed, and the reader does without it"
        if each.usual and not each.when:
            assert key not in missing, f"{key} can't be left out, and is asked as if it could"
