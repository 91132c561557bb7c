"""The conversation in words: questions, answers read back, what can be said."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from assistant.filling.book import choices_of
from assistant.filling.row import row_words
from assistant.filling.said import choice_words, size_words
from assistant.filling.sheet import Sheet
from assistant.filling.talk import WORK, Talk
from assistant.filling.values import read_size
from assistant.jobs.field import AS_USUAL, Field, Kind, Value
from assistant.jobs.operations import OPERATIONS
from assistant.phrases import saying
from assistant.present.numbers import number_words
from assistant.spoken import Intent
from assistant.textfile import visible
from assistant.units import is_quantity, quantity

FEW = 6
"""So many words to choose from are said with the question; more are on the screen."""
AT_EVERY = "Also: back, skip, why, say again, start over, leave it for now."
NEXT = "And the next?"
SIZES = (Kind.LENGTH, Kind.READING)
EXAMPLES = {
    Kind.LENGTH: 'Say a size: "three eighths", "two and a quarter inches", "six twenty-five".',
    Kind.READING: 'Say what the dial reads: "forty", "one ninety-seven".',
    Kind.RATE: 'Say a number: "sixty", "twelve hundred".',
    Kind.ROW: 'Say one number after another: "sixty", "ninety-five". Then: "that\'s all".',
    Kind.WHOLE: 'Say a number: "six", "twenty-four".',
    Kind.ANGLE: 'Say degrees: "thirty", "twenty-nine and a half".',
    Kind.NUMBER: 'Say a number: "sixteen", "point six".',
    Kind.YES: "Say yes or no.",
    Kind.TEXT: "Type a line.",
    Kind.CHOICE: "Say one of these",
}


def value_words(one: Field, value: Value | None, sheet: Sheet) -> str:
    """A value in words; '' where the field is left out."""
    if value is None:
        return one.usual
    if isinstance(value, bool):
        return "yes" if value else "no"
    if one.each is not None and isinstance(value, tuple | Decimal):
        each = one.each(sheet)
        row = value if isinstance(value, tuple) else (value,)
        return row_words([Decimal(str(number)) for number in row], each)
    size = read_size(value, sheet.unit) if one.kind in SIZES else None
    if size is not None:
        return size_words(size, sheet.unit)
    if one.kind is Kind.ANGLE:
        return saying.say_angle(quantity(Decimal(str(value)), "degree"))
    if isinstance(value, int | Decimal):
        return saying.say_plain(Decimal(value))
    return choice_words(str(value))


def work_words(work: str) -> str:
    """A kind of work as it is called."""
    return OPERATIONS[work].called.lower()


def choices_in_words(one: Field, sheet: Sheet) -> list[str]:
    """What a field may be, as it is said."""
    words = work_words if one.key == WORK.key else choice_words
    return [words(each) for each in choices_of(one, sheet)]


def offer_words(one: Field, sheet: Sheet) -> str:
    """What is offered."""
    found = sheet.offered(one)
    words = [size_words(each, sheet.unit) if is_quantity(each) else str(each) for each in found]
    return " by ".join(dict.fromkeys(words)) if len(set(words)) > 1 else " by ".join(words[:1])


def question(talk: Talk) -> tuple[str, ...]:
    """What is asked now, and before it, the first time, what has to be done for it."""
    one = talk.asking
    if talk.doubt is not None:
        return (_asked_back(talk),)
    if one is None:
        kept = f"Kept as {choice_words(talk.kept)}." if talk.kept else "That's all."
        return (kept, talk.sheet.form.last)
    return (*_before(one, talk), plain_question(one, talk))


def _before(one: Field, talk: Talk) -> tuple[str, ...]:
    """Why it is asked where something is odd; the first time a caution that didn't hold at the
    question before, and what has to be done."""
    doubted = talk.sheet.doubted(one) if talk.filling else None
    reason = "" if doubted is None else doubted.reason
    if talk.again:
        return (reason,) if reason else ()
    last = talk.sheet.fields.get(talk.order[-1]) if talk.filling and talk.order else None
    caution = "" if last is not None and last.caution == one.caution else one.caution
    return tuple(filter(None, (caution, reason, one.how)))


def plain_question(one: Field, talk: Talk) -> str:
    """A field's question, with what is offered."""
    if one.kind is Kind.ROW and talk.sheet.row and one == talk.asking:
        return NEXT
    words = offer_words(one, talk.sheet) if one.offered else ""
    return one.offered.format(offer=words) if words else one.ask


def _asked_back(talk: Talk) -> str:
    doubt = talk.doubt
    assert doubt is not None
    if doubt.why:
        return f"{doubt.why} Yes or no."
    words = intent_words(doubt.intent, talk)
    if doubt.otherwise is None:
        return f"{words[:1].upper()}{words[1:]}? Yes or no."
    other = intent_words(doubt.otherwise, talk)
    return f"{words[:1].upper()}{words[1:]}, or {other}? Say it again."


def intent_words(intent: Intent, talk: Talk) -> str:
    """What was heard, in words that can't be taken for anything else."""
    parts = [_slot_words(value, talk) for _, value in intent.slots]
    return " ".join(parts) or intent.name.replace("_", " ")


def _slot_words(value: object, talk: Talk) -> str:
    if not is_quantity(value):
        return saying.say_plain(Decimal(value)) if isinstance(value, int) else str(value)
    if value.check("[length]"):
        return saying.say_apart(value, talk.sheet.unit)
    return number_words(value)


def read_back(one: Field, value: Value | None, talk: Talk) -> str:
    """An answer read back: `Shaft: one inch and a half.`"""
    offered = one.kind is Kind.YES and value is True and one.offer is not None
    words = offer_words(one, talk.sheet) if offered else value_words(one, value, talk.sheet)
    name = f"{one.name[:1].upper()}{one.name[1:]}"
    return f"{name}: {words}." if words else f"{name}."


def follows(before: Sheet, after: Sheet, told: Value | None) -> tuple[str, ...]:
    """Sizes that came out otherwise by what was told just now, where they aren't that itself."""
    found = []
    for one in after.fields.values():
        if one.worked is None or one.kind is not Kind.LENGTH or not after.holds(one):
            continue
        value = after.value(one)
        if value not in (None, told) and value != before.value_of(one.key):
            words = value_words(one, value, after)
            found.append(f"{one.name[:1].upper()}{one.name[1:]}: {words}.")
    return tuple(found)


def why(talk: Talk) -> tuple[str, ...]:
    """What the question is for."""
    one = talk.asking
    if one is None:
        return ("The file is kept. It may be gone on with now, or later.",)
    usual = f"Skip it, and it is {one.usual}." if one.usual not in ("", AS_USUAL) else ""
    return tuple(filter(None, (one.why, usual)))


def help_words(talk: Talk) -> tuple[str, ...]:
    """What can be said now."""
    one = talk.asking
    if one is None:
        return ("Say yes, no, ask me more, or change and what: change the material.", AT_EVERY)
    words = choices_in_words(one, talk.sheet)
    named = f": {listed(words)}." if words and one.kind is Kind.CHOICE else ""
    also = () if one.kind is Kind.CHOICE or not words else ("Or by its name.",)
    yes = ("Or yes, or no.",) if talk.sheet.offered(one) and one.kind is not Kind.YES else ()
    typed = ("Another may be typed.",) if one.free else ()
    return (f"{EXAMPLES[one.kind]}{named}", *also, *yes, *typed, AT_EVERY)


def listed(choices: Sequence[str], most: int = FEW) -> str:
    """Words to choose from, and how many more there are."""
    rest = len(choices) - most
    return ", ".join(choices[:most]) + (f", and {rest} more on the screen" if rest > 0 else "")


def machine_line(name: str, talk: Talk) -> str:
    """A machine for the eye: as its own file calls it, where that begins as it is said."""
    called, said = visible(talk.shop.machines[name].name), choice_words(name)
    return called if called.lower().startswith(said) else f"{said}: {called}"


def opening(talk: Talk) -> tuple[str, ...]:
    """Before the first question."""
    hint = 'Say "what can I say" at any question.'
    if talk.answers:
        caution = talk.asking.caution if talk.asking is not None else ""
        return tuple(filter(None, (f"Going on: {talk.answers} answered.", caution)))
    return (hint,) if talk.asking is not None else ()


def summary(talk: Talk) -> tuple[str, ...]:
    """The whole sheet, a line each."""
    sheet = talk.sheet
    if not talk.filling:
        return ()
    lines = [visible(sheet.heading)]
    for one in sheet.in_file():
        value = sheet.value(one)
        if value is not None:
            lines.append(f"{one.name}: {_shown(value)}")
    return tuple(lines)


def _shown(value: Value) -> str:
    if isinstance(value, tuple):
        return ", ".join(f"({_shown(one)})" if isinstance(one, tuple) else _shown(one)
                         for one in value)  # fmt: skip
    return "yes" if value is True else "no" if value is False else visible(str(value))


def foreseen(talk: Talk) -> tuple[str, ...]:
    """The question that will probably come next."""
    one = talk.asking
    if one is None or not talk.filling:
        return ()
    waiting = [each for each in talk.sheet.asked(more=talk.more) if each.key not in talk.sheet.told]
    return tuple(plain_question(each, talk) for each in waiting if each.key != one.key)[:1]
