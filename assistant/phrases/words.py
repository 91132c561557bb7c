"""The words of numbers, as small tables, and how words are brought to one spelling."""

from __future__ import annotations

import re

ONES = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5,
    "six": 6, "seven": 7, "eight": 8, "nine": 9,
}  # fmt: skip
TEENS = {
    "ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14,
    "fifteen": 15, "sixteen": 16, "seventeen": 17, "eighteen": 18, "nineteen": 19,
}  # fmt: skip
TENS = {
    "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50,
    "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90,
}  # fmt: skip
ZEROS = {"oh": 0, "zero": 0, "nought": 0}

DENOMINATORS = {
    "half": 2, "quarter": 4, "fourth": 4, "eighth": 8, "sixteenth": 16,
    "thirty second": 32, "sixty fourth": 64,
}  # fmt: skip
"""Fractions of an inch on a shop's rule and drills."""

ON_SIZE = ("bang on", "dead on", "spot on", "on size")
OVER = ("over", "big", "oversize")
UNDER = ("under", "small", "undersize", "shy")

_SPELLINGS = {
    # The grammar has one spelling of a word that is spelled in two ways and said in one, so that
    # no ear has to choose; it is the one that the ears' own vocabularies have.
    "millimetre": "millimeter", "millimetres": "millimeters", "mm": "millimeters",
    "metre": "meter", "metres": "meters", "centre": "center", "naught": "nought",
    "o": "oh", "ok": "okay", "thous": "thou", "vise": "vice", "fourty": "forty",
}  # fmt: skip
_PUNCTUATION = re.compile(r"[^a-z0-9' ]+")
_SPACES = re.compile(r"\s+")


def normal(words: str) -> str:
    """`words` as the grammar has them: lower case, no hyphens, one spelling of each word.

    >>> normal("One-forty and a half, Millimetres.")
    'one forty and a half millimeters'
    """
    text = _PUNCTUATION.sub(" ", words.lower().replace("’", "'"))
    return " ".join(_SPELLINGS.get(word, word) for word in _SPACES.split(text.strip()))
