"""The phrase book of free moves, and what may be heard at each moment."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

from assistant.free.places import FEWEST, LETTERS, MOST
from assistant.free.talk import Ask, Talk
from assistant.machine import WAYS
from assistant.phrases.book import PhraseBook
from assistant.phrases.book_file import read_book_file
from assistant.spoken import Expected, Slot, SlotKind
from assistant.units import Quantity, quantity, unit_name

SURE = 0.6
"""Confidence wanted of a number, and of what a slip would make expensive."""
ALWAYS = ("why", "help", "say_again", "stop", "undo", "where", "leave")


def load_free_book(path: Path) -> PhraseBook:
    """The book at `path`. Raises `BadFile` that names file, key and value."""
    return PhraseBook(*read_book_file(path))


def expected(talk: Talk) -> tuple[Expected, ...]:
    """What may be heard now; what answers an open question first."""
    usual = _usual(talk)
    if not talk.asks:
        return usual
    first: tuple[Expected, ...] = ()
    if talk.ask is not None:
        first = _answers(talk, talk.ask)
    if talk.doubt is not None:
        first = (*first, *_plain(*(() if talk.doubt.otherwise is not None else ("yes",)), "no"))
    names = {one.intent for one in first}
    rest = (one for one in (*_plain("no"), *usual) if one.intent not in names)
    return (*first, *rest)


def _plain(*names: str) -> tuple[Expected, ...]:
    return tuple(Expected(name) for name in names)


def _choice(name: str, choices: tuple[str, ...]) -> Slot:
    return Slot(name, SlotKind.CHOICE, choices=choices)


def _answers(talk: Talk, ask: Ask) -> tuple[Expected, ...]:
    match ask.kind:
        case "axis":
            return (Expected("axis", (_axis(talk),)), *_plain("all"))
        case "came":
            return (Expected("way", (_choice("way", WAYS[ask.axis]),)), *_plain("not_sure"))
        case "side":
            return (Expected("way", (_choice("way", WAYS[ask.axis]),)),)
        case "way":
            on_or_back = _choice("direction", ("back", "on"))
            return (Expected("way", (_ways(talk),)), Expected("on_or_back", (on_or_back,)))
        case "reading" | "shows":
            return (_reading(talk, ask.axis), *_plain("not_sure"))
        case "clock":
            angle = Slot("angle", SlotKind.ANGLE, "degree", quantity(-360, "degree"),
                         quantity(360, "degree"))  # fmt: skip
            clock = _choice("clock", ("three", "twelve", "nine", "six"))
            return (Expected("clock", (clock,)), Expected("degrees", (angle,), SURE))
    return _plain("yes")


def _usual(talk: Talk) -> tuple[Expected, ...]:
    """All commands, the likeliest first."""
    axis, ways = _axis(talk), _ways(talk)
    size, marks = _size(talk, "size"), _choice("mark", LETTERS)
    further, after = _size(talk, "further"), _choice("after", ways.choices)
    other_axis = _choice("other", axis.choices)
    other = _choice("other", LETTERS)
    few, many = (quantity(one, "dimensionless") for one in (FEWEST, MOST))
    holes = Slot("holes", SlotKind.COUNT, "", few, many)
    return (
        Expected("there"),
        Expected("move", (axis, size, ways), SURE),
        Expected("move_then", (axis, size, ways, other_axis, further, after), SURE),
        Expected("zero", (axis,)),
        *_plain("zero_all", "all_to_zero", "half_back", "once_more", "next", "drop", "marks"),
        Expected("to_zero", (axis,)),
        Expected("from_zero", (axis, size, ways), SURE),
        Expected("half", (ways,)),
        Expected("mark", (marks,)),
        Expected("to_mark", (marks, axis)),
        Expected("middle", (marks, other)),
        Expected("touched", (axis,)),
        Expected("circle", (holes, size), SURE),
        Expected("row", (holes, size, ways, axis), SURE),
        _reading(talk, ""),
        Expected("back_at", (marks, axis)),
        Expected("went_past", (size,)),
        *(Expected(name, (axis,)) for name in ("lost_count", "by_hand", "dial_slipped")),
        Expected("how_far_to", (marks,)),
        *_plain(*ALWAYS),
    )


def _axis(talk: Talk) -> Slot:
    return _choice("axis", tuple(talk.machine.axes))


def _ways(talk: Talk) -> Slot:
    ways = (way for name in talk.machine.axes for way in WAYS[name])
    return _choice("way", tuple(dict.fromkeys(ways)))


def _size(talk: Talk, name: str) -> Slot:
    """A distance: no longer than the longest travel of the machine."""
    unit = talk.machine.unit
    return Slot(name, SlotKind.LENGTH, unit, quantity(Decimal("0.00001"), unit), farthest(talk))


def farthest(talk: Talk) -> Quantity:
    """The longest travel of the machine, as far as its file tells."""
    known = [one.travel for one in talk.machine.axes.values()]
    told = [one for one in known if one is not None]
    if len(told) < len(known) or not told:
        return quantity(Decimal(100), "inch")
    return max(told)


def _reading(talk: Talk, axis: str) -> Expected:
    """What a dial may be told to read, with whole turns as far as the axis goes."""
    named = [talk.machine.axis(axis)] if axis else list(talk.machine.axes.values())
    unit = unit_name(named[0].per_turn)
    most = max((one.travel for one in named if one.travel is not None), default=farthest(talk))
    reading = Slot("reading", SlotKind.READING, unit, quantity(0, unit), most)
    if axis and talk.ask is not None and talk.ask.kind == "shows":
        reading = Slot("reading", SlotKind.READING, unit, quantity(0, unit), named[0].per_turn)
    return Expected("dial_reads", (reading, _axis(talk)), SURE)
