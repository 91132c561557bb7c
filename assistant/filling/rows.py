"""The conversation while numbers are read off a plate: each taken, asked about or taken back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from assistant.filling.row import Odd, odd, words_of
from assistant.filling.settling import settle
from assistant.filling.talk import Doubt, Talk
from assistant.jobs.field import Field, Kind
from assistant.spoken import Intent
from assistant.units import is_quantity, magnitude

SURELY = "surely"
"""The intent of a number that was asked about: it is taken as it is."""


def in_a_row(talk: Talk) -> bool:
    """Whether numbers were told of the row that is asked for."""
    one = talk.asking
    return one is not None and one.kind is Kind.ROW and bool(talk.sheet.row)


def number_of(one: Field, talk: Talk, value: object) -> Decimal:
    """A slot's value as a plain number in the field's unit."""
    assert one.each is not None
    unit = one.each(talk.sheet).unit
    if is_quantity(value):
        return magnitude(value, unit or "dimensionless").normalize() + Decimal(0)
    return Decimal(str(value))


def take(
    talk: Talk, one: Field, numbers: Sequence[Decimal], words: str = "", *, sure: bool = False
) -> Talk:
    """With numbers of a row or a rate told, as far as nothing is odd about one; `words` are those
    they were heard in, '' where they were typed. `sure`: they were asked about."""
    assert one.each is not None
    each = one.each(talk.sheet)
    if one.kind is not Kind.ROW:
        doubt = None if sure else odd((), numbers[0], each)
        if doubt is not None:
            return replace(talk, doubt=_asked(doubt, numbers[0]))
        return settle(talk, one, numbers[0])
    row = talk.sheet.row
    taken: list[str] = []
    said: list[str] = []
    asked: Doubt | None = None
    for place, number in enumerate(numbers):
        if number in row:
            said.append(_sentence(f"{words_of(number, each)} is there already"))
            continue
        found = None if sure else odd(row, number, each, words)
        if found is not None:
            asked = _asked(found, number)
            if place + 1 < len(numbers):
                said.append(f"Taken as far as {words_of(row[-1], each)}." if row else "None taken.")
            break
        row = (*row, number)
        taken.append(words_of(number, each))
    named = (_sentence(", ".join(taken)),) if taken else ()
    after = replace(talk, sheet=replace(talk.sheet, row=row), kept="", doubt=asked)
    return replace(after, answer=(*talk.answer, *named, *said))


def _sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}."


def _asked(doubt: Odd, number: Decimal) -> Doubt:
    numbers = doubt.instead or (number,)
    slots = tuple((f"number {place}", f"{each:f}") for place, each in enumerate(numbers))
    return Doubt(Intent(SURELY, slots), why=doubt.ask)


def surely(talk: Talk, one: Field, intent: Intent) -> Talk:
    """The numbers that were asked about, taken."""
    return take(talk, one, [Decimal(str(value)) for _, value in intent.slots], sure=True)


def without_the_last(talk: Talk, one: Field) -> Talk:
    """The number told last taken back."""
    assert one.each is not None
    *row, last = talk.sheet.row
    said = _sentence(f"{words_of(last, one.each(talk.sheet))} taken out")
    return replace(talk, sheet=replace(talk.sheet, row=tuple(row)), answer=(said,))


def ended(talk: Talk, one: Field) -> Talk:
    """That was the last one."""
    return settle(talk, one, tuple(sorted(talk.sheet.row)))
