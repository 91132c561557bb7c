"""The page of licences says of the shipped model what its card says: people are in it, too."""

from __future__ import annotations

import re
from pathlib import Path


def data_of(text: str, heading: str) -> list[str]:
    """The rows of the first table under `heading`."""
    found = re.search(rf"^## {heading}\n+(?:[^|#].*\n+)*((?:\|.*\n)+)", text, re.MULTILINE)
    assert found is not None, heading
    return found[1].splitlines()[2:]


def test_the_page_names_all_that_the_model_was_trained_on(root: Path) -> None:
    """Where this fails, the model was trained anew: `scripts/licences` writes the page."""
    card = (root / "voice_models" / "wheelcall-en-small" / "MODEL_CARD.md").read_text("utf-8")
    page = (root / "assistant" / "help" / "licences.md").read_text("utf-8")
    rows = data_of(card, "Data")
    assert data_of(page, "What the Vosk model was trained on") == rows
    people = next(row for row in rows if "AN4" in row)
    count = people.split("|")[2].strip()
    (line,) = [line for line in page.splitlines() if line.startswith("| wheelcall-en-small")]
    assert f"{count} recordings of people (AN4)" in line
    assert "Copyright (c) 1991-2005 Carnegie Mellon University" in page
    assert "IN NO EVENT SHALL CARNEGIE MELLON" in page
