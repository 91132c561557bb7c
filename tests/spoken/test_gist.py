"""What sentences come down to, however they are said and written."""

from __future__ import annotations

import pytest

from assistant.spoken.gist import load_gist
from assistant.spoken.written import written


@pytest.mark.parametrize(
    ("text", "same"),
    [
        ("one twenty", "120"),
        ("One, two, oh.", "1 2 0"),
        ("one two zero", "1-20"),
        ("twenty five", "25"),
        ("two six eight four four one eight", "268-4418"),
        ("one point one oh nine", "1.109"),
        ("cut forty thou", "Cut 40 thou."),
    ],
)
def test_numbers_compare_however_they_are_written(text: str, same: str) -> None:
    assert written(text) == written(same)


@pytest.mark.parametrize(
    ("one", "other"),
    [("one twenty", "one twelve"), ("forty", "fourteen"), ("one oh", "one"), ("two", "to")],
)
def test_numbers_that_differ_stay_apart(one: str, other: str) -> None:
    assert written(one) != written(other)


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("measured six twenty five", "measure six two five", True),
        ("it's touched", "touching", True),
        ("two over", "two under", False),
        ("left wall five", "right wall five", False),
        ("yes", "no", False),
        ("one and a half", "one and a quarter", False),
        ("three thou", "three tenths", False),
        ("i'm on forty", "forty", False),
        ("i am set", "i'm set", True),
    ],
)
def test_a_gist_keeps_all_that_matters(one: str, other: str, same: bool) -> None:
    gist = load_gist()
    assert (gist(one) == gist(other)) is same


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("i am set", "i'm set", True),
        ("two thousandths over", "two thou over", True),
        ("four two two", "forty two two", False),
        ("oh five", "zero five", False),
    ],
)
def test_as_said_numbers_are_told_apart_by_their_words(one: str, other: str, same: bool) -> None:
    gist = load_gist()
    assert (gist.as_said(one) == gist.as_said(other)) is same
