"""Published tables: CSV files in `calc/tables/`, each row with its own `source`."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from functools import cache
from importlib import resources

Row = Mapping[str, str]


@cache
def rows(name: str) -> tuple[Row, ...]:
    """All rows of `calc/tables/NAME.csv` as text by column; lines that begin with # are notes."""
    path = resources.files("assistant.calc") / "tables" / f"{name}.csv"
    lines = path.read_text(encoding="utf-8").splitlines()
    return tuple(csv.DictReader(line for line in lines if not line.startswith("#")))
