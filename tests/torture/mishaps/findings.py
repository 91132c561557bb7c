"""How many findings are known of each operation: the numbers may only fall."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from pathlib import Path

from assistant.jobs.planning import OPERATIONS

FILE = Path(__file__).with_name("findings.csv")
COLUMNS = ("sample", "whole")
"""Of the sample that is a test, and of every step of the demo jobs."""


def known(column: str) -> dict[str, int]:
    """The number of each operation."""
    with FILE.open(encoding="utf-8", newline="") as file:
        return {row["operation"]: int(row[column]) for row in csv.DictReader(file)}


def risen(column: str, found: Mapping[str, int]) -> dict[str, tuple[int, int]]:
    """Operations with more findings than are known: known and found."""
    before = known(column)
    return {
        operation: (before.get(operation, 0), number)
        for operation, number in found.items()
        if number > before.get(operation, 0)
    }


def write(column: str, found: Mapping[str, int], *, also_risen: bool = False) -> None:
    """Write the numbers down where they have fallen."""
    rows = []
    for operation in sorted(OPERATIONS):
        row: dict[str, int | str] = {"operation": operation}
        for name in COLUMNS:
            row[name] = known(name).get(operation, 0) if FILE.exists() else 0
        now = found.get(operation, 0)
        if now < int(row[column]) or also_risen:
            row[column] = now
        rows.append(row)
    with FILE.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, ("operation", *COLUMNS), lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)
