"""The help page on sizes says what the program does."""

from __future__ import annotations

from decimal import Decimal

import pytest

from assistant.phrases.book import PhraseBook
from assistant.phrases.matcher import match
from assistant.spoken import Expected, Heard, Slot, SlotKind, Understood
from assistant.units import magnitude, quantity
from tests.phrases.number_table import SETTLED, Settled
from tests.phrases.numbers_page import PAGE, page


def test_the_page_is_current() -> None:
    # to make it anew: python -m tests.phrases.numbers_page
    assert PAGE.read_text(encoding="utf-8") == page()


@pytest.mark.parametrize("row", SETTLED, ids=lambda row: f"{row.words}, {row.low} to {row.high}")
def test_what_may_mean_two_things(book: PhraseBook, row: Settled) -> None:
    expected = None if row.expected is None else quantity(row.expected, row.unit)
    band = quantity(row.low, row.unit), quantity(row.high, row.unit)
    slot = Slot("size", SlotKind.LENGTH, row.unit, *band, expected)
    said = match(book, [Expected("measured", (slot,))], Heard(row.words))
    if isinstance(said, Understood):
        outcome, intent = "taken", said.intent
    else:
        outcome, intent = said.reason.value, said.candidate
    assert outcome == row.outcome
    assert intent is not None
    value, unit = row.value.split()
    assert magnitude(intent.size("size"), unit) == Decimal(value)
