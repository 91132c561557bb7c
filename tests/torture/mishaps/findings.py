"""How many findings are known of each operation: the numbers may only fall."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from pathlib import Path

from assistant.jobs.operations import OPERATIONS

FILE = Path(__file__).with_name("findings.csv")
COLUMNS = ("sample", "whole")
"""Of the sample that is a test, and of every step of the demo jobs."""


def known(column: str) -> dict[str, int]:
    """The number of each operation. One that isn't in the file begins with none in the sample;
    of the whole none are known of those that weren't counted yet."""
    with FILE.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    begin = dict.fromkeys(OPERATIONS, 0) if column == "sample" else {}
    return begin | {row["operation"]: int(row[column]) for row in rows if row[column]}


def risen(column: str, found: Mapping[str, int]) -> dict[str, tuple[int, int]]:
    """Operations with more findings than are known: known and found."""
    before = known(column)
    return {
        operation: (before[operation], number)
        for operation, number in found.items()
        if operation in before and number > before[operation]
    }


def write(column: str, found: Mapping[str, int], *, also_risen: bool = False) -> None:
    """Write the numbers of these operations down where they have fallen, or weren't counted."""
    before = {name: known(name) for name in COLUMNS}
    rows = []
    for operation in sorted(OPERATIONS):
        row: dict[str, int | str] = {"operation": operation}
        row |= {name: before[name].get(operation, "") for name in COLUMNS}
        if operation in found:
            now, was = found[operation], before[column].get(operation)
            row[column] = now if was is None or now < was or also_risen else was
        rows.append(row)
    with FILE.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, ("operation", *COLUMNS), lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)
