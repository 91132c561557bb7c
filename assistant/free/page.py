"""Free moves for the eye: the move in hand as every other move, else where everything stands."""

from __future__ import annotations

from dataclasses import replace

from assistant.free.places import Lost
from assistant.free.talk import Ask, Talk
from assistant.free.words import CAUTIONS, axis_line, figure, marks, on_what, question, title
from assistant.machine import WAYS
from assistant.present.formatting import show_number, stop_of, widest
from assistant.present.glance import Glance, Moment
from assistant.present.glance_of import staying, way_shown

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
    lines = tuple(line for name in talk.places.slides if (line := axis_line(talk, name)))
    kept = marks(talk) if talk.places.marks else ()
    end = "back to the job" if talk.job else "that's all"
    first = next(iter(talk.machine.axes))
    say = f"two inches left, mark this one, {end}" if lines else f"zero the {first}"
    return replace(shown, instruction=" ".join(lines) or "No zero yet.", detail=kept, say=say)


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
                  if name != leg.axis and (line := axis_line(talk, name)))  # fmt: skip
    return replace(
        shown, moment=Moment.MOVE, number=number, unit=unit, what=made.what, widest=widest(made),
        instruction=f"{title(axis.name)} {leg.what}{counted}.", move=move,
        stop=stop_of(move), way=way_shown(move, arriving), detail=lines, say="I'm there",
        answer=(),
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
