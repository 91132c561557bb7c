"""What the clear voice is given to say: a text with nothing left that it would misread.

Numbers of a job are words before they come here; digits stand in names alone, and are said one by
one, for the voice's own reading of numbers drops the point of `M10x1.5`.
"""

from __future__ import annotations

import re
from typing import NamedTuple

DIGITS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")

SAID = {
    "thou": "θˈW",  # the lexicon has the old pronoun
    "thous": "θˈWz",
    "drawing": "dɹˈɔɪŋ",  # as in royal
    "drawing's": "dɹˈɔɪŋz",
    "am": "ˈæm",  # as letters, before noon
    "eighth": "ˈAtθ",  # without its t
    "eighths": "ˈAtθs",
}
"""Words that the lexicon says wrong, in the voice's own signs."""

PLAIN = {"fˈɔɹTi": "fˈɔɹti", "θˈɜɹTi": "θˈɜɹti", "nˈIndi": "nˈInti"}
"""Forty, thirty and ninety with a t, neither flapped nor a d: further from fourteen, thirteen and
nineteen. Not so eighty, whose flapped t is what tells it from eighteen: with a plain one it was
heard as eighteen, or as the letters A.D., more often."""

LAST_READ = "\u024f"
"""The last letter that the voice can read: later ones are other scripts."""

_WORD = (
    r"(?:zero|oh|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve"
    r"|(?:thir|four|fif|six|seven|eigh|nine)teen"
    r"|(?:twen|thir|for|fif|six|seven|eigh|nine)ty|hundred|thousand|point|half|quarters?"
    r"|thirds?|fourths?|eighths?|sixteenths?)"
)
_RUN = rf"{_WORD}(?:[- ](?:and (?:a )?|a )?{_WORD}\b)*"
_UNIT = (
    r"(?:turns?|inch(?:es)?|thou|tenths?|hundredths?|millimetres?|degrees?|holes?|spaces?|revs"
    r"|seconds?|minutes?|feet|metres)"
)
_VALUE = re.compile(rf"\b{_RUN}\b(?: {_UNIT}\b)?(?:,? and {_RUN}\b(?: {_UNIT}\b)?)*", re.IGNORECASE)
_NO_NUMBER = re.compile(
    r"(?:point|half|quarters?|thirds?|fourths?|eighths?|sixteenths?|hundred|thousand)$",
    re.IGNORECASE,
)
"""Words of numbers that by themselves are none: `half the shaft`."""
_THE_ONE = re.compile(
    r"\b(?:the|this|that|first|last|same|next|each|other|no|another|a|tight|good)\s$", re.IGNORECASE
)
"""Before `one`: a thing, not a number."""
_COUNT = re.compile(r"[a-z]+$", re.IGNORECASE)
_MEASURED = re.compile(
    r"\s(?:over|under|inside|deep|deeper|big|small|left|more|past|first|from|to|on|and|a)\b"
    r"|\s*(?:$|[,.:;?!])"
)
"""After one word of number, what makes it a value: `two over`, not `two marks`."""
_TO = re.compile(r"\b(?:to|at)\s$", re.IGNORECASE)
"""Said with the value after it."""


class CantSay(ValueError):  # noqa: N818  (named for what happened)
    """This voice can't say the text: another one has to."""


class Part(NamedTuple):
    """A stretch of a sentence that is said at one pace."""

    text: str
    number: bool


def readable(text: str) -> str:
    """`text` in letters and stops that the voice reads as they are meant; digits one by one."""
    text = re.sub(r"[\[\](){}<>|*_\\]", " ", text)  # [word](/signs/) is an order to the voice
    text = re.sub(r"(?<=\d) ?mm\b", " millimetres", text)
    text = re.sub(r"(?<=\d)\.(?=\d)", " point ", text)
    text = re.sub(r"(?<=\w)/(?=\w)", " slash ", text)
    text = re.sub(r"(?<=\d)-(?=\w)|(?<=\w)-(?=\d)|#", " dash ", text)
    text = re.sub(r"\d", lambda digit: f" {DIGITS[int(digit[0])]} ", text)
    return re.sub(r"\s+([,.?!:;])", r"\1", re.sub(r"\s+", " ", text)).strip()


def check_letters(text: str) -> None:
    """Raises `CantSay` for letters that the voice would leave out."""
    strange = "".join(sorted({each for each in text if each.isalpha() and each > LAST_READ}))
    if strange:
        raise CantSay(f"letters {strange!r}")


def parts(text: str) -> list[Part]:
    """A text as the stretches that it is said in: its values in words, and what is between.

    What is between ends with a comma, or the voice would fall as at the end of a sentence. A value
    is kept with its unit and with what belongs to it: `four turns and one forty and a half`.
    """
    found: list[Part] = []
    at = 0
    for match in _VALUE.finditer(text):
        alone = match[0].casefold()
        if _NO_NUMBER.match(alone) or (alone == "one" and _THE_ONE.search(text[: match.start()])):
            continue
        if _COUNT.match(alone) and not _MEASURED.match(text[match.end() :]):
            continue
        end = match.end() + len(re.match(r"[,.:;?!]*", text[match.end() :])[0])  # type: ignore[index]
        lead = _TO.search(text[at : match.start()])
        start = match.start() - (len(lead[0]) if lead else 0)
        _add(found, text[at:start], number=False)
        _add(found, text[start:end], number=True)
        at = end
    _add(found, text[at:], number=False)
    return found


def _add(found: list[Part], text: str, *, number: bool) -> None:
    text = readable(text)
    if not any(each.isalnum() for each in text):
        return
    if number:  # a breath inside it, as people say it who want it written down
        text = re.sub(rf" ({_UNIT}) and ", r" \1, and ", text)
    found.append(Part(text if text[-1] in ",.:;?!" else f"{text},", number))


def with_sounds(text: str) -> str:
    """`text` with the sounds of words that the lexicon has wrong."""
    for word, sound in SAID.items():
        text = re.sub(rf"\b({word})\b", rf"[\1](/{sound}/)", text, flags=re.IGNORECASE)
    return text


def plain_t(signs: str) -> str:
    """The signs of a sentence, with a t in the tens."""
    for flap, plain in PLAIN.items():
        signs = signs.replace(flap, plain)
    return signs
