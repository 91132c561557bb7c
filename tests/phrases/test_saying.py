"""Number to words, and back: what is said is read as the same number, and as no other near it."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from num2words import num2words

from assistant.phrases.numbers import read_number
from assistant.phrases.saying import (
    say_angle,
    say_deviation,
    say_length,
    say_plain,
    say_rate,
    say_reading,
    say_turn_count,
    say_turns,
)
from assistant.phrases.words import normal
from assistant.spoken import SlotKind
from assistant.units import Quantity, inches, magnitude, mm, quantity
from tests.phrases.number_table import SAID_IN_INCHES, SAID_IN_MM


@pytest.mark.parametrize(("size", "words"), SAID_IN_INCHES.items())
def test_inches_as_the_shop_says_them(size: str, words: str) -> None:
    assert say_length(inches(size)) == words


@pytest.mark.parametrize(("size", "words"), SAID_IN_MM.items())
def test_millimetres(size: str, words: str) -> None:
    assert say_length(mm(size)) == words


def test_the_unit_can_be_chosen() -> None:
    assert say_length(mm("25.4"), "inch") == "one inch"
    assert say_length(inches(1), "mm") == "twenty-five point four millimetres"
    assert say_length(quantity(3, "thou")) == "three thou"


def test_finer_than_can_be_said_is_rounded_not_refused() -> None:
    assert say_length(inches(Decimal(1) / 3)) == "point three three three three three inches"
    assert say_length(mm(Decimal(1) / 3)) == "point three three three three millimetres"


def the_one_near(words: str, kind: SlotKind, unit: str, size: Quantity) -> list[Decimal]:
    """The readings within a factor of two of the size."""
    value = magnitude(size, unit)
    found = [magnitude(reading.quantity, unit) for reading in read_number(words, kind, unit)]
    low, high = sorted((value / 2, value * 2))
    return [reading for reading in found if low <= reading <= high]


tenths_of_thou = st.integers(1, 99_999).map(lambda n: Decimal(n) / 10_000)
quarters_of_thou = st.integers(1, 39_999).map(lambda n: Decimal(n) / 4_000)
micrometres = st.integers(1, 999_999).map(lambda n: Decimal(n) / 1000)


@given(tenths_of_thou | quarters_of_thou)
@example(Decimal("0.9405"))
@example(Decimal("9.9999"))
def test_inches_there_and_back(value: Decimal) -> None:
    size = inches(value)
    assert the_one_near(say_length(size), SlotKind.LENGTH, "inch", size) == [value]


@given(tenths_of_thou)
def test_below_zero_there_and_back(value: Decimal) -> None:
    (reading,) = read_number(say_length(inches(-value)), SlotKind.LENGTH, "inch")
    assert reading.value == -value


@given(micrometres)
def test_millimetres_there_and_back(value: Decimal) -> None:
    assert [r.value for r in read_number(say_length(mm(value)), SlotKind.LENGTH, "mm")] == [value]
    assert [r.value for r in read_number(say_length(mm(value)), SlotKind.LENGTH, "inch")] == [value]


@given(st.integers(0, 9_990).map(lambda n: Decimal(n) / 10_000), st.integers(0, 60))
def test_dials_in_inches_there_and_back(value: Decimal, turns: int) -> None:
    words = say_turns(turns, inches(value))
    (reading,) = read_number(words, SlotKind.READING, "inch")
    assert reading.value == value
    assert (reading.turns or 0) == turns


@given(st.integers(0, 9_990).map(lambda n: Decimal(n) / 1000), st.integers(0, 60))
def test_dials_in_millimetres_there_and_back(value: Decimal, turns: int) -> None:
    (reading,) = read_number(say_turns(turns, mm(value)), SlotKind.READING, "mm")
    assert reading.value == value
    assert (reading.turns or 0) == turns


@given(st.integers(-999, 999).map(lambda n: Decimal(n) / 10_000))
def test_over_and_under_in_inches(value: Decimal) -> None:
    (reading,) = read_number(say_deviation(inches(value)), SlotKind.DEVIATION, "inch")
    assert (reading.value, reading.unit) == (value, "inch")


@given(st.integers(-999, 999).map(lambda n: Decimal(n) / 1000))
def test_over_and_under_in_millimetres(value: Decimal) -> None:
    (reading,) = read_number(say_deviation(mm(value)), SlotKind.DEVIATION, "mm")
    assert (reading.value, reading.unit) == (value, "mm")


@given(st.integers(1, 399).map(lambda n: Decimal(n) / 4))
def test_turns_there_and_back(turns: Decimal) -> None:
    (reading,) = read_number(say_turn_count(turns), SlotKind.TURNS)
    assert reading.value == turns


@given(st.integers(1, 9999))
def test_speeds_there_and_back(speed: int) -> None:
    (reading,) = read_number(say_rate(Decimal(speed)), SlotKind.RATE, "rpm")
    assert reading.value == speed


@given(st.integers(1, 3999).map(lambda n: Decimal(n) / 40))
def test_feeds_there_and_back(feed: Decimal) -> None:
    words = say_rate(quantity(feed, "inch/minute"))
    (reading,) = read_number(words, SlotKind.RATE, "inch/minute")
    assert reading.value == feed


@given(st.integers(60, 89 * 60))
def test_angles_there_and_back(minutes: int) -> None:
    words = say_angle(quantity(minutes, "arcminute"))
    (reading,) = read_number(words, SlotKind.ANGLE)
    assert magnitude(reading.quantity, "arcminute").quantize(Decimal("0.0001")) == minutes


@pytest.mark.parametrize(
    ("said", "words"),
    [
        (say_turns(4, inches("0.1405")), "four turns and one forty and a half"),
        (say_turns(2, inches("0.011")), "two turns and eleven"),
        (say_turns(10), "ten turns"),
        (say_turns(1, inches(0)), "one turn"),
        (say_turns(0, inches("0.077")), "seventy-seven"),
        (say_reading(inches("0.017")), "seventeen"),
        (say_reading(mm("1.42")), "one point four two"),
        (say_reading(mm(2)), "two millimetres"),
        (say_turn_count(Decimal("0.5")), "half a turn"),
        (say_turn_count(Decimal("2.25")), "two and a quarter turns"),
        (say_deviation(inches("0.002")), "two over"),
        (say_deviation(inches("-0.0015")), "one and a half under"),
        (say_deviation(mm("0.05")), "five hundredths over"),
        (say_deviation(inches(0)), "on size"),
        (say_rate(Decimal(180)), "one eighty"),
        (say_rate(Decimal(1200)), "twelve hundred"),
        (say_rate(Decimal("2.25")), "two and a quarter"),
        (say_angle(quantity("29.5", "degree")), "twenty-nine and a half degrees"),
        (say_plain(Decimal("-2.5")), "minus two point five"),
    ],
)
def test_other_sayings(said: str, words: str) -> None:
    assert said == words


@pytest.mark.parametrize("number", [0, 7, 13, 40, 99, 100, 101, 342, 999, 1000, 1250, 4005])
def test_plain_numbers_as_num2words_says_them(number: int) -> None:
    theirs = normal(num2words(number))
    assert normal(say_plain(Decimal(number))) == theirs


@pytest.mark.parametrize(
    "say",
    [say_length, say_reading, say_deviation],
    ids=lambda say: say.__name__,
)
@given(st.integers(-99_999, 99_999))
def test_only_words_are_said(say: Callable[[Quantity], str], value: int) -> None:
    for size in (inches(Decimal(value) / 10_000), mm(Decimal(value) / 1000)):
        assert say(size).replace(" ", "").replace("-", "").isalpha()
