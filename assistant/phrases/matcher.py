"""From heard words to what was meant: the last word on what is taken and what is asked back."""

from __future__ import annotations

from collections.abc import Sequence

from assistant.phrases.book import PhraseBook
from assistant.phrases.expression import Sentence
from assistant.phrases.reading import Reading
from assistant.phrases.resolve import Resolved, Said, resolve
from assistant.phrases.typed import has_comma, has_odd_comma, in_words
from assistant.phrases.words import normal
from assistant.spoken import Expected, Heard, Reason, Refused, Understood

TYPED = "typed"
"""`Heard.engine` of words from the keyboard."""
COMMA = "a comma is read as a decimal point in millimetres only"


def match(book: PhraseBook, allowed: Sequence[Expected], heard: Heard) -> Understood | Refused:
    """What `heard` means, of what `allowed` admits.

    The first of `allowed` is what the step asks for: it alone may be answered by a bare size. A
    sentence that two intents admit is taken as the earlier one.

    A dial reading said with whole turns (`two turns and eleven`) gives two slots: the reading, and
    `turns` as a whole number.

    Figures typed with a decimal comma are metric or nothing: `1,200` at an inch machine would be
    twelve hundred to one and an inch and two tenths to another.
    """
    typed = heard.engine == TYPED
    text = in_words(heard.words) if typed else heard.words
    words = Sentence(normal(text).split())
    if not words:
        return Refused(Reason.NOTHING, heard)
    for place, expected in enumerate(allowed):
        readings = _readings(book, expected, place == 0, words, heard.words)
        if readings and typed and not _commas_are_points(heard.words, readings):
            return Refused(Reason.COMMA, heard, detail=COMMA)
        if readings:
            return _weigh(resolve(expected.intent, expected.slots, readings), expected, heard)
    elsewhere = _elsewhere(book, words)
    if elsewhere:
        return Refused(Reason.NOT_NOW, heard, detail=elsewhere)
    if typed and has_comma(heard.words):
        return Refused(Reason.COMMA, heard, detail=COMMA)
    if typed:
        return Refused(Reason.UNKNOWN, heard, detail=f"no phrase of the book: {heard.words}")
    return Refused(Reason.NOTHING, heard, detail="words of no phrase")


def _commas_are_points(text: str, readings: Sequence[Said]) -> bool:
    """Whether every number with a comma is one in millimetres; free text may hold any."""
    if not has_comma(text):
        return True
    numbers = [each for said in readings for each in said.values() if isinstance(each, Reading)]
    return not numbers or (not has_odd_comma(text) and all(each.unit == "mm" for each in numbers))


def _weigh(resolved: Resolved, expected: Expected, heard: Heard) -> Understood | Refused:
    if resolved.reason is not None:
        return Refused(resolved.reason, heard, resolved.intent, resolved.detail, resolved.otherwise)
    if heard.confidence < expected.floor:
        detail = f"confidence {heard.confidence:.2f} is under {expected.floor:.2f}"
        return Refused(Reason.UNSURE, heard, resolved.intent, detail)
    return Understood(resolved.intent, heard)


def _readings(
    book: PhraseBook, expected: Expected, asked: bool, words: Sentence, raw: str
) -> list[Said]:
    node = book.bound(expected, asked)
    if words[0] not in node.first:
        return []
    return [
        {slot: _value(value, words, raw) for slot, value in values}
        for end, values in node.read(words, 0)
        if end == len(words)
    ]


def _value(value: Reading | str | int, words: Sentence, raw: str) -> Reading | str:
    if not isinstance(value, int):
        return value
    # Free text begins at this word: kept as it was typed, with its capitals and figures.
    as_typed = raw.split()
    if [normal(word) for word in as_typed[:value]] == list(words[:value]):
        return " ".join(as_typed[value:])
    return " ".join(words[value:])


def _elsewhere(book: PhraseBook, words: Sentence) -> str:
    """The intent that the words would mean at another step, or ''."""
    for intent, node in book.anywhere(words[0]):
        if any(end == len(words) for end, _ in node.read(words, 0)):
            return intent
    return ""
