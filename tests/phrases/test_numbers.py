"""Words to number: the table, other libraries on the ground they share, and odd input."""

from __future__ import annotations

from decimal import Decimal

import pytest
from num2words import num2words
from text_to_num import text2num

from assistant.errors import BadInput
from assistant.phrases.numbers import FREE, read_number, unit_name
from assistant.phrases.reading import Reading
from assistant.phrases.words import normal
from assistant.spoken import SlotKind
from assistant.units import ureg
from tests.phrases.number_table import TABLE, Row


def shown(reading: Reading) -> str:
    """As the table writes it."""
    text = f"{reading.value.normalize():f} {reading.unit}".strip()
    turns = "" if reading.turns is None else f" after {reading.turns} turns"
    return f"{text}{turns}{' ?' if reading.doubtful else ''}"


def tidy(reading: str) -> str:
    value, _, rest = reading.partition(" ")
    return f"{Decimal(value).normalize():f} {rest}".strip()


@pytest.mark.parametrize("row", TABLE, ids=lambda row: f"{row.kind}-{row.unit}: {row.words}")
def test_readings_of_the_table(row: Row) -> None:
    readings = [shown(reading) for reading in read_number(row.words, row.kind, row.unit)]
    assert readings == [tidy(reading) for reading in row.readings]


def test_a_shop_tenth_is_never_a_tenth_of_an_inch() -> None:
    for words in ("a tenth", "one tenth", "two tenths", "a tenth over", "minus a tenth"):
        for kind in (SlotKind.LENGTH, SlotKind.DEVIATION):
            for unit in ("inch", "mm"):
                for reading in read_number(words, kind, unit):
                    inch = reading.unit == "inch"
                    assert abs(reading.value) <= Decimal("0.0002") if inch else reading.doubtful


def test_integers_as_num2words_says_them() -> None:
    # num2words says "one hundred and forty-two"; text2num reads it back without the hyphen.
    for number in range(1, 1000):
        words = num2words(number)
        (reading,) = read_number(words, SlotKind.COUNT)
        assert reading.value == number == text2num(normal(words), "en")


def test_speeds_as_num2words_says_them() -> None:
    for number in (*range(1000, 10_000, 37), 2000, 9999):
        words = num2words(number).replace(",", "")
        assert [r.value for r in read_number(words, SlotKind.RATE, "rpm")] == [number]
        assert text2num(normal(words), "en") == number


def test_decimals_as_num2words_says_them() -> None:
    for thousandths in range(1, 3000, 7):
        size = Decimal(thousandths) / 1000
        words = num2words(size)
        inches = [r.value for r in read_number(words, SlotKind.LENGTH, "inch")]
        assert inches[0] == size, words  # where other readings follow, they are thou
        assert [r.value for r in read_number(words, SlotKind.LENGTH, "mm")] == [size]


def test_spelling_and_punctuation_do_not_matter() -> None:
    plain = read_number("thirty point oh two millimeters", SlotKind.LENGTH, "inch")
    assert plain == read_number("Thirty point O two, millimetres.", SlotKind.LENGTH, "inch")


def test_units_are_known_by_any_name() -> None:
    feed = ureg.Quantity(Decimal(2), "inch/minute")
    assert unit_name(str(feed.units)) == unit_name("in/min") == "inch/minute"
    assert unit_name("millimeter") == unit_name("mm") == "mm"
    assert unit_name(str(ureg.Quantity(1, "rpm").units)) == "rpm"


@pytest.mark.parametrize("unit", ["furlong", "rpm", "not a unit", "(", "\n"])
def test_a_length_in_no_unit_of_length_is_refused(unit: str) -> None:
    with pytest.raises(BadInput, match="unit"):
        read_number("two", SlotKind.LENGTH, unit)


@pytest.mark.parametrize("kind", [SlotKind.CHOICE, SlotKind.TEXT])
def test_words_hold_no_number(kind: SlotKind) -> None:
    with pytest.raises(BadInput, match="kind"):
        read_number("two", kind, "inch")


@pytest.mark.parametrize(
    ("words", "text"),
    [
        ("nine three seven five", "9375"),
        ("oh four two", "042"),
        ("six sixteen sixty", "61660"),
        ("ten twenty eight sixty nine", "102869"),
        ("one two one five four five eight five four six nine", "12154585469"),
        ("one point one oh nine", "1.109"),
    ],
)
def test_a_free_number_keeps_its_figures(words: str, text: str) -> None:
    assert text in [reading.text for reading in read_number(words, SlotKind.COUNT, FREE)]
