"""How near two texts are in sound, whichever way their numbers are written."""

from __future__ import annotations

import re
from difflib import SequenceMatcher

_DIGITS = ("oh", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
_TEENS = (
    "ten", "eleven", "twelve", "thirteen", "fourteen",
    "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
)  # fmt: skip
_TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_FIGURES = {
    **{word: str(number) for number, word in enumerate(_DIGITS)},
    **{word: str(number) for number, word in enumerate(_TEENS, 10)},
    **{word: str(number) for number, word in zip(range(20, 100, 10), _TENS, strict=True)},
    "zero": "0",
    "nought": "0",
    "o": "0",
}


def written(text: str) -> str:
    """`text` with its number words in figures, no punctuation, nothing between figures.

    Sentences that differ only in how a number is said ("one twenty", "one two oh") are written
    the same; so are most of what the model writes for one number ("1-20", "120.").
    """
    out: list[str] = []
    for token in re.findall(r"[a-z']+|[0-9]|\.(?=[0-9])", text.lower()):
        token = "point" if token == "." else token
        figures = _FIGURES.get(token, token)
        tens = bool(out) and len(out[-1]) == 2 and out[-1][1] == "0" and out[-1][0] in "23456789"
        if tens and len(figures) == 1 and figures in "123456789":
            out[-1] = out[-1][0] + figures
        else:
            out.append(figures)
    joined = " ".join(out)
    return re.sub(r"(?<=[0-9]) (?=[0-9])", "", joined)


def _sounds(text: str) -> str:
    """The letters of `text` with figures as words, some spellings of one sound made one."""
    words = []
    for token in re.findall(r"[a-z']+|[0-9]", written(text)):
        words.append(_DIGITS[int(token)] if token.isdigit() else token)
    letters = "".join(words).replace("'", "")
    for spelling, sound in (
        ("ough", "ow"), ("gh", ""), ("ph", "f"), ("ck", "k"), ("wh", "w"), ("kn", "n"),
        ("qu", "kw"), ("c", "k"), ("y", "i"), ("z", "s"), ("ee", "i"), ("ea", "i"), ("oo", "u"),
    ):  # fmt: skip
        letters = letters.replace(spelling, sound)
    return re.sub(r"(.)\1", r"\1", letters)


def nearness(one: str, other: str) -> float:
    """1 where both texts sound the same, 0 where nothing in them does."""
    first, second = _sounds(one), _sounds(other)
    if not first or not second:
        return 0.0
    return SequenceMatcher(None, first, second, autojunk=False).ratio()
