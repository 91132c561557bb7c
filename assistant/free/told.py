"""What is told of where an axis stands, before a command that needs it is done."""

from __future__ import annotations

from dataclasses import replace

from assistant.calc import dial
from assistant.errors import BadInput
from assistant.free.places import (
    Lost,
    Places,
    Slide,
    as_axis_state,
    moved_to,
    on_dial,
    set_to_dial,
    slack_matters,
    stands,
    within_travel,
)
from assistant.free.talk import AnswerMissing, MoveFailed, Talk
from assistant.free.words import title
from assistant.machine import WAYS
from assistant.session.readings import Going, places_from_reading
from assistant.spoken import Intent
from assistant.units import Quantity, is_quantity

ONCE_MORE = "Then come to it once more from one side, and say it again."
GO_ON = "go_on"
"""Once its dial is read, the move in hand is given anew."""


def whole_turns(axis: str) -> str:
    """The question for a dial with its turns."""
    return f"Whole turns from zero, and what does the {axis} dial read?"


def count_lost(axis: str) -> tuple[str, ...]:
    """What finds the count of an axis again."""
    return (f"The {axis}'s count is lost.", "Bring it back to its zero or to a mark.",
            "Then say I'm back at zero.")  # fmt: skip


def axes_that_go(talk: Talk, way: str) -> tuple[str, ...]:
    """The axes of the machine that have this way."""
    return tuple(name for name in talk.machine.axes if way in WAYS[name])


def which_axis(
    talk: Talk, intent: Intent, among: tuple[str, ...], slot: str = "axis", more: str = ""
) -> str:
    """The axis that is meant, of several. Raises `AnswerMissing` where it isn't told."""
    named = intent.get(slot)
    if isinstance(named, str):
        return named
    if len(among) == 1:
        return among[0]
    listed = " or ".join(filter(None, (", ".join(among[:-1]), among[-1])))
    words = f"Which one: {', '.join(among)}{more}?" if more else f"{listed}?"
    raise AnswerMissing(intent, f"axis:{slot}", title(words))


def sign_of(axis: str, way: str) -> int:
    """+1 or -1 for a way of that axis. Raises `MoveFailed` for one that it doesn't have."""
    ways = WAYS[axis]
    if way not in ways:
        raise MoveFailed(f"The {axis} goes {ways[0]} or {ways[1]}.")
    return 1 if way == ways[0] else -1


def way_that_it_came(intent: Intent, axis: str) -> int:
    """The way of its last travel. Raises `AnswerMissing` where it isn't told."""
    told = intent.get(f"came:{axis}")
    if isinstance(told, int):
        return told
    one, other = WAYS[axis]
    words = f"Which way did the {axis} go last, {one} or {other}?"
    raise AnswerMissing(intent, f"came:{axis}", words)


def there_first(talk: Talk, intent: Intent) -> Places:
    """The places once the move in hand is made. Raises `AnswerMissing` where that isn't told,
    `MoveFailed` where there is more of it."""
    leg = talk.places.leg
    if leg is None:
        return talk.places
    lost = talk.places.slides[leg.axis].lost
    if lost is Lost.COUNT:
        raise MoveFailed(*count_lost(leg.axis))
    if lost is not Lost.NOTHING:
        raise AnswerMissing(Intent(GO_ON), f"reading:{leg.axis}", f"First: {whole_turns(leg.axis)}")
    if len(talk.places.legs) > 1:
        raise MoveFailed("There is more of that move.", "Say I'm there, or drop it.")
    if intent.get("yes:there") is None:
        raise AnswerMissing(intent, "yes:there", f"Are you there with the {leg.axis}? Yes or no.")
    return arrived(talk, talk.places)


def arrived(talk: Talk, places: Places) -> Places:
    """The move in hand is made, as it was told."""
    leg = places.legs[0]
    slide, axis = places.slides[leg.axis], talk.machine.axis(leg.axis)
    there = moved_to(
        slide, set_to_dial(axis, leg.target), exact=leg.target, came=slide.side, sure=True
    )
    return replace(places.with_slide(leg.axis, there), legs=places.legs[1:])


def known(
    talk: Talk, places: Places, intent: Intent, axis: str, *, exactly: bool = False
) -> Places:
    """The places with that axis known; `exactly` where it also counts on which side its backlash
    is. Raises `AnswerMissing` or `MoveFailed` where it isn't told."""
    slide, wheel = places.slides[axis], talk.machine.axis(axis)
    if slide.lost is Lost.ZERO:
        raise MoveFailed(f"No zero on the {axis} yet.", f"Say zero the {axis}.")
    if slide.lost is Lost.COUNT:
        raise MoveFailed(*count_lost(axis))
    if slide.lost is Lost.TURN:
        slide = read_anew(talk, places, intent, axis)
    if exactly and slack_matters(wheel) and not slide.sure:
        slide = came_so(talk, slide, axis, way_that_it_came(intent, axis))
    return places.with_slide(axis, slide)


def came_so(talk: Talk, slide: Slide, axis: str, came: int) -> Slide:
    """The slide, come the way that was told."""
    wheel = talk.machine.axis(axis)
    there = moved_to(slide, slide.dialled, exact=slide.exact, came=came, sure=True)
    return moved_to(there, slide.dialled, exact=stands(wheel, there), came=came, sure=True)


def read_anew(talk: Talk, places: Places, intent: Intent, axis: str) -> Slide:
    """Where an axis stands by its dial, which has to be told. Raises `AnswerMissing`, or
    `MoveFailed` for a reading that can't be."""
    slide, wheel = places.slides[axis], talk.machine.axis(axis)
    reading, turns = intent.get(f"reading:{axis}"), intent.get(f"turns:{axis}")
    lost = slide.lost is not Lost.NOTHING
    whole = whole_turns(axis)
    if not is_quantity(reading):
        raise AnswerMissing(intent, f"reading:{axis}", whole)
    leg, side = places.leg, intent.get(f"side:{axis}")
    going = None
    if leg is not None and leg.axis == axis and not lost:
        going = Going(set_to_dial(wheel, leg.target), slide.side)
    told = turns is not None or on_dial(wheel, reading) >= wheel.per_turn
    if lost and not told:
        raise AnswerMissing(intent, f"reading:{axis}", whole)
    try:
        found = places_from_reading(
            wheel, as_axis_state(slide), reading, turns if isinstance(turns, int) else None,
            going=going, side=side if isinstance(side, int) else 0, known=not lost,
        )  # fmt: skip
    except BadInput as bad:
        raise AnswerMissing(
            intent, f"reading:{axis}", f"{bad.want.capitalize()}. Read it again."
        ) from bad
    within = [one for one in found if within_travel(wheel, slide, one)]
    if not within:
        raise MoveFailed(f"That is past the travel of the {axis}.", "Read it again.")
    if len(within) > 1 and told:
        one, other = WAYS[axis]
        raise AnswerMissing(intent, f"side:{axis}", f"{one.capitalize()} of zero, or {other}?")
    if len(within) > 1:
        raise AnswerMissing(intent, f"reading:{axis}", f"Which turn? {whole}")
    return at_reading(talk, places, axis, within[0])


def at_reading(talk: Talk, places: Places, axis: str, place: Quantity) -> Slide:
    """The slide with its screw read to be at a place. Which way it came there is believed of a move
    that was told; of one by hand it isn't known."""
    slide, wheel = places.slides[axis], talk.machine.axis(axis)
    gone = place - slide.dialled
    leg = places.leg
    told = leg is not None and leg.axis == axis and slide.lost is Lost.NOTHING
    came, sure = slide.came, slide.sure
    if slide.lost is not Lost.NOTHING:
        came, sure = slide.side, False
    elif gone.magnitude and abs(gone) > wheel.backlash:
        came, sure = (1 if gone.magnitude > 0 else -1), told
    elif gone.magnitude:
        sure = False
    there = moved_to(slide, place, exact=place, came=came, sure=sure)
    exact = slide.exact if not gone.magnitude and slide.lost is Lost.NOTHING else (
        stands(wheel, there)
    )  # fmt: skip
    return moved_to(slide, place, exact=exact, came=came, sure=sure)


def shows(talk: Talk, slide: Slide, axis: str) -> Quantity:
    """What its dial should read."""
    wheel = talk.machine.axis(axis)
    return dial.reading(slide.dialled, wheel.per_turn, wheel.rises, slide.reading)
