"""The last of what is told round by round."""

from __future__ import annotations

from assistant.jobs.common.facts import last_told
from assistant.units import inches


def test_the_highest_number_counts_and_not_the_order_or_the_spelling() -> None:
    facts = {"size.10": inches(10), "size.9": inches(9), "size.9.at": inches(0)}
    assert last_told(facts, "size") == (10, inches(10))
    assert last_told(facts, "size", "at") == (9, inches(0))


def test_a_word_or_another_series_is_not_the_last() -> None:
    facts = {"rise.1": inches(1), "rise.2": "skipped", "tee.rise.7": inches(7),
             "rise.x": inches(8), "rise.1.left": inches(9)}  # fmt: skip
    assert last_told(facts, "rise") == (1, inches(1))
    assert last_told(facts, "tee.rise") == (7, inches(7))
    assert last_told(facts, "collar", "head") is None
