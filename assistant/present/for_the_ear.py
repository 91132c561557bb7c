"""Sentences as the voice says them: one value at a time, the axis named, figures where asked for.

What is written (screen, transcript, journal) keeps the shop's short form; only the voice has to be
understood across a running machine. Why so: pilots read back more wrongly the more there is in a
message (Prinzo, Hendrix and Hendrix, "The Outcome of ATC Message Complexity on Pilot Readback
Performance", FAA Civil Aerospace Medical Institute, 2006).
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from assistant.present.by_figures import NUMBER, by_figures, in_figures, value_by_figures
from assistant.present.figure_of import figure_of
from assistant.present.move_words import LONGEST
from assistant.replacing import replace
from assistant.session.state import State
from assistant.spoken import Sentence

_SECOND_VALUE = re.compile(r"[,:] (?=[a-z])")
"""Where a sentence may be parted."""


def for_the_ear(
    sentences: Iterable[Sentence], state: State, *, figures: bool = False, repeat: bool = False
) -> list[Sentence]:
    """`sentences` for the voice, in the state that they led to.

    `figures` tells every number figure by figure; `repeat` tells it so after the sentence.
    """
    said = []
    for sentence in sentences:
        values = one_value(_with_axis(sentence.text, state))
        for text in (one for value in values for one in short_enough(value, figures=figures)):
            said.append(replace(sentence, text=text))
            again = value_by_figures(text) if repeat and not figures else ""
            if again:
                said.append(replace(sentence, text=again))
    return said


def one_value(text: str) -> list[str]:
    """`Up six, to seventeen.` as `Up six.` and `To seventeen.`; a text with one value as it is."""
    for match in _SECOND_VALUE.finditer(text):
        first, rest = text[: match.start()], text[match.end() :]
        if NUMBER.search(first.casefold().removeprefix("past zero")) and NUMBER.match(
            _LEAD.sub("", rest)
        ):
            return [f"{first}.", *one_value(f"{rest[:1].upper()}{rest[1:]}")]
    return [text]


def seconds(text: str) -> float:
    """About how long the clear voice takes at its usual pace, a little more than that: a letter's
    time each, and six for a digit or a letter of `rpm`, which is said by its name."""
    spelt = len(re.findall(r"\d", text)) + 3 * text.count("rpm")
    return SECONDS_A_LETTER * (len(text) + 5 * spelt)


def short_enough(text: str, *, figures: bool = False) -> list[str]:
    """A text as it is said, told by figures where that is wanted; one that would take longer than
    four seconds is parted at its stops: between sentences the operator can be heard, and what is in
    one is kept in mind. Nothing is said faster, and no value is parted."""
    told = by_figures(text) if figures else text
    if _lasts(told) <= LONGEST:
        return [told]
    end = "?" if text.endswith("?") else "."
    stops = _STOPS_OF_FIGURES if figures else _STOPS
    marks = [*re.finditer(r": ", text)] or [*stops.finditer(text)]
    if not marks:
        return [in_figures(text)]
    starts = {mark: text[: mark.start()] for mark in marks}
    fitting = [
        mark
        for mark, start in starts.items()
        if _lasts(by_figures(start) if figures else start) <= LONGEST
    ]
    mark = fitting[-1] if fitting else marks[0]
    rest = text[mark.end() :]
    return [
        *short_enough(f"{starts[mark]}{end}", figures=figures),
        *short_enough(f"{rest[:1].upper()}{rest[1:]}", figures=figures),
    ]


def _lasts(told: str) -> float:
    """Seconds; figures one by one have a breath between them."""
    return seconds(told) + SECONDS_A_BREATH * len(_BREATH.findall(told))


_STOPS = re.compile(r", | (?=on the )")
_STOPS_OF_FIGURES = re.compile(r", | (?=after )|(?<=turns) (?=and )")
_FIGURE = r"(?:zero|one|two|three|four|five|six|seven|eight|nine)"
_BREATH = re.compile(rf"\b{_FIGURE}, |: (?={_FIGURE}\b)", re.IGNORECASE)
SECONDS_A_BREATH = 0.25
SECONDS_A_LETTER = 0.075
_LEAD = re.compile(r"^(?:past zero, )?(?:then \w+ )?(?:to |at )?")


def _with_axis(text: str, state: State) -> str:
    """`Up six.` as `Knee up six.`: whose handle it is, in a move that was cut short."""
    figure = figure_of(state)
    if figure is None or figure.move is None:
        return text
    way, axis = figure.move.direction, figure.move.wheel.axis
    if not re.match(rf"{way} ", text, re.IGNORECASE) or not NUMBER.search(text):
        return text
    return f"{axis.capitalize()} {way}{text[len(way) :]}"
