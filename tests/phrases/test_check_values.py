"""The shop language entries of the check values, heard and said."""

from __future__ import annotations

import tomllib
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from assistant.phrases.numbers import read_number
from assistant.phrases.saying import say_length
from assistant.spoken import SlotKind
from assistant.units import inches, magnitude

FILE = Path(__file__).parents[1] / "reference" / "check_values.toml"
NOT_A_SIZE = {"say.mike"}
"""`mike it` is an order to measure, not a size."""


def entries() -> list[dict[str, Any]]:
    data = tomllib.loads(FILE.read_text(encoding="utf-8"), parse_float=Decimal)
    return [e for e in data["check"] if e["id"].startswith("say.") and e["id"] not in NOT_A_SIZE]


ENTRIES = entries()


def test_there_are_entries() -> None:
    assert len(ENTRIES) >= 12


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry["id"])
def test_shop_language(entry: dict[str, Any]) -> None:
    expected = entry["expected"]
    if "spoken" in entry["inputs"]:
        unit = {"in": "inch"}.get(entry["unit"], entry["unit"])
        readings = read_number(entry["inputs"]["spoken"], SlotKind.LENGTH, unit)
        assert [magnitude(reading.quantity, unit) for reading in readings] == [expected]
    else:
        # `(thou)` is a word that may be left out
        assert say_length(inches(entry["inputs"]["value"])) == expected.replace("(thou)", "thou")
