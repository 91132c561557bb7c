"""The conversation as JSON has it, and back, exactly: what is kept at every command.

Values are written as those of the journal are (`session/plain.py`); the classes here are named by
their own fields, and nothing else that a file says is looked up.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, replace
from types import MappingProxyType
from typing import Any

from assistant.errors import JournalError
from assistant.free.places import Leg, Lost, Pattern, Places, Slide
from assistant.free.talk import Record, Talk
from assistant.machine import Machine
from assistant.session.plain import Reader, to_plain

FORMAT = 1
_NAMES = {kind: tuple(each.name for each in fields(kind)) for kind in (Slide, Leg)}


def as_kept(talk: Talk) -> dict[str, Any]:
    """A conversation."""
    return {
        "format": FORMAT,
        "machine": talk.machine.name,
        "places": _places(talk.places),
        "history": [{"words": one.words, "before": _places(one.before)} for one in talk.history],
        "job_zeros": dict(talk.job_zeros),
        "moved": sorted(talk.moved),
    }


def taken_up(kept: Mapping[str, Any], machine: Machine, *, job: str = "") -> Talk:
    """The conversation from what `as_kept` gave, on the machine as it is now.

    Raises `KeyError`, `TypeError`, `ValueError` or `JournalError` for what it never gives, and for
    a machine with other axes or dials.
    """
    if kept["format"] != FORMAT:
        raise ValueError(kept["format"])
    history = tuple(
        Record(str(one["words"]), _read_places(one["before"], machine)) for one in kept["history"]
    )
    zeros = {str(name): int(at) for name, at in kept["job_zeros"].items()}
    return Talk(machine, _read_places(kept["places"], machine), history, job,
                begun=bool(history), job_zeros=zeros,
                moved=frozenset(map(str, kept["moved"])))  # fmt: skip


def _fields(one: Slide | Leg) -> dict[str, Any]:
    return {name: to_plain(value) if not isinstance(value, Lost) else str(value)
            for name in _NAMES[one.__class__] for value in [getattr(one, name)]}  # fmt: skip


def _places(places: Places) -> dict[str, Any]:
    pattern = places.pattern
    return {
        "slides": {name: _fields(slide) for name, slide in places.slides.items()},
        "marks": {name: _sizes(at) for name, at in places.marks.items()},
        "touches": {name: to_plain(told) for name, told in places.touches.items()},
        "legs": [_fields(leg) for leg in places.legs],
        "last": to_plain(places.last),
        "pattern": None if pattern is None else {
            "name": pattern.name, "at": pattern.at, "stops": [_sizes(one) for one in pattern.stops],
        },
    }  # fmt: skip


def _sizes(at: Mapping[str, Any]) -> dict[str, Any]:
    return {name: to_plain(value) for name, value in at.items()}


def _read_places(kept: Mapping[str, Any], machine: Machine) -> Places:
    reader = Reader()

    def sizes(at: Mapping[str, Any]) -> Mapping[str, Any]:
        return MappingProxyType({name: reader.read(value) for name, value in at.items()})

    slides = {}
    for name, told in kept["slides"].items():
        slide: Slide = reader.build(Slide, told)
        slides[name] = replace(slide, lost=Lost(slide.lost))
    if list(slides) != list(machine.axes):
        raise ValueError("another machine")
    for name, slide in slides.items():
        if slide.dialled.units != machine.axis(name).per_turn.units:
            raise ValueError("another dial")
    pattern, last = kept["pattern"], reader.read(kept["last"])
    return Places(
        MappingProxyType(slides),
        MappingProxyType({name: sizes(at) for name, at in kept["marks"].items()}),
        MappingProxyType({name: reader.read(told) for name, told in kept["touches"].items()}),
        tuple(reader.build(Leg, leg) for leg in kept["legs"]),
        None if last is None else (str(last[0]), last[1]),
        None if pattern is None else Pattern(
            str(pattern["name"]), tuple(sizes(one) for one in pattern["stops"]), int(pattern["at"])
        ),
    )  # fmt: skip


UNREADABLE = (ValueError, KeyError, TypeError, AttributeError, ArithmeticError, JournalError)
"""What comes of a file that this program never wrote."""
