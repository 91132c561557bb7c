"""What the bench makes of the hearings of both ears."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from earbench.both import NAME, both, weighed
from earbench.measure import Hit
from earbench.table import lines


def hit(said: str, words: str, confidence: float) -> Hit:
    return Hit(said, "somebody", words, confidence, "")


def report(first: list[Hit], second: list[Hit]) -> dict[str, Any]:
    def part(hits: list[Hit]) -> dict[str, Any]:
        row = {"corpus": "number sentences", "where": "quiet", "inside": True}
        return {"numbers": {"rows": [{**row, "hits": [asdict(each) for each in hits]}]}}

    return {"moonshine": part(first), "vosk": part(second)}


def test_another_number_of_the_second_ear_has_it_asked_back() -> None:
    one = hit("measured sixteen", "measured sixty", 0.75)
    assert weighed(one, hit("measured sixteen", "measured sixteen", 0.4)).confidence < 0.6
    assert weighed(one, hit("measured sixteen", "", 0.0)).confidence < 0.6
    assert weighed(one, hit("measured sixteen", "measured sixty", 0.4)) is one


def test_a_sure_first_ear_and_plain_commands_stay() -> None:
    sure = hit("measured sixty", "measured sixty", 0.98)
    assert weighed(sure, hit("measured sixty", "measured sixteen", 0.9)) is sure
    plain = hit("touched", "touched", 0.65)
    assert weighed(plain, hit("touched", "stop", 0.9)) is plain


def test_a_number_that_both_heard_is_taken_though_the_first_was_not_sure() -> None:
    one = hit("measured sixteen", "measured sixteen", 0.45)
    assert weighed(one, hit("measured sixteen", "measured sixteen", 0.6)).confidence >= 0.6
    assert weighed(one, hit("measured sixteen", "measured sixteen", 0.4)) is one
    less = hit("measured sixteen", "measured sixteen", 0.35)
    assert weighed(less, hit("measured sixteen", "measured sixteen", 0.9)) is less


def test_only_rows_that_both_heard_are_put_together() -> None:
    said = [hit("measured sixteen", "measured sixty", 0.75), hit("measured two", "measured two", 1)]
    other = [hit("measured sixteen", "measured sixteen", 0.9), said[1]]
    (row,) = both(report(said, other))["numbers"]["rows"]
    assert [Hit(**each).confidence < 0.6 for each in row["hits"]] == [True, False]
    assert both(report(said, other[:1])) == {}
    assert both({"moonshine": report(said, other)["moonshine"]}) == {}


def test_the_table_has_both_ears_beside_each_alone() -> None:
    said = [hit("measured sixteen", "measured sixty", 0.75)]
    told = report(said, [hit("measured sixteen", "measured sixteen", 0.9)])
    for engine in told.values():
        count = {"count": 0}
        names = ("right", "taken", "asked", "refused", "wrong", "wrong_number", "asked_right")
        engine["numbers"]["rows"][0].update(of=1, **dict.fromkeys(names, count))
    text = " ".join("\n".join(lines(told)).split())
    assert f"== {NAME}" in text
    alone, together = text.split(f"== {NAME}")
    # of, heard right, its interval; then taken, asked, refused, wrong, wrong numbers
    assert "number sentences all 1 0.0 % 0.0-79.3 % 0 1 0 0 0" in together
    assert "wrong numbers taken unasked: 0 of 1" in together
    assert NAME not in alone
