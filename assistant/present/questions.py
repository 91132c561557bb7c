"""An open question in words and as a number: what is asked back."""

from __future__ import annotations

from assistant.machine import way
from assistant.phrases.saying import say_apart, say_turns
from assistant.present.numbers import told_words
from assistant.session.asked import names_both
from assistant.session.state import Question, State
from assistant.spoken import Intent, Reason, SlotKind
from assistant.units import Quantity, is_quantity

_KINDS = {
    "deviation": SlotKind.DEVIATION,
    "reading": SlotKind.READING,
    "turns": SlotKind.TURNS,
    "rate": SlotKind.RATE,
    "angle": SlotKind.ANGLE,
    "count": SlotKind.COUNT,
}
"""How a slot's value is said, by the slot's name; any other is a size."""


def asked_value(candidate: Intent | None) -> tuple[Quantity, SlotKind] | None:
    """The value that is asked back, and what kind of value it is; None where none is."""
    found = None
    for name, value in candidate.slots if candidate else ():
        if is_quantity(value) and (found is None or name != "turns"):
            found = value, _KINDS.get(name, SlotKind.LENGTH)
    return found


def question_text(value: Quantity, kind: SlotKind = SlotKind.LENGTH, unit: str = "") -> str:
    """A value asked back: `One one oh nine? Yes or no.`"""
    words = told_words(value, kind, unit)
    return f"{words[:1].upper()}{words[1:]}? Yes or no."


def asked(question: Question, state: State) -> str:
    """The open question in words."""
    value = asked_value(question.candidate)
    other = asked_value(question.otherwise)
    if names_both(question) and value is not None and other is not None:
        one, two = _apart(*value, state.unit), _apart(*other, state.unit)
        return f"{one[:1].upper()}{one[1:]}, or {two}? Say it again."
    if value is not None and question.reason == Reason.CONTRADICTS.value:
        words = told_words(*value, state.unit)
        return f"{words[:1].upper()}{words[1:]}: {question.text}. Right? Yes or no."
    if value is not None:
        size, kind = value
        turns = question.candidate.get("turns") if question.candidate else None
        if kind is SlotKind.READING and isinstance(turns, int):
            return f"{_place(question, turns, size).capitalize()}? Yes or no."
        return question_text(size, kind, "" if kind is SlotKind.READING else state.unit)
    words = question.words or (question.candidate.name if question.candidate else "")
    words = words.replace("_", " ").strip()
    return f"{words[:1].upper()}{words[1:]}? Yes or no." if words else "Say that again?"


def _apart(value: Quantity, kind: SlotKind, unit: str) -> str:
    """One of two numbers, so that it can't be taken for the other, nor said so."""
    if not value.check("[length]"):
        return told_words(value, kind, unit)
    if kind is not SlotKind.DEVIATION:
        return say_apart(value, unit)
    if not value.magnitude:
        return "on size"
    under = value.magnitude < 0
    return f"{say_apart(value * -1 if under else value, unit)} {'under' if under else 'over'}"


def _place(question: Question, turns: int, reading: Quantity) -> str:
    """A reading with its turns, told from the other that may be meant: `no turn and sixty`,
    `ninety-four, in from zero`. The further one is asked for first, and the other side of the zero
    after it; a side is named by its way, since "past" is another side for each who asks."""
    words = say_turns(turns, reading)
    one, other = question.candidate, question.otherwise
    if one is None:
        return words
    side = one.get("side")
    if side and (other is None or other.get("side") != side):
        return f"{words}, {way(str(one['axis']), int(str(side)))} from zero"
    return words if turns or other is None else f"no turn and {words}"
