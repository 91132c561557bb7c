"""Zeros, marks and touches."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from assistant.free.going import give
from assistant.free.places import (
    LETTERS,
    Lost,
    Places,
    Slide,
    along,
    dialled_for,
    moved_to,
    on_dial,
    slack_matters,
    stands,
)
from assistant.free.talk import AnswerMissing, MoveFailed, Talk, with_slots
from assistant.free.told import known, read_anew, shows, there_first, way_that_it_came, which_axis
from assistant.free.words import SPOKEN, place, size, title
from assistant.machine import Axis
from assistant.phrases import saying
from assistant.spoken import Intent
from assistant.units import Quantity, is_quantity

# -- zeros ----------------------------------------------------------------------------------------


def zero(talk: Talk, intent: Intent) -> Talk:
    """The axis has its zero where it stands."""
    axis = which_axis(talk, intent, tuple(talk.machine.axes), more=", or all")
    named = tuple(talk.machine.axes) if axis == "all" else (axis,)
    places = there_first(talk, intent)
    lines: list[str] = []
    for one in named:
        places, words = _zeroed(talk, places, intent, one)
        lines += words
    return replace(talk, places=places, answer=tuple(lines))


def zero_all(talk: Talk, intent: Intent) -> Talk:
    """Every axis of the machine."""
    return zero(talk, with_slots(replace(intent, name="zero"), {"axis": "all"}))


def _zeroed(
    talk: Talk, places: Places, intent: Intent, axis: str
) -> tuple[Places, tuple[str, ...]]:
    """One axis with its zero here, and what is said of it."""
    before, wheel = places.slides[axis], talk.machine.axis(axis)
    ring = wheel.settable and not before.ring_stays
    had = before.lost is not Lost.ZERO
    shown = _shown(talk, intent, axis, before) if had or not ring else None
    still = had and before.lost is Lost.NOTHING and shown is not None and _same(
        wheel, shown, shows(talk, before, axis)
    )  # fmt: skip
    came = before.came if still and before.sure else _side(intent, wheel)
    was = stands(wheel, before) if still else _where_it_was(talk, places, intent, axis, came)
    nothing = before.dialled * 0
    after = Slide(
        nothing, nothing, nothing if ring or shown is None else on_dial(wheel, shown),
        side=came, came=came, sure=True, lost=Lost.NOTHING, low=nothing, high=nothing,
        ring_stays=before.ring_stays, zeros=before.zeros + 1,
    )  # fmt: skip
    if was is not None:
        low, high = before.low, before.high
        after = replace(
            after,
            low=nothing if low is None else min(nothing, low - was),
            high=nothing if high is None else max(nothing, high - was),
        )
    after_all = replace(_recounted(places, axis, was), last=None).with_slide(axis, after)
    gone = [letter for letter, at in places.marks.items()
            if axis in at and axis not in after_all.marks.get(letter, {})]  # fmt: skip
    return after_all, _zero_words(wheel, ring, came, [SPOKEN[letter] for letter in gone])


def _zero_words(axis: Axis, ring: bool, came: int, gone: list[str]) -> tuple[str, ...]:
    called = title(axis.name)
    lines = [f"{called} zero here. Set its dial to zero." if ring else f"{called} zero here. "
             "Leave its dial as it is."]  # fmt: skip
    if not axis.backlash_known:
        lines.append("Its backlash isn't in the machine's file.")
    if slack_matters(axis):
        lines.append(f"Every place is come to going {axis.way(came)}.")
    if gone:
        lines.append(f"{' and '.join(gone).capitalize()} has no {axis.name} any more.")
    return tuple(lines)


def _shown(talk: Talk, intent: Intent, axis: str, slide: Slide) -> Quantity:
    """What its dial reads, within its turn."""
    told = intent.get(f"shows:{axis}")
    if not is_quantity(told):
        has = "The {0} has a zero. What does its dial read?" if slide.lost is not Lost.ZERO else (
            "The {0} dial stays as it is. What does it read?"
        )  # fmt: skip
        raise AnswerMissing(intent, f"shows:{axis}", has.format(axis))
    wheel = talk.machine.axis(axis)
    if on_dial(wheel, told) >= wheel.per_turn:
        raise AnswerMissing(
            intent, f"shows:{axis}", "More than a turn. What does the dial itself read?"
        )
    return told


def _same(axis: Axis, one: Quantity, other: Quantity) -> bool:
    """Whether two readings of a dial are one, to half a division; zero and a whole turn are."""
    apart = abs(on_dial(axis, one) - on_dial(axis, other))
    return bool(min(apart, axis.per_turn - apart) <= axis.graduation / 2)


def _side(intent: Intent, axis: Axis) -> int:
    return way_that_it_came(intent, axis.name) if slack_matters(axis) else 1


def _where_it_was(
    talk: Talk, places: Places, intent: Intent, axis: str, came: int
) -> Quantity | None:
    """Where the new zero lies from the old one, for what is marked; None where that isn't known, or
    nothing is marked."""
    before = places.slides[axis]
    marked = any(axis in at for at in places.marks.values()) or bool(places.touches.get(axis))
    if not marked or before.lost in (Lost.ZERO, Lost.COUNT) or intent.get(f"drop:{axis}"):
        return None
    lost = places.with_slide(axis, replace(before, lost=Lost.TURN))
    found = read_anew(talk, lost, intent, axis)
    wheel = talk.machine.axis(axis)
    return stands(wheel, replace(found, came=came))


def _recounted(places: Places, axis: str, was: Quantity | None) -> Places:
    """Marks and touches counted from the new zero, or without that axis."""
    marks: dict[str, Mapping[str, Quantity]] = {}
    for letter, at in places.marks.items():
        kept = {name: value for name, value in at.items() if name != axis}
        if axis in at and was is not None:
            kept = {name: value - was if name == axis else value for name, value in at.items()}
        if kept:
            marks[letter] = MappingProxyType(kept)
    touches = {name: told for name, told in places.touches.items() if name != axis}
    if was is not None and axis in places.touches:
        touches[axis] = tuple(one - was for one in places.touches[axis])
    return replace(
        places, marks=MappingProxyType(marks), touches=MappingProxyType(touches), pattern=None
    )


# -- marks ----------------------------------------------------------------------------------------


def mark(talk: Talk, intent: Intent) -> Talk:
    """The place on the work where it stands is marked."""
    letter = intent.get("mark")
    free = [one for one in LETTERS if one not in talk.places.marks]
    if letter is None and not free:
        raise MoveFailed("All six marks are set.", "Say mark this as alpha, to set it anew.")
    letter = free[0] if letter is None else str(letter)
    places = there_first(talk, intent)
    if letter in places.marks and intent.get("yes:anew") is None:
        words = f"{SPOKEN[letter].capitalize()} is set already. Set it here instead?"
        raise AnswerMissing(with_slots(intent, {"mark": letter}), "yes:anew", words)
    at: dict[str, Quantity] = {}
    for axis in along(talk.machine):
        if places.slides[axis].lost is Lost.ZERO:
            continue
        places = known(talk, places, intent, axis, exactly=True)
        at[axis] = places.slides[axis].exact
    if not at:
        raise MoveFailed("No zero yet.", f"Say zero the {along(talk.machine)[0]}.")
    marks = MappingProxyType({**places.marks, letter: MappingProxyType(at)})
    where = [f"{name} {place(value, talk.machine.axis(name))}" for name, value in at.items()]
    name = SPOKEN[letter].capitalize()
    lines = [f"{name}: {one}." if not i else f"{title(one)}."
             for i, one in enumerate(where)]  # fmt: skip
    if not places.marks:
        lines.append("Moved it by hand? Say so first.")
    return replace(talk, places=replace(places, marks=marks), answer=tuple(lines))


# -- touches --------------------------------------------------------------------------------------


def touched(talk: Talk, intent: Intent) -> Talk:
    """The axis touches something: of one without a zero that is its zero; the second on the other
    side gives the middle."""
    axis = which_axis(talk, intent, along(talk.machine))
    intent = with_slots(intent, {"axis": axis})
    places = there_first(talk, intent)
    wheel = talk.machine.axis(axis)
    if places.slides[axis].lost is Lost.ZERO:
        places, words = _zeroed(talk, places, intent, axis)
        at = places.slides[axis].exact
        kept = MappingProxyType({**places.touches, axis: (at,)})
        lines = (*words, "Now the other side.")
        return replace(talk, places=replace(places, touches=kept), answer=lines)
    if places.slides[axis].lost is Lost.COUNT:
        known(talk, places, intent, axis)
    # it was brought there by hand, so that only its dial tells where that is
    asked = places.with_slide(axis, replace(places.slides[axis], lost=Lost.TURN))
    slide = read_anew(talk, asked, intent, axis)
    if slack_matters(wheel):
        came = way_that_it_came(intent, axis)
        slide = moved_to(slide, slide.dialled, exact=slide.exact, came=came, sure=True)
    slide = replace(slide, exact=stands(wheel, slide))
    told = (*places.touches.get(axis, ()), slide.exact)[-2:]
    places = replace(
        places.with_slide(axis, slide), touches=MappingProxyType({**places.touches, axis: told})
    )
    said = [f"Touched, {place(slide.exact, wheel)}."]
    if len(told) == 2:
        apart = size(told[1] - told[0], wheel)
        said.append(f"{title(apart)} between the touches, the tip not counted.")
        said.append("Say go to the middle.")
        if not wheel.backlash_known:
            said.append("Touched from both sides: its backlash isn't known, and half of it stays.")
    return replace(talk, places=places, answer=tuple(said))


def back_at(talk: Talk, intent: Intent) -> Talk:
    """It was brought back to a place that is known: there its count is found again."""
    letter = intent.get("mark")
    places = talk.places
    at = {} if letter is None else places.marks.get(str(letter))
    if at is None:
        raise MoveFailed(f"{SPOKEN[str(letter)].capitalize()} isn't marked.")
    lost = tuple(name for name, one in places.slides.items()
                 if one.lost in (Lost.TURN, Lost.COUNT) and (not at or name in at))  # fmt: skip
    among = lost or tuple(at) or tuple(
        name for name, one in places.slides.items() if one.lost is not Lost.ZERO
    )  # fmt: skip
    if not among:
        raise MoveFailed("No zero yet.", "Say zero here.")
    axis = which_axis(talk, intent, among)
    slide, wheel = places.slides[axis], talk.machine.axis(axis)
    if slide.lost is Lost.ZERO or (at and axis not in at):
        raise MoveFailed(f"The {axis} isn't known there.")
    came = _side(with_slots(intent, {"axis": axis}), wheel)
    target = at.get(axis, slide.dialled * 0)
    screw = dialled_for(wheel, target, slide.side, came)
    slide = moved_to(slide, screw, exact=target, came=came, sure=True)
    reading = saying.say_reading(shows(talk, slide, axis))
    words = (f"{title(axis)} {place(target, wheel)}.",
             f"Its dial reads {reading} there, or it slipped.")  # fmt: skip
    places = places.with_slide(axis, slide)
    if places.legs:
        return give(replace(talk, answer=words), places, again=True)
    return replace(talk, places=places, answer=words)
