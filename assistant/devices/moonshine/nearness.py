"""How near two texts are in sound, whichever way their numbers are written."""

from __future__ import annotations

import re
from difflib import SequenceMatcher

from assistant.spoken.written import DIGITS, written

_SOUNDS = (
    ("ough", "ow"), ("gh", ""), ("ph", "f"), ("ck", "k"), ("wh", "w"), ("kn", "n"), ("qu", "kw"),
    ("c", "k"), ("y", "i"), ("z", "s"), ("ee", "i"), ("ea", "i"), ("oo", "u"),
)  # fmt: skip
"""Spellings of one sound, made one: rough, but the same for both texts."""


def nearness(one: str, other: str) -> float:
    """1 where both texts sound the same, 0 where nothing in them does."""
    first, second = _letters(one), _letters(other)
    if not first or not second:
        return 0.0
    return SequenceMatcher(None, first, second, autojunk=False).ratio()


def _letters(text: str) -> str:
    tokens = re.findall(r"[a-z']+|[0-9]", written(text))
    letters = "".join(DIGITS[int(token)] if token.isdigit() else token for token in tokens)
    letters = letters.replace("'", "")
    for spelling, sound in _SOUNDS:
        letters = letters.replace(spelling, sound)
    return re.sub(r"(.)\1", r"\1", letters)
