"""The phrase book of the questions, and what may be heard at each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

from assistant.filling.sheet import Sheet
from assistant.jobs.field import Each, Field, Kind
from assistant.jobs.operations import OPERATIONS
from assistant.phrases.book import PhraseBook
from assistant.phrases.book_file import read_book_file
from assistant.phrases.designations import said_as_written
from assistant.phrases.expression import Choice
from assistant.spoken import Expected, Slot, SlotKind
from assistant.units import Quantity, quantity

CHOICE, SIZE, WHOLE, ANGLE, DIAL, RATE = "choice", "size", "whole", "angle", "dial", "rate"
SURE = 0.6
"""Confidence wanted of a number, as of any number that has consequences."""
ALWAYS = ("back", "skip", "why", "help", "say_again", "stop", "start_over", "leave")
"""What works at every question."""
_SLOTS = {
    Kind.LENGTH: (SIZE, SlotKind.LENGTH),
    Kind.READING: (DIAL, SlotKind.READING),
    Kind.WHOLE: (WHOLE, SlotKind.COUNT),
    Kind.ANGLE: (ANGLE, SlotKind.ANGLE),
    Kind.NUMBER: (ANGLE, SlotKind.ANGLE),
}


def load_question_book(path: Path, work: PhraseBook) -> PhraseBook:
    """The book at `path`, with the materials as they are said in `work`, the book of the work,
    and the kinds of work as they are called.

    Raises `BadFile` that names file, key, value and what would be right.
    """
    title, intents, slots = read_book_file(path)
    own = slots[CHOICE]
    forms = {**work.slots["material"].forms, **own.forms}
    for name, operation in OPERATIONS.items():  # as it stands on the screen, too
        called = said_as_written(operation.called.lower())
        forms[name] = Choice((forms[name], called)) if name in forms else called
    return PhraseBook(title, intents, {**slots, CHOICE: replace(own, forms=forms)})


def plain(*intents: str) -> tuple[Expected, ...]:
    """Intents without a slot."""
    return tuple(Expected(intent) for intent in intents)


def one_of(choices: Sequence[str], intent: str = CHOICE) -> Expected:
    """One of several words."""
    return Expected(intent, (Slot(CHOICE, SlotKind.CHOICE, choices=tuple(choices)),))


def a_size(intent: str, one: Field, unit: str) -> Expected:
    """A size for that field, said as for it."""
    return Expected(intent, (_slot(one, unit),), SURE)


def choices_of(one: Field, sheet: Sheet) -> tuple[str, ...]:
    """The words that a field may be."""
    return one.choices(sheet) if callable(one.choices) else one.choices


def answers_to(one: Field, sheet: Sheet) -> tuple[Expected, ...]:
    """What answers a field's question, without what may be said at every one."""
    found: list[Expected] = []
    if one.kind in _SLOTS:
        found.append(a_size(_SLOTS[one.kind][0], one, sheet.unit))
    choices = choices_of(one, sheet)
    if one.each is not None:
        found.append(_number_in(one.each(sheet)))
        found += plain("done") if sheet.row else ()
    if choices:
        found.append(one_of(choices))
    if one.kind is Kind.YES or sheet.offered(one):
        found += plain("yes", "no")
    return tuple(found)


def takes_any_line(one: Field) -> bool:
    """Whether what is typed for a field may be in no phrase of the book."""
    return one.kind is Kind.TEXT or one.free


def _slot(one: Field, unit: str) -> Slot:
    name, kind = _SLOTS[one.kind]
    if one.kind in (Kind.LENGTH, Kind.READING):
        return Slot(name, kind, unit, _inches(one.low), _inches(one.high))
    of = "" if one.kind is Kind.WHOLE else "degree"
    low, high = (quantity(value, of or "dimensionless") for value in (one.low, one.high))
    return Slot(name, kind, of, low, high)


def _number_in(each: Each) -> Expected:
    """A number in the unit of a rate or a row."""
    kind, name = (SlotKind.RATE, RATE) if each.unit else (SlotKind.COUNT, WHOLE)
    low, high = (quantity(one, each.unit or "dimensionless") for one in (each.low, each.high))
    return Expected(name, (Slot(name, kind, each.unit, low, high),), SURE)


def _inches(value: Decimal) -> Quantity:
    return quantity(value, "inch")
