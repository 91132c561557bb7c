"""Free moves for the eye: the move in hand as every other move, else where everything stands."""

from __future__ import annotations

from dataclasses import replace

from assistant.free.places import Lost, stands
from assistant.free.talk import Ask, Talk
from assistant.free.words import (
    CAUTIONS,
    SPOKEN,
    axis_line,
    figure,
    leg_words,
    on_what,
    question,
    title,
    where,
)
from assistant.machine import WAYS, Axis
from assistant.present.formatting import show, show_number, stop_of, widest
from assistant.present.glance import Glance, Moment
from assistant.present.glance_of import staying, way_shown
from assistant.units import Quantity

SAYS = {
    "axis": "one of these",
    "came": "one of these, or not sure",
    "side": "one of these",
    "way": "back, on, or a way",
    "reading": "turns and dial, as two turns and eleven",
    "shows": "what the dial reads",
    "clock": "three o'clock, or degrees",
    "yes": "yes or no",
}


def page(talk: Talk) -> Glance:
    """What is shown, without the state of the ear."""
    shown = Glance(
        Moment.NOTE, job=f"Free moves on the {talk.machine.name}", answer=talk.answer,
        cautions=() if talk.begun else CAUTIONS, place=_place(talk),
    )  # fmt: skip
    if talk.asks:
        return _asked(talk, shown)
    if talk.places.leg is not None:
        return _moving(talk, shown)
    lines = tuple(line for name in talk.places.slides if (line := _stands(talk, name)))
    kept = tuple(_mark(talk, letter) for letter in talk.places.marks)
    shown = replace(shown, answer=_unsaid(talk, where(talk)))
    end = "back to the job" if talk.job else "that's all"
    first = next(iter(talk.machine.axes))
    say = f"two inches left, mark this one, {end}" if lines else f"zero the {first}"
    return replace(shown, instruction=" ".join(lines) or "No zero yet.", detail=kept, say=say)


def _unsaid(talk: Talk, said: tuple[str, ...]) -> tuple[str, ...]:
    """What was answered, without what the page shows anyway."""
    return tuple(line for line in talk.answer if line not in said)


def _stands(talk: Talk, name: str) -> str:
    """Where an axis stands, in figures; in words what isn't known of it; '' without a zero."""
    slide, axis = talk.places.slides[name], talk.machine.axis(name)
    if slide.lost is not Lost.NOTHING:
        return axis_line(talk, name)
    return f"{title(name)} {_at(stands(axis, slide), axis)}."


def _mark(talk: Talk, letter: str) -> str:
    at = talk.places.marks[letter]
    parts = [f"{name} {_at(value, talk.machine.axis(name))}" for name, value in at.items()]
    return f"{title(SPOKEN[letter])}: {', '.join(parts)}"


def _at(value: Quantity, axis: Axis) -> str:
    """A place in figures, by its side of zero."""
    if not value.magnitude:
        return "at zero"
    sign = 1 if value.magnitude > 0 else -1
    return f"{show(value * sign)} {axis.way(sign)} of zero"


def _place(talk: Talk) -> str:
    pattern = talk.places.pattern
    if pattern is not None and pattern.at:
        return f"{pattern.name} {pattern.at} of {len(pattern.stops)}"
    more = len(talk.places.legs) - 1
    return f"{more} more after it" if more > 0 else ""


def _moving(talk: Talk, shown: Glance) -> Glance:
    """The move in hand: its number, turns, reading, way and dial."""
    leg, made = talk.places.legs[0], figure(talk)
    if made is None or made.move is None:
        return replace(shown, moment=Moment.ASK, instruction=axis_line(talk, leg.axis))
    axis, slide = talk.machine.axis(leg.axis), talk.places.slides[leg.axis]
    move, arriving = made.move, axis.way(slide.side)
    made = staying(made, arriving)
    number, unit = show_number(made)
    counted = f", {on_what(axis)}" if on_what(axis) else ""
    lines = tuple(line for name in talk.places.slides
                  if name != leg.axis and (line := _stands(talk, name)))  # fmt: skip
    told = (*leg_words(talk, leg, slide), *leg_words(talk, leg, slide, again=True))
    return replace(
        shown, moment=Moment.MOVE, number=number, unit=unit, what=made.what, widest=widest(made),
        instruction=f"{title(axis.name)} {leg.what}{counted}.", move=move,
        stop=stop_of(move), way=way_shown(move, arriving), detail=lines, say="I'm there",
        answer=_unsaid(talk, told),
    )  # fmt: skip


def _asked(talk: Talk, shown: Glance) -> Glance:
    shown = replace(shown, moment=Moment.ASK, instruction=question(talk))
    if talk.doubt is not None:
        both = talk.doubt.otherwise is not None
        return replace(shown, choices=() if both else ("yes", "no"), say="it again" if both else "")
    ask = talk.ask
    assert ask is not None
    return replace(shown, choices=_choices(talk, ask), say=SAYS.get(ask.kind, ""))


def _choices(talk: Talk, ask: Ask) -> tuple[str, ...]:
    match ask.kind:
        case "came" | "side":
            return WAYS[ask.axis]
        case "way":
            return ("back", "on")
        case "yes":
            return ("yes", "no")
        case "axis" if ask.intent.name in ("move", "move_then"):
            way = ask.intent.get("after" if ask.axis == "other" else "way")
            return tuple(name for name in talk.machine.axes if way in WAYS[name])
        case "axis":
            named = tuple(name for name, one in talk.places.slides.items()
                          if ask.intent.name == "zero" or one.lost is not Lost.ZERO)  # fmt: skip
            return (*named, "all") if ask.intent.name in ("zero", "to_zero") else named
    return ()
