"""Numbers in a sentence told figure by figure: `one sixty-seven` as `one, six, seven`.

How numbers are read to people who copy them down: in radio traffic each digit by itself, `one zero`
for 10 (FAA Aeronautical Information Manual, 4-2-8), and where it has to be clear the number is told
again in the other form, `one two six point five five, one twenty-six point fifty-five` (FAA Order
JO 7110.65, 2-4-18). Here the figures come when the operator asks again, or always (`say_digits`),
since the shop's own way is shorter.
"""

from __future__ import annotations

import re

from assistant.spoken.written import DIGITS, TEENS, TENS

_UNITS = ("zero", *DIGITS[1:])
_FIGURES = {
    **{word: str(value) for value, word in enumerate(_UNITS)},
    "oh": "0",
    **{word: str(10 + value) for value, word in enumerate(TEENS)},
    **{word: str(20 + 10 * value) for value, word in enumerate(TENS)},
    "point": ".",
}
_ZEROS = {"hundred": "00", "thousand": "000"}
_WORD = rf"(?:{'|'.join([*_FIGURES, *_ZEROS])})"
NUMBER = re.compile(
    rf"\b{_WORD}\b(?:[- ]{_WORD}\b|(?<=hundred) and {_WORD}\b|(?<=thousand) and {_WORD}\b)*",
    re.IGNORECASE,
)
"""A number in words, without the part of a figure after it."""
_PART = re.compile(r" and (?:a half|a quarter|three quarters)\b")


def by_figures(text: str) -> str:
    """`text` with each number of two figures or more told figure by figure.

    A word that stands for two figures is told both ways: `fifteen: one five`. One figure stays as
    it is, and so does what is no number of the shop.
    """

    def told(match: re.Match[str]) -> str:
        words, figures = match[0], figures_of(match[0])
        if len(figures.replace(".", "")) < 2:
            return words
        rest = text[match.end() :]
        if figures.isdigit() and len(figures) == 2 and " " not in words:
            said = f"{words}: {' '.join(_names(figures))}"
        else:
            said = _apart(figures)
        # what comes after it would run into the last figure
        return f"{said}," if re.match(r" \w", rest) else said

    done = NUMBER.sub(told, text)
    return done[:1].upper() + done[1:] if text[:1].isupper() else done


def value_by_figures(text: str) -> str:
    """The numbers of a sentence alone, figure by figure, as a sentence; '' where none has two
    figures: what `repeat_numbers` says after it."""
    told = []
    for match in NUMBER.finditer(text):
        figures = figures_of(match[0])
        if len(figures.replace(".", "")) < 2:
            continue
        part = _PART.match(text, match.end())
        told.append(_apart(figures) + (f",{part[0]}" if part else ""))
    said = "; ".join(told)
    return f"{said[:1].upper()}{said[1:]}." if said else ""


def in_figures(text: str) -> str:
    """`text` with its numbers as bare figures: shorter, `three two seven point two seven two` for
    `three hundred and twenty-seven point two seven two`."""
    made = NUMBER.sub(lambda match: " ".join(_names(figures_of(match[0]))), text)
    return made[:1].upper() + made[1:] if text[:1].isupper() else made


def figures_of(words: str) -> str:
    """The figures of a number in words: `one forty` is 140, `one oh six` 106, `two point oh one`
    2.01, `three hundred and five` 305."""
    figures, last = "", ""
    for word in re.findall(r"[a-z]+", words.casefold()):
        if word in _ZEROS:
            figures, last = figures + _ZEROS[word], "zeros"
        elif word in _FIGURES:
            own = _FIGURES[word]
            after_tens = last in TENS and len(own) == 1 and own not in "0."
            # `three hundred and five`: in place of its noughts
            figures = figures[: -len(own)] + own if after_tens or last == "zeros" else figures + own
            last = word
    return figures


def _apart(figures: str) -> str:
    """Figures one by one: `one, point zero, six`."""
    return ", ".join(_names(figures)).replace("point, ", "point ")


def _names(figures: str) -> list[str]:
    return ["point" if figure == "." else _UNITS[int(figure)] for figure in figures]
