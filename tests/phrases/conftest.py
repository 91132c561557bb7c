"""The project's own phrase book, read once."""

from __future__ import annotations

import pytest

from assistant.phrases.book import PhraseBook, load_book


@pytest.fixture(scope="session")
def book() -> PhraseBook:
    return load_book()
