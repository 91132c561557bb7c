"""The figures in what was said and in what a listener wrote: are they the same?"""

from __future__ import annotations

import re

from assistant.spoken import written
from assistant.spoken.written import DIGITS, TEENS

UNITS = {word: value for value, word in enumerate((*DIGITS, *TEENS))} | {"zero": 0, "o": 0}
TENS = {word: value for value, word in zip(range(20, 100, 10), written.TENS, strict=True)}
PARTS = {"half": "½", "quarter": "¼", "quarters": "¼"}
MOST_WAYS = 64


def figures(text: str, heard: bool) -> frozenset[str]:
    """All its digits in a row, halves and quarters among them; more than one row where the writing
    is ambiguous. In what was `heard`, "to" and "for" may stand for a number."""
    text = text.lower().replace("½", " half ").replace("¼", " quarter ").replace("1/2", " half ")
    text = re.sub(r"(\d),(?=\d{3})", r"\1", text)
    text = re.sub(r"(\d)(st|nd|rd|th|s)\b", r"\1", text)
    out: list[set[str]] = []
    last = ""
    for word in re.findall(r"[a-z]+|[.:]?\d+", text):
        unit, ten = UNITS.get(word), TENS.get(word)
        if unit is not None and (last == "hundred" or (last == "tens" and 0 < unit < 10)):
            out[-1], last = {str(int(max(out[-1])) + unit)}, "unit"
        elif ten is not None and last == "hundred":
            out[-1], last = {str(int(max(out[-1])) + ten)}, "tens"
        elif unit is not None or ten is not None:
            out.append({str(ten or unit)})
            last = "tens" if ten else "unit"
        elif word in ("hundred", "thousand") and out and last:
            zeros = "00" if word == "hundred" else "000"
            plain = {max(out[-1])} if word == "thousand" else set()
            out[-1], last = {each + zeros for each in out[-1]} | plain, "hundred"
        elif word in PARTS:
            out.append({PARTS[word]})
            last = "part"
        elif word[-1].isdigit():
            out.append(_written(word))
            last = "written"
        elif heard and word in ("to", "too", "for"):
            out.append({"", "4" if word == "for" else "2"})
            last = ""
        elif word != "and" or last != "hundred":
            last = ""
    rows = {""}
    for ways in out:
        rows = set(sorted(row + way for row in rows for way in ways)[:MOST_WAYS])
    return frozenset(rows)


def _written(word: str) -> set[str]:
    plain = word.lstrip(".:")
    ways = {plain}
    if word == ".5":
        ways.add("½")
    if word in (".25", ".75"):
        ways.add("¼")
    if word == "0":  # nought before a point
        ways.add("")
    if plain.endswith("000") and len(plain) > 3:
        ways.add(plain[:-3])
    return ways


def right(said: str, heard: str) -> bool:
    """Whether every figure of `said` was heard, and no other."""
    return bool(figures(said, heard=False) & figures(heard, heard=True))


def numbers(text: str) -> list[str]:
    """The words of number in a text, for pairs that were taken for each other."""
    known = UNITS.keys() | TENS.keys() | PARTS.keys()
    return [word for word in re.findall(r"[a-z]+", text.lower()) if word in known]
