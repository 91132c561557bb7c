"""Fractions of a rule and moves of a dividing head in words."""

from __future__ import annotations

import pytest

from assistant.jobs.steps import Index
from assistant.present.rule_words import fractions_in_words, index_sentence


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Fit the 27/64 drill.", "Fit the twenty seven sixty fourths drill."),
        ("Fit the 1/8 pilot drill.", "Fit the eighth pilot drill."),
        ("11/16.", "Eleven sixteenths."),
        ("Nearest, 1-3/8.", "Nearest, one and three eighths."),
        ("Number 7 drill, for 1/4-20 UNC.", "Number 7 drill, for a quarter-20 UNC."),
        ("Step 3 of 12.", "Step 3 of 12."),
        ("5/7 is no fraction of a rule.", "5/7 is no fraction of a rule."),
    ],
)
def test_fractions(text: str, words: str) -> None:
    assert fractions_in_words(text) == words


@pytest.mark.parametrize(
    ("turns", "holes", "circle", "words"),
    [
        (5, 35, 49, "Five turns and thirty-five holes on the forty-nine circle."),
        (0, 12, 21, "Twelve holes on the twenty-one circle."),
        (1, 1, 15, "One turn and one hole on the fifteen circle."),
        (5, 0, 0, "Five turns."),
    ],
)
def test_indexing(turns: int, holes: int, circle: int, words: str) -> None:
    step = Index(id="i", title="", number=2, of=7, turns=turns, holes=holes, circle=circle)
    assert index_sentence(step) == words
