"""Check values: the whole reference file, and a shop's own."""

from __future__ import annotations

import tomllib
from collections import Counter
from pathlib import Path

import pytest

from assistant.calc import catalogue, checks
from assistant.errors import BadFile

REFERENCE = Path(__file__).parent.parent / "reference" / "check_values.toml"

BESIDES_SPOKEN = {
    "dial.backlash.rule": "a rule of practice, no number",
}
"""Entries that are not answered, besides spoken ones, by name."""


@pytest.fixture(scope="module")
def report() -> checks.Report:
    return checks.check_file(REFERENCE)


@pytest.fixture(scope="module")
def entries() -> dict[str, dict[str, object]]:
    document = tomllib.loads(REFERENCE.read_text(encoding="utf-8"))
    return {entry["id"]: entry for entry in document["check"]}


def test_every_reference_value_agrees(report: checks.Report) -> None:
    """472 values from handbooks, standards and formulas; each names its source."""
    assert [str(difference) for difference in report.failed] == []


def test_what_is_not_answered_is_named_with_its_reason(
    report: checks.Report, entries: dict[str, dict[str, object]]
) -> None:
    left = {
        one.id: one for one in report.not_answered if entries[one.id]["topic"] != "11_shop_language"
    }
    assert set(left) == set(BESIDES_SPOKEN)
    assert len(left) <= 15
    for one in left.values():
        assert one.reason
        assert "formula" not in entries[one.id]


def test_nothing_is_counted_twice_or_lost(
    report: checks.Report, entries: dict[str, dict[str, object]]
) -> None:
    seen = [*report.passed, *report.failed_ids, *(one.id for one in report.not_answered)]
    assert Counter(seen) == Counter(entries.keys())


def test_every_mapped_calculation_exists_and_every_row_is_used() -> None:
    document = tomllib.loads(REFERENCE.read_text(encoding="utf-8"))
    texts = [text for e in document["check"] for text in (e["quantity"], e["id"])]
    for begins, mapped in checks.load_map():
        assert any(text.startswith(begins) for text in texts), begins
        assert mapped.calculation or mapped.reason, begins
        if mapped.calculation:
            catalogue.find(mapped.calculation)


SHOP = """
[[check]]
id = "pump shaft"
calculation = "keyseat"
inputs = { shaft = "1-1/2 in" }
expected = { floor_to_opposite = 1.289, over_key = 1.664 }
tolerance = 0.0005
source = "the shop's own drawing"

[[check]]
id = "table speed"
calculation = "spindle-speed"
inputs = { surface_speed = "90 ft/min", diameter = "1 in" }
expected = 400
tolerance = 1

[[check]]
id = "colour of the coolant"
quantity = "a thing nobody calculates"
inputs = {}
expected = "blue"
"""


def test_a_shop_keeps_its_own_file(tmp_path: Path) -> None:
    path = tmp_path / "shop.toml"
    path.write_text(SHOP, encoding="utf-8")
    report = checks.check_file(path)
    assert report.summary == "1 passed, 1 failed, 1 not answered"
    assert report.passed == ("pump shaft",)
    assert "expected 400" in str(report.failed[0])
    assert "got 343.7" in str(report.failed[0])
    assert "no calculation is mapped" in str(report.not_answered[0])
    assert report.as_json()["summary"] == report.summary


def test_a_wrong_value_and_a_wrong_refusal_are_found(tmp_path: Path) -> None:
    text = REFERENCE.read_text(encoding="utf-8")
    spoilt = text.replace("expected = 1.289\n", "expected = 1.294\n", 1)
    assert spoilt != text
    path = tmp_path / "spoilt.toml"
    path.write_text(spoilt, encoding="utf-8")
    assert checks.check_file(path).failed_ids == ("key_in.S.square.1500",)


@pytest.mark.parametrize(
    ("text", "key"),
    [("not toml [", "line 1"), ("x = 1", "check"), ('[[check]]\nid = "a"', "check 1")],
)
def test_a_file_that_cannot_be_read_says_where(tmp_path: Path, text: str, key: str) -> None:
    path = tmp_path / "bad.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(BadFile) as refusal:
        checks.check_file(path)
    assert refusal.value.key == key


def test_a_missing_file_is_said(tmp_path: Path) -> None:
    with pytest.raises(BadFile, match=r"none\.toml"):
        checks.check_file(tmp_path / "none.toml")
