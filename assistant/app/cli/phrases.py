"""`wheelcall phrases`: the card of what may be said."""

from __future__ import annotations

from pathlib import Path

from assistant.devices.paper import write_pdf
from assistant.phrases.book import load_book
from assistant.present.paper.card import phrase_card
from assistant.present.paper.plain import plain_text


def write_phrases(pdf: Path | None, book: Path | None, paper: str) -> None:
    """Print the card, or write it as PDF for the wall."""
    card = phrase_card(load_book(book))
    if pdf is None:
        print(plain_text(card))
        return
    pages = write_pdf(card, pdf, "a4" if paper == "auto" else paper)
    print(f"{pdf}: {pages} pages")
