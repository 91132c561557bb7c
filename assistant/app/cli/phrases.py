"""`wheelcall phrases`: the card of what may be said."""

from __future__ import annotations

import json
from pathlib import Path

from assistant.devices.paper import write_pdf
from assistant.phrases.book import load_book
from assistant.phrases.entries import Phrases
from assistant.present.paper.card import phrase_card
from assistant.present.paper.plain import plain_text


def write_phrases(
    pdf: Path | None, book: Path | None, paper: str, *, as_json: bool = False
) -> None:
    """Print the card, or write it as PDF for the wall; as JSON, every intent with its phrases."""
    chosen = load_book(book)
    if as_json:
        print(json.dumps([_entry(phrases) for phrases in chosen.intents.values()], indent=1))
        return
    card = phrase_card(chosen)
    if pdf is None:
        print(plain_text(card))
        return
    pages = write_pdf(card, pdf, "a4" if paper == "auto" else paper)
    print(f"{pdf}: {pages} pages")


def _entry(phrases: Phrases) -> dict[str, object]:
    return {
        "intent": phrases.intent,
        "say": [template.text for template in phrases.templates if not template.bare],
        "bare": [template.text for template in phrases.templates if template.bare],
        "examples": list(phrases.examples),
    }
