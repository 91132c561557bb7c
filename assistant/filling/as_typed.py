"""What words mean besides what the phrase book says: lines typed as a file has them, and bare
numbers whose unit wasn't told. Pure."""

from __future__ import annotations

import re
from decimal import Decimal, InvalidOperation

from assistant.filling.book import SIZE, choices_of, takes_any_line
from assistant.filling.said import choice_words
from assistant.filling.talk import Doubt, Talk
from assistant.filling.values import read_size, written_size
from assistant.jobs.field import Field, Kind, Value
from assistant.phrases.matcher import TYPED
from assistant.phrases.numbers import read_number
from assistant.phrases.typed import has_comma, has_odd_comma, in_words
from assistant.spoken import Heard, Intent, SlotKind
from assistant.textfile import visible
from assistant.units import Quantity, magnitude, quantity

SIZES = (Kind.LENGTH, Kind.READING)
A_THING = Decimal(1)
"""Inches: a field whose band reaches so far is of a thing, which may be metric on an inch machine;
cuts and limits under it are in thou."""
FEW_INCHES = Decimal(10)
"""So many inches, bare and typed, are what they say."""


def as_in_a_file(talk: Talk, one: Field, heard: Heard) -> Value | None:
    """What was typed as a file has it: `1-1/2` is an inch and a half there, `#7` a drill, a title
    any line, and the beginning of one choice alone is that one; None where it is spoken, or can't
    be that."""
    line = visible(heard.words.strip())
    if heard.engine != TYPED or not line:
        return None
    size = read_size(line, talk.sheet.unit) if one.kind in SIZES else None
    if size is not None:
        likely = one.low <= magnitude(size, "inch") <= one.high
        return written_size(size) if likely else None
    choices, begun = choices_of(one, talk.sheet), choice_words(line).casefold()
    named = [each for each in choices if each.casefold() == line.casefold()]
    if not named:
        named = [each for each in choices if choice_words(each).casefold().startswith(begun)]
    if len(named) == 1:
        return named[0]
    if not takes_any_line(one):
        return None
    return line[:1].upper() + line[1:] if one.kind is Kind.TEXT else line


def numbers_in(talk: Talk, one: Field, heard: Heard) -> tuple[Decimal, ...]:
    """The numbers of a typed line for a rate or a row; none where it isn't all numbers, and where
    one alone is not likely: the phrase book may have a word on it."""
    if heard.engine != TYPED or one.each is None:
        return ()
    try:
        numbers = tuple(map(Decimal, re.split(r"[;,]?\s+|;", heard.words.strip())))
    except InvalidOperation:
        return ()
    each = one.each(talk.sheet)
    if not all(number.is_finite() and number > 0 for number in numbers):
        return ()
    if not each.unit and any(number != number.to_integral_value() for number in numbers):
        return ()
    if len(numbers) == 1:
        return numbers if each.low <= numbers[0] <= each.high else ()
    return numbers if one.kind is Kind.ROW else ()


def of_which_unit(talk: Talk, heard: Heard) -> Doubt | None:
    """Of a bare whole number on an inch machine: what it is asked back as, where millimetres are
    likely and the inches or thou that it would be taken for can't well be."""
    one = talk.asking
    if one is None or one.kind is not Kind.LENGTH or talk.sheet.unit != "inch":
        return None
    words = in_words(heard.words) if heard.engine == TYPED else heard.words
    said = read_number(words, SlotKind.COUNT)
    if not said or one.high < A_THING:
        return None
    inches = said[0].value
    thou, metric = quantity(inches / 1000, "inch"), quantity(inches, "mm")
    whole = quantity(inches, "inch")
    plainly = inches < FEW_INCHES and _in_band(whole, one)
    in_the_middle = _in_band(thou, one) and (inches / 1000) ** 2 >= one.low * one.high
    if not _in_band(metric, one) or plainly or in_the_middle:
        return None
    found = [size for size in (thou, whole) if _in_band(size, one)]
    likely = [Intent("size", ((SIZE, size),)) for size in (*found, metric)]
    return Doubt(likely[0], likely[-1] if found else None)


def _in_band(size: Quantity, one: Field) -> bool:
    return one.low <= magnitude(size, "inch") <= one.high


def about_a_comma(heard: Heard, detail: str) -> str:
    """What is wrong with a comma, and what would be right."""
    line = heard.words.strip()
    said = f"{detail[:1].upper()}{detail[1:]}."
    if not has_comma(line) or has_odd_comma(line):
        return f"{said} Type it with a point, and no commas."
    bare = re.sub(r"\s*(mm|in|inch|inches|\")?$", "", line, flags=re.IGNORECASE)
    return f"{said} Type {bare.replace(',', '.')}, or {bare.replace(',', '.')} mm."
