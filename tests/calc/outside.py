"""Tables of other projects, read without importing them."""

from __future__ import annotations

import csv
from importlib.metadata import PackageNotFoundError, files
from pathlib import Path

import pytest


def bd_warehouse_rows(name: str) -> list[dict[str, str]]:
    """The rows of a CSV table of bd_warehouse, whose CAD kernel is not needed for it."""
    try:
        found = [file for file in files("bd_warehouse") or [] if file.name == name]
    except PackageNotFoundError:
        pytest.skip("bd_warehouse is not installed: pip install --no-deps bd_warehouse")
    path = Path(str(found[0].locate()))
    with path.open(newline="", encoding="utf-8") as table:
        return list(csv.DictReader(table, skipinitialspace=True))
