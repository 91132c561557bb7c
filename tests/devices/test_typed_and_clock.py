"""The keyboard and the clock."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.devices.clock import SetClock, SystemClock
from assistant.devices.typed import TypedWords, typed_words


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("That's through.", "that's through"),
        ("  MEASURED   1.110 ", "measured 1.110"),
        ("cut .375!", "cut .375"),  # not 375
        ("-.003", "-.003"),
        ("-3 thou", "-3 thou"),
        ("forty-one and a half", "forty-one and a half"),
        ("1-1/2", "1-1/2"),
        ('1.5"', "1.5"),
        ("3/8 - ok?", "3/8 ok"),
        ("no, forty five...", "no forty five"),
        ("dial reads ½", "dial reads ½"),
        ("'quoted'", "quoted"),
        ("--- !? ...", ""),
        ("", ""),
        ("\x00\x1b[31mstop\t\n", "31mstop"),
    ],
)
def test_a_line_becomes_words_of_the_book(line: str, words: str) -> None:
    assert typed_words(line) == words


@given(st.text(max_size=60))
def test_any_line_is_read_the_same_twice(line: str) -> None:
    words = typed_words(line)
    assert typed_words(words) == words
    assert words == " ".join(words.split()) == words.casefold()


@given(st.decimals(min_value=-10, max_value=10, places=4))
def test_a_number_keeps_its_sign_point_and_digits(number: object) -> None:
    assert typed_words(f"Measured {number}.") == f"measured {number}"


def test_a_long_line_is_cut() -> None:
    assert len(typed_words("a" * 100_000)) <= 500


def test_lines_are_heard_with_the_clock_s_time() -> None:
    clock = SetClock()
    clock.advance(2.5)
    heard = list(TypedWords(["Touched.", "", "  ", "Three thou"], clock))
    assert [one.words for one in heard] == ["touched", "three thou"]
    assert {(one.engine, one.confidence, one.started, one.ended, one.grammar) for one in heard} == {
        ("typed", 1.0, 2.5, 2.5, "")
    }


def test_the_system_clock_has_a_zone_and_goes_forward() -> None:
    clock = SystemClock()
    assert clock.now().tzinfo is not None
    assert abs(clock.now() - datetime.now(UTC)) < timedelta(seconds=5)
    first = clock.monotonic()
    assert clock.monotonic() >= first


def test_a_set_clock_moves_only_when_told() -> None:
    clock = SetClock()
    start = clock.now()
    clock.advance(60)
    assert clock.now() - start == timedelta(minutes=1)
    clock.set_wall(start - timedelta(days=365))
    assert clock.monotonic() == 60
    with pytest.raises(ValueError, match="forward"):
        clock.advance(-1)
