"""Texts with their numbers in figures, so that ways of saying and writing them compare."""

from __future__ import annotations

import re

DIGITS = ("oh", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
TEENS = (
    "ten", "eleven", "twelve", "thirteen", "fourteen",
    "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
)  # fmt: skip
TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
PARTS = frozenset({
    "half", "third", "thirds", "quarter", "quarters", "eighth", "eighths", "sixteenth",
    "sixteenths", "tenth", "tenths", "hundredth", "hundredths", "thousandth", "thousandths", "thou",
})  # fmt: skip
"""Words that make a size without any number word: "a thou", "half a tenth"."""
_FIGURES = {
    **{word: str(number) for number, word in enumerate((*DIGITS, *TEENS))},
    **{word: str(number) for number, word in zip(range(20, 100, 10), TENS, strict=True)},
    **dict.fromkeys(("zero", "nought", "o"), "0"),
}


def written(text: str) -> str:
    """`text` with its number words in figures, no punctuation, nothing between figures.

    Sentences that differ only in how a number is said ("one twenty", "one two oh") are written
    the same; so is most of what the model writes for one number ("1-20", "120.").
    """
    out: list[str] = []
    for token in re.findall(r"[a-z']+|[0-9]|\.(?=[0-9])", text.lower()):
        word = "point" if token == "." else token
        figures = _FIGURES.get(word, word)
        joins = len(figures) == 1 and figures in "123456789"
        if joins and out and re.fullmatch("[2-9]0", out[-1]):
            out[-1] = out[-1][0] + figures
        else:
            out.append(figures)
    return re.sub(r"(?<=[0-9]) (?=[0-9])", "", " ".join(out))


def has_number(text: str) -> bool:
    """Whether there is a number in `text`, however it is said; "a thou" and "half" are some."""
    return bool(re.search("[0-9]", written(text))) or not PARTS.isdisjoint(text.lower().split())
