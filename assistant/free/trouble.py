"""What goes wrong: nothing here can restore a dial, so what it makes unsure has to be told anew."""

from __future__ import annotations

from dataclasses import replace

from assistant.free.going import give, on_from
from assistant.free.places import Lost, Places, on_dial, set_to_dial, stands
from assistant.free.talk import MoveFailed, Record, Talk, with_slots
from assistant.free.told import arrived, count_lost, read_anew, which_axis
from assistant.free.words import place, title
from assistant.spoken import Intent
from assistant.units import is_quantity

WILL_ASK = "I ask for the {}'s dial before its next move."


def dial_reads(talk: Talk, intent: Intent) -> Talk:
    """What a dial reads: where its axis stands is taken from it."""
    axis = _in_hand(talk, intent)
    if intent.get("reading") is not None:
        told = {f"reading:{axis}": intent["reading"], f"turns:{axis}": intent.get("turns")}
        intent = with_slots(intent, {"axis": axis, "reading": None, "turns": None, **told})
    slide = talk.places.slides[axis]
    if slide.lost is Lost.ZERO:
        raise MoveFailed(f"No zero on the {axis} yet.", f"Say zero the {axis}.")
    if slide.lost is Lost.COUNT:
        talk = replace(talk, places=talk.places.with_slide(axis, replace(slide, lost=Lost.TURN)))
    found = read_anew(talk, talk.places, intent, axis)
    places = talk.places.with_slide(axis, found)
    leg, wheel = places.leg, talk.machine.axis(axis)
    if leg is None or leg.axis != axis:
        words = f"{title(axis)} {place(stands(wheel, found), wheel)}."
        return give(replace(talk, answer=(words,)), places, again=True) if leg is not None else (
            replace(talk, places=places, answer=(words,))
        )  # fmt: skip
    if found.dialled == set_to_dial(wheel, leg.target):
        return on_from(talk, arrived(talk, places), leg)
    return give(talk, places, again=True)


def went_past(talk: Talk, intent: Intent) -> Talk:
    """The handle went too far: back off, and come again."""
    leg = talk.places.leg
    if leg is None:
        raise MoveFailed("No move is open.", "Read me the dial: table reads, or whichever.")
    slide, wheel = talk.places.slides[leg.axis], talk.machine.axis(leg.axis)
    if slide.lost is not Lost.NOTHING:
        raise MoveFailed(f"Read me the {leg.axis} dial, with its turns.")
    past = intent.get("size")
    beyond = on_dial(wheel, past) if is_quantity(past) else wheel.graduation
    target = set_to_dial(wheel, leg.target)
    there = replace(slide, dialled=target + beyond * slide.side, came=slide.side, sure=True)
    places = talk.places.with_slide(leg.axis, there)
    return give(replace(talk, answer=("Back off, and come again.",)), places, again=True)


def lost_count(talk: Talk, intent: Intent) -> Talk:
    """The turns of an axis are lost."""
    axis = _in_hand(talk, intent)
    if talk.places.slides[axis].lost is Lost.ZERO:
        raise MoveFailed(f"The {axis} has no count to lose.")
    return replace(talk, places=shaken(talk.places, axis, Lost.COUNT), answer=count_lost(axis))


def by_hand(talk: Talk, intent: Intent) -> Talk:
    """An axis was moved by hand."""
    axis = _in_hand(talk, intent)
    if talk.places.slides[axis].lost is Lost.ZERO:
        raise MoveFailed(f"The {axis} has no zero yet.")
    places = shaken(talk.places, axis, Lost.TURN)
    return replace(talk, places=places, answer=(WILL_ASK.format(axis),))


def dial_slipped(talk: Talk, intent: Intent) -> Talk:
    """The ring of a dial slipped: its zero is worth nothing."""
    axis = _in_hand(talk, intent)
    if talk.places.slides[axis].lost is Lost.ZERO:
        raise MoveFailed(f"The {axis} has no zero to lose.")
    words = (f"The {axis}'s zero is gone.", f"Touch again, and say zero the {axis}.")
    return replace(talk, places=shaken(talk.places, axis, Lost.ZERO), answer=words)


def _in_hand(talk: Talk, intent: Intent) -> str:
    """The axis that is meant: named, else of the move in hand, else the one that has a zero."""
    named, leg = intent.get("axis"), talk.places.leg
    if isinstance(named, str):
        return named
    if leg is not None:
        return leg.axis
    zeroed = tuple(name for name, one in talk.places.slides.items() if one.lost is not Lost.ZERO)
    return which_axis(talk, intent, zeroed or tuple(talk.machine.axes))


def shaken(places: Places, axis: str, lost: Lost) -> Places:
    """The places without what isn't known of an axis any more. What is lost for good stays lost."""
    slide = places.slides[axis]
    if slide.lost is Lost.ZERO:
        return places
    worst = lost
    if slide.lost is Lost.COUNT and lost is Lost.TURN:
        worst = slide.lost
    after = places.with_slide(axis, replace(slide, lost=worst, sure=False))
    if worst is not Lost.ZERO:
        return after
    legs = tuple(leg for leg in after.legs if leg.axis != axis)
    gone = legs != after.legs
    return replace(after, legs=() if gone else legs, pattern=None if gone else after.pattern,
                   last=None, touches={n: t for n, t in after.touches.items() if n != axis},
                   marks={m: kept for m, at in after.marks.items()
                          if (kept := {n: v for n, v in at.items() if n != axis})})  # fmt: skip


def undo(talk: Talk, intent: Intent) -> Talk:
    """The last command is taken back: the word, not the handle and not the dial. An axis that it
    moved or zeroed may stand at either place, and that outlives the next one taken back."""
    if not talk.history:
        raise MoveFailed("Nothing to take back.")
    last = talk.history[-1]
    now, before = talk.places, last.before
    earlier = [record.before for record in talk.history]
    for axis, slide in now.slides.items():
        then = before.slides[axis]
        told = {leg.axis for leg in (*now.legs[:1], *before.legs[:1])}
        if slide == then and (axis not in told or now.legs == before.legs):
            continue
        ring = talk.machine.axis(axis).settable and not slide.ring_stays
        how = Lost.ZERO if slide.zeros != then.zeros and ring else Lost.TURN
        earlier = [shaken(one, axis, how) for one in earlier]
    history = tuple(
        Record(record.words, one) for record, one in zip(talk.history, earlier, strict=True)
    )
    back = replace(talk, places=earlier[-1], history=history[:-1])
    lines = [f"Taken back: {last.words}."]
    lost = [axis for axis, one in back.places.slides.items()
            if one.lost is not now.slides[axis].lost and one.lost is not Lost.NOTHING]  # fmt: skip
    for axis in lost:
        zero = back.places.slides[axis].lost is Lost.ZERO
        lines.append(f"The {axis} has no zero now." if zero else
                     WILL_ASK.format(axis))  # fmt: skip
    return replace(back, answer=tuple(lines))


def drop(talk: Talk, intent: Intent) -> Talk:
    """What is open is left: the moves, the holes, the touches."""
    places = talk.places
    if not places.legs and places.pattern is None and not places.touches:
        raise MoveFailed("Nothing is open.")
    leg = places.leg
    if leg is not None:
        places = shaken(places, leg.axis, Lost.TURN)
    words = ("Dropped.",) if leg is None else (
        "Dropped.", WILL_ASK.format(leg.axis))  # fmt: skip
    return replace(talk, places=replace(places, legs=(), pattern=None, touches={}), answer=words)


def resumed(talk: Talk) -> Talk:
    """Taken up after a break: nobody knows what was moved meanwhile. Every dial has to be read."""

    def doubted(places: Places) -> Places:
        for axis in places.slides:
            places = shaken(places, axis, Lost.TURN)
        return places

    history = tuple(Record(one.words, doubted(one.before)) for one in talk.history)
    return replace(talk, places=doubted(talk.places), history=history, ask=None, doubt=None,
                   answer=())  # fmt: skip
