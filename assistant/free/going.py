"""Moves: by a distance, to a place, half of the last one, to the middle; and that one is made."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from assistant.free.places import (
    Leg,
    Lost,
    Places,
    along,
    in_order,
    move_of,
    on_dial,
    set_to_dial,
    within_travel,
)
from assistant.free.talk import AnswerMissing, Ask, MoveFailed, Talk, with_slots
from assistant.free.told import (
    GO_ON,
    arrived,
    axes_that_go,
    count_lost,
    known,
    sign_of,
    there_first,
    which_axis,
    whole_turns,
)
from assistant.free.words import SPOKEN, count, leg_words, place, size, title, ways_of
from assistant.machine import WAYS
from assistant.spoken import Intent
from assistant.units import Quantity, quantity, unit_name

# -- giving ---------------------------------------------------------------------------------------


def give(talk: Talk, places: Places, *before: str, again: bool = False) -> Talk:
    """The first open move is said; those that need no travel are made at once.

    `again`, where they were given before. Raises `MoveFailed` for one that the axis has no room
    for.
    """
    for leg in places.legs:
        _has_room(talk, places, leg)
    lines = list(before)
    while places.legs:
        leg = places.legs[0]
        slide = places.slides[leg.axis]
        axis = talk.machine.axis(leg.axis)
        if slide.lost is Lost.COUNT:
            return replace(talk, places=places, answer=(*talk.answer, *count_lost(leg.axis)))
        if slide.lost is not Lost.NOTHING:
            ask = Ask(Intent(GO_ON), f"reading:{leg.axis}", whole_turns(leg.axis))
            return replace(talk, places=places, ask=ask, answer=(*talk.answer, *lines))
        move = move_of(axis, slide, leg)
        lines += leg_words(talk, leg, slide, again=again)
        if move.distance.magnitude or move.back_off is not None:
            break
        places = arrived(talk, places)
        if not places.legs:
            return on_from(replace(talk, answer=(*talk.answer, *lines)), places, leg)
    return replace(talk, places=places, answer=(*talk.answer, *lines))


def _has_room(talk: Talk, places: Places, leg: Leg) -> None:
    axis = talk.machine.axis(leg.axis)
    if within_travel(axis, places.slides[leg.axis], set_to_dial(axis, leg.target)):
        return
    assert axis.travel is not None
    raise MoveFailed(
        f"The {axis.name} has {size(axis.travel, axis)} of travel.", "That is past it: no move."
    )


def again(talk: Talk) -> Talk:
    """The move in hand once more."""
    return talk if talk.places.leg is None else give(talk, talk.places, again=True)


def there(talk: Talk, intent: Intent) -> Talk:
    """The move in hand is made."""
    leg = talk.places.leg
    if leg is None:
        raise MoveFailed("No move is open.")
    if talk.places.slides[leg.axis].lost is not Lost.NOTHING:
        return give(talk, talk.places, again=True)
    return on_from(talk, arrived(talk, talk.places), leg)


def go_on(talk: Talk, intent: Intent) -> Talk:
    """The move in hand, from where its axis was read to be."""
    leg = talk.places.leg
    if leg is None:
        return talk
    return give(talk, known(talk, talk.places, intent, leg.axis), again=True)


def on_from(talk: Talk, places: Places, leg: Leg) -> Talk:
    """What is said once a move is made: the next one, or where it stands."""
    if places.legs:
        return give(talk, places)
    axis, slide = talk.machine.axis(leg.axis), places.slides[leg.axis]
    lines = [f"{title(axis.name)} {place(slide.exact, axis)}."]
    pattern = places.pattern
    if pattern is not None and pattern.at:
        left = len(pattern.stops) - pattern.at
        lines = [f"{title(pattern.name)} {count(pattern.at)} of {count(len(pattern.stops))}.",
                 f"Say next {pattern.name}." if left else "That was the last."]  # fmt: skip
        if not left:
            places = replace(places, pattern=None)
    return replace(talk, places=places, answer=(*talk.answer, *lines))


# -- by a distance --------------------------------------------------------------------------------


def move(talk: Talk, intent: Intent) -> Talk:
    """One axis by a distance."""
    return _by(talk, intent, (("axis", "size", "way"),))


def move_then(talk: Talk, intent: Intent) -> Talk:
    """Two moves, one after the other."""
    return _by(talk, intent, (("axis", "size", "way"), ("other", "further", "after")))


def _by(talk: Talk, intent: Intent, parts: tuple[tuple[str, str, str], ...]) -> Talk:
    ways = [str(intent[way]) for _, _, way in parts]
    axes = [_axis_for(talk, intent, way, slot)
            for way, (slot, _, _) in zip(ways, parts, strict=True)]  # fmt: skip
    told = {slot: axis for (slot, _, _), axis in zip(parts, axes, strict=True)}
    intent = with_slots(intent, told)
    places = there_first(talk, intent)
    legs: list[Leg] = []
    exact: dict[str, Quantity] = {}
    last: tuple[str, Quantity] | None = None
    for (_, slot, _), way, axis in zip(parts, ways, axes, strict=True):
        places = known(talk, places, intent, axis, exactly=True)
        wheel = talk.machine.axis(axis)
        far = on_dial(wheel, intent.size(slot))
        if far.magnitude <= 0:
            raise MoveFailed("Say how far, and which way.")
        goes = far * sign_of(axis, way)
        target = exact.get(axis, places.slides[axis].exact) + goes
        exact[axis], last = target, (axis, goes)
        legs.append(Leg(axis, target, f"{way} {size(intent.size(slot), wheel)}"))
    places = replace(places, legs=tuple(legs), last=last if len(legs) == 1 else None, pattern=None)
    return give(talk, places)


def _axis_for(talk: Talk, intent: Intent, way: str, slot: str) -> str:
    """The axis that goes that way. Raises `AnswerMissing` where more than one does, `MoveFailed`
    where none."""
    named = intent.get(slot)
    if isinstance(named, str):
        sign_of(named, way)
        return named
    among = axes_that_go(talk, way)
    if not among:
        has = ", ".join(f"{name} {ways_of(name)}" for name in talk.machine.axes)
        raise MoveFailed(f"Nothing goes {way} here.", f"There is {has}.")
    return which_axis(talk, intent, among, slot)


def half(talk: Talk, intent: Intent) -> Talk:
    """Half of the last move: on, or back."""
    axis, far = _last(talk)
    ways = WAYS[axis]
    way, turned = intent.get("way"), intent.get("back")
    if isinstance(turned, int):
        return _same_again(talk, intent, axis, far / (-2 if turned else 2))
    if way is None:
        on, back = ways if far.magnitude > 0 else ways[::-1]
        raise AnswerMissing(intent, "way:way", f"Half of that: {back}, back again, or on {on}?")
    sign = sign_of(axis, str(way))
    return _same_again(talk, intent, axis, abs(far) / 2 * sign)


def half_back(talk: Talk, intent: Intent) -> Talk:
    """Half of the last move, back."""
    axis, far = _last(talk)
    return _same_again(talk, intent, axis, far / -2)


def once_more(talk: Talk, intent: Intent) -> Talk:
    """The last move once more."""
    axis, far = _last(talk)
    return _same_again(talk, intent, axis, far)


def _last(talk: Talk) -> tuple[str, Quantity]:
    if talk.places.last is None:
        raise MoveFailed("There is no one move to take that of.", "Say it in full.")
    return talk.places.last


def _same_again(talk: Talk, intent: Intent, axis: str, far: Quantity) -> Talk:
    places = known(talk, there_first(talk, intent), intent, axis, exactly=True)
    wheel = talk.machine.axis(axis)
    way = wheel.way(1 if far.magnitude > 0 else -1)
    leg = Leg(axis, places.slides[axis].exact + far, f"{way} {size(far, wheel)}")
    return give(talk, replace(places, legs=(leg,), last=(axis, far), pattern=None))


# -- to a place -----------------------------------------------------------------------------------


def to(talk: Talk, intent: Intent, at: Mapping[str, Quantity], what: str) -> Talk:
    """Every axis of `at` to its place, exact from its zero."""
    places = there_first(talk, intent)
    for axis in at:
        places = known(talk, places, intent, axis)
    legs = [Leg(axis, target, what) for axis, target in at.items()]
    return give(talk, replace(places, legs=in_order(legs, places), last=None, pattern=None))


def from_zero(talk: Talk, intent: Intent) -> Talk:
    """So far from zero."""
    way = str(intent["way"])
    axis = _axis_for(talk, intent, way, "axis")
    wheel = talk.machine.axis(axis)
    target = on_dial(wheel, intent.size("size")) * sign_of(axis, way)
    return to(
        talk, with_slots(intent, {"axis": axis}), {axis: target}, f"to {place(target, wheel)}"
    )


def to_zero(talk: Talk, intent: Intent) -> Talk:
    """Back to zero."""
    zeroed = tuple(name for name, one in talk.places.slides.items() if one.lost is not Lost.ZERO)
    if not zeroed:
        raise MoveFailed("No zero yet.", "Say zero here, where you are.")
    axis = which_axis(talk, intent, zeroed, more=", or all" if len(zeroed) > 1 else "")
    axes = zeroed if axis == "all" else (axis,)
    return to(talk, intent, {one: _nothing(talk, one) for one in axes}, "to zero")


def all_to_zero(talk: Talk, intent: Intent) -> Talk:
    """Every axis that has a zero."""
    return to_zero(talk, with_slots(replace(intent, name="to_zero"), {"axis": "all"}))


def to_mark(talk: Talk, intent: Intent) -> Talk:
    """To a marked place, along the work; or one axis to where it stood there."""
    letter = str(intent["mark"])
    at = _marked(talk, letter)
    axis = intent.get("axis")
    if axis is not None:
        if axis not in at:
            raise MoveFailed(f"{SPOKEN[letter].capitalize()} has no {axis}.")
        at = {str(axis): at[str(axis)]}
    return to(talk, intent, at, f"to {SPOKEN[letter]}")


def middle(talk: Talk, intent: Intent) -> Talk:
    """Between two marks, or between the touches."""
    one, other = intent.get("mark"), intent.get("other")
    if one is not None:
        first, second = _marked(talk, str(one)), _marked(talk, str(other))
        both = [axis for axis in along(talk.machine) if axis in first and axis in second]
        at = {axis: (first[axis] + second[axis]) / 2 for axis in both}
        if not at:
            raise MoveFailed("They have no axis in common.")
        return to(talk, intent, at, "to the middle")
    pairs = {axis: told for axis, told in talk.places.touches.items() if len(told) == 2}
    if not pairs:
        raise MoveFailed("The middle of what?", "Touch both sides, or name two marks.")
    return to(talk, intent, {axis: (told[0] + told[1]) / 2 for axis, told in pairs.items()},
              "to the middle")  # fmt: skip


def _marked(talk: Talk, letter: str) -> Mapping[str, Quantity]:
    at = talk.places.marks.get(letter)
    if at is None:
        raise MoveFailed(f"{SPOKEN[letter].capitalize()} isn't marked.")
    return at


def _nothing(talk: Talk, axis: str) -> Quantity:
    return quantity(0, unit_name(talk.machine.axis(axis).per_turn))


def how_far_to(talk: Talk, intent: Intent) -> Talk:
    """How far it is to a mark, or to zero."""
    letter = intent.get("mark")
    at = _marked(talk, str(letter)) if letter is not None else {
        name: _nothing(talk, name) for name, one in talk.places.slides.items()
        if one.lost is not Lost.ZERO
    }  # fmt: skip
    lines = []
    for axis, target in at.items():
        wheel, slide = talk.machine.axis(axis), talk.places.slides[axis]
        called = title(axis)
        if slide.lost is not Lost.NOTHING:
            lines.append(f"{called}: not known, until its dial is read.")
            continue
        far = target - slide.exact
        way = wheel.way(1 if far.magnitude > 0 else -1)
        lines.append(
            f"{called} {size(far, wheel)} {way}." if far.magnitude else f"{called} is there."
        )
    return replace(talk, answer=tuple(lines) or ("No zero yet.",))
