"""Typed figures in words: what may be said may also be typed."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.phrases.numbers import read_number
from assistant.phrases.typed import in_words
from assistant.spoken import SlotKind


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("measured 1.109", "measured one point one zero nine"),
        (".625", "point six two five"),
        ("0.625 in", "zero point six two five inches"),
        ('0.625"', "zero point six two five inches"),
        ("3 thou", "three thou"),
        ("45", "forty five"),
        ("142 thou", "one hundred and forty two thou"),
        ("1109", "one one zero nine"),
        ("042", "zero four two"),
        ("5/8", "five eighths"),
        ("1/2 inch", "a half inches"),
        ("1-3/8", "one and three eighths"),
        ("1 3/8", "one and three eighths"),
        ("4/8", "a half"),
        ("dial reads 45½", "dial reads forty five and a half"),
        ("140 ½ thou", "one hundred and forty and a half thou"),
        ("½", "a half"),
        ("1⅜ in", "one and three eighths inches"),
        ("13/32", "thirteen thirty seconds"),
        ("8mm", "eight millimeters"),
        ("30.02 mm", "thirty point zero two millimeters"),
        ("29.5°", "twenty nine point five degrees"),
        ("-3 thou", "minus three thou"),
        ("thats through", "that's through"),
        ("Im set", "i'm set"),
        ("M8", "m eight"),
        ("m6x1", "m six by one"),
        ("m10 x 1.25", "m ten by one point two five"),
        # left as they are: they can't be said so
        ("5/7", "5/7"),
        ("9/8", "9/8"),
        ("1/0", "1/0"),
        ("1.2.3", "1.2.3"),
        ("", ""),
    ],
)
def test_typed_figures(typed: str, words: str) -> None:
    assert in_words(typed) == words


@given(st.integers(1, 99_999).map(lambda n: Decimal(n) / 10_000))
def test_a_typed_decimal_is_read_exactly(size: Decimal) -> None:
    readings = read_number(in_words(f"{size:f}"), SlotKind.LENGTH, "inch")
    assert size in [reading.value for reading in readings]


@given(st.integers(1, 63), st.sampled_from([2, 4, 8, 16, 32, 64]), st.integers(0, 12))
def test_a_typed_fraction_is_read_exactly(numerator: int, denominator: int, whole: int) -> None:
    if numerator >= denominator:
        return
    text = f"{whole}-{numerator}/{denominator}" if whole else f"{numerator}/{denominator}"
    readings = read_number(in_words(text), SlotKind.LENGTH, "inch")
    assert whole + Decimal(numerator) / denominator in [reading.value for reading in readings]


@given(st.text())
def test_any_text_is_taken_without_an_error(text: str) -> None:
    assert isinstance(in_words(text), str)
