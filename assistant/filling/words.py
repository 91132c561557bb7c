"""The conversation in words: questions, answers read back, what can be said."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from assistant.filling.book import choices_of
from assistant.filling.sheet import Sheet
from assistant.filling.talk import WORK, Talk
from assistant.filling.values import read_size, rule_fraction
from assistant.jobs.field import AS_USUAL, Field, Kind, Value
from assistant.jobs.operations import OPERATIONS
from assistant.phrases import saying
from assistant.phrases.typed import fraction_words
from assistant.present.numbers import told_words
from assistant.spoken import Intent
from assistant.textfile import visible
from assistant.units import Quantity, is_quantity, magnitude, quantity, unit_name

FEW = 6
"""So many words to choose from are said with the question; more are on the screen."""
AT_EVERY = "Also: back, skip, why, say again, start over, leave it for now."
EXAMPLES = {
    Kind.LENGTH: 'Say a size: "three eighths", "two and a quarter inches", "six twenty-five".',
    Kind.WHOLE: 'Say a number: "six", "twenty-four".',
    Kind.ANGLE: 'Say degrees: "thirty", "twenty-nine and a half".',
    Kind.NUMBER: 'Say a number: "sixteen", "point six".',
    Kind.YES: "Say yes or no.",
    Kind.TEXT: "Type a line.",
    Kind.CHOICE: "Say one of these",
}


SAID = {"mm": "millimetres", "inch": "inches"}


def size_words(size: Quantity, unit: str) -> str:
    """A size as it is read back: a fraction of the rule where it is one, else as in the work."""
    inches = None if "meter" in unit_name(size) else magnitude(size, "inch")
    fraction = None if inches is None else rule_fraction(inches)
    if fraction is None or fraction[0] > 99:
        return told_words(size, unit="mm" if inches is None else unit and "inch")
    whole, above, below = fraction
    words = " ".join(fraction_words(above, below))
    if not whole:
        return words
    inch = "inch" if whole == 1 else "inches"
    return f"{saying.say_plain(Decimal(whole))} {inch} and {words}"


def value_words(one: Field, value: Value | None, sheet: Sheet) -> str:
    """A value in words; '' where the field is left out."""
    if value is None:
        return one.usual
    if isinstance(value, bool):
        return "yes" if value else "no"
    size = read_size(value, sheet.unit) if one.kind is Kind.LENGTH else None
    if size is not None:
        return size_words(size, sheet.unit)
    if one.kind is Kind.ANGLE:
        return saying.say_angle(quantity(Decimal(value), "degree"))
    if isinstance(value, int | Decimal):
        return saying.say_plain(Decimal(value))
    return choice_words(str(value))


def choice_words(value: str) -> str:
    """A word of a job file, or the name of one, as it is said."""
    bare = value.replace("-", " ")
    return SAID.get(value) or visible(bare if bare.replace(" ", "").isalpha() else value)


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
    """What is asked now."""
    one = talk.asking
    if talk.doubt is not None:
        return (_asked_back(talk),)
    if one is None:
        kept = f"Kept as {choice_words(talk.kept)}." if talk.kept else "That's all."
        return (kept, "Run it now?")
    return (plain_question(one, talk),)


def plain_question(one: Field, talk: Talk) -> str:
    """A field's question, with what is offered."""
    words = offer_words(one, talk.sheet) if one.offered else ""
    return one.offered.format(offer=words) if words else one.ask


def _asked_back(talk: Talk) -> str:
    doubt = talk.doubt
    assert doubt is not None
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
    return saying.say_angle(value)


def read_back(one: Field, value: Value | None, talk: Talk) -> str:
    """An answer read back: `Shaft: one inch and a half.`"""
    offered = one.kind is Kind.YES and value is True and one.offer is not None
    words = offer_words(one, talk.sheet) if offered else value_words(one, value, talk.sheet)
    name = f"{one.name[:1].upper()}{one.name[1:]}"
    return f"{name}: {words}." if words else f"{name}."


def why(talk: Talk) -> tuple[str, ...]:
    """What the question is for."""
    one = talk.asking
    if one is None:
        return ("The job file is kept. It may be run now, or later.",)
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
        return (f"Going on: {talk.answers} answered.",)
    return (hint,) if talk.asking is not None else ()


def summary(talk: Talk) -> tuple[str, ...]:
    """The whole sheet, a line each."""
    sheet = talk.sheet
    if not talk.machine:
        return ()
    lines = [f"{sheet.form.called} on the {choice_words(talk.machine)}"]
    for one in sheet.asked(more=True):
        value = sheet.value(one)
        if value is None or one.gate:
            continue
        shown = "yes" if value is True else "no" if value is False else visible(str(value))
        lines.append(f"{one.name}: {shown}")
    return tuple(lines)


def foreseen(talk: Talk) -> tuple[str, ...]:
    """The question that will probably come next."""
    one = talk.asking
    if one is None or not talk.machine:
        return ()
    waiting = [each for each in talk.sheet.asked(more=talk.more) if each.key not in talk.sheet.told]
    return tuple(plain_question(each, talk) for each in waiting if each.key != one.key)[:1]
