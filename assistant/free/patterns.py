"""Rows and circles of places, from where one stands."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from assistant.calc.exact import as_unit
from assistant.calc.positions import bolt_circle
from assistant.errors import BadInput
from assistant.free.going import give
from assistant.free.places import FEWEST, MOST, Leg, Pattern, Places, in_order, on_dial
from assistant.free.talk import AnswerMissing, MoveFailed, Talk, with_slots
from assistant.free.told import axes_that_go, known, sign_of, there_first, which_axis
from assistant.free.words import count, size
from assistant.spoken import Intent
from assistant.units import Quantity, is_quantity, quantity

CLOCK: Mapping[str, int] = MappingProxyType({"three": 0, "twelve": 90, "nine": 180, "six": 270})
"""Degrees from the right, counter-clockwise, for the one who looks down on the work."""


def circle(talk: Talk, intent: Intent) -> Talk:
    """Holes on a circle about where the spindle stands.

    Table and saddle carry the work, so that a hole to the right of the spindle is come to by the
    table going left.
    """
    if "table" not in talk.machine.axes or "saddle" not in talk.machine.axes:
        raise MoveFailed("A bolt circle needs a table and a saddle.")
    holes, across = intent.get("holes"), intent.get("size")
    if not isinstance(holes, int) or not is_quantity(across):
        raise MoveFailed("Say it whole: bolt circle of six on three inches.")
    _how_many(holes)
    angle = intent.get("angle")
    if not is_quantity(angle):
        words = "Where is the first hole, as on a clock? Three is right. Or say degrees from there."
        raise AnswerMissing(intent, "clock:angle", words)
    places = there_first(talk, intent)
    for axis in ("table", "saddle"):
        places = known(talk, places, intent, axis, exactly=True)
    try:
        points = bolt_circle(across, holes, angle)
    except BadInput as bad:
        raise MoveFailed(f"{bad.want.capitalize()}.") from bad
    table, saddle = (places.slides[name].exact for name in ("table", "saddle"))
    stops = tuple(
        MappingProxyType({
            "table": table - on_dial(talk.machine.axis("table"), point.x),
            "saddle": saddle - on_dial(talk.machine.axis("saddle"), point.y),
        })
        for point in points
    )  # fmt: skip
    _room(talk, places, stops)
    wide = size(across, talk.machine.axis("table"))
    lines = (f"{count(holes).capitalize()} holes on {wide}, round from here.",)
    pattern = Pattern("hole", stops)
    return _gone_on(talk, replace(places, pattern=pattern, legs=(), last=None), lines)


def row(talk: Talk, intent: Intent) -> Talk:
    """Places at equal distances: the first is where one stands."""
    number, pitch, way = intent.get("holes"), intent.get("size"), intent.get("way")
    if not isinstance(number, int) or not is_quantity(pitch) or way is None:
        raise MoveFailed("Say it whole: row of five half an inch apart right.")
    _how_many(number)
    axis = intent.get("axis")
    axis = which_axis(talk, intent, axes_that_go(talk, str(way))) if axis is None else str(axis)
    sign = sign_of(axis, str(way))
    places = known(talk, there_first(talk, intent), intent, axis, exactly=True)
    wheel = talk.machine.axis(axis)
    far, here = on_dial(wheel, pitch) * sign, places.slides[axis].exact
    stops = tuple(MappingProxyType({axis: here + far * i}) for i in range(number))
    _room(talk, places, stops)
    name = f"{count(number).capitalize()} places, {size(pitch, wheel)} apart, {axis} {way}."
    lines = (name, "You stand at the first. Say next place.")
    pattern = Pattern("place", stops, 1)
    return replace(talk, places=replace(places, pattern=pattern, legs=(), last=None), answer=lines)


def _how_many(number: int) -> None:
    if not FEWEST <= number <= MOST:
        raise MoveFailed(f"Between {count(FEWEST)} and {count(MOST)} of them.")


def _room(talk: Talk, places: Places, stops: tuple[Mapping[str, Quantity], ...]) -> None:
    """All of them, before the first is drilled: half a pattern is worth nothing."""
    for axis in stops[0]:
        travel, slide = talk.machine.axis(axis).travel, places.slides[axis]
        at = [stop[axis] for stop in stops]
        reached = [*at, slide.dialled, *(end for end in (slide.low, slide.high) if end is not None)]
        if travel is not None and max(reached) - min(reached) > travel:
            raise MoveFailed(f"The {axis} hasn't the travel for all of them.", "No move.")


def next_one(talk: Talk, intent: Intent) -> Talk:
    """The next place of the pattern."""
    if talk.places.pattern is None:
        raise MoveFailed("No holes are open.", "Say bolt circle, or row.")
    return _gone_on(talk, there_first(talk, intent), ())


def _gone_on(talk: Talk, places: Places, lines: tuple[str, ...]) -> Talk:
    pattern = places.pattern
    if pattern is None or pattern.at >= len(pattern.stops):
        return replace(talk, places=replace(places, pattern=None), answer=("That was the last.",))
    at = pattern.stops[pattern.at]
    number = pattern.at + 1
    what = f"to {pattern.name} {count(number)} of {count(len(pattern.stops))}"
    legs = in_order([Leg(axis, target, what) for axis, target in at.items()], places)
    gone = replace(pattern, at=number)
    return give(talk, replace(places, legs=legs, pattern=gone, last=None), *lines)


def first_hole(intent: Intent, answer: Intent) -> Intent:
    """The angle of the first hole, from the answer to where it is."""
    clock = answer.get("clock")
    if clock is not None:
        return with_slots(intent, {"angle": quantity(CLOCK[str(clock)], "degree")})
    return with_slots(intent, {"angle": as_unit(answer.size("angle"), "degree")})
