"""Free moves in words: moves as every other move is said, places, what can be said."""

from __future__ import annotations

from decimal import Decimal

from assistant.filling.said import size_words
from assistant.free.places import LETTERS, Leg, Lost, Slide, move_of, slack_matters, stands
from assistant.free.talk import Talk
from assistant.machine import WAYS, Axis
from assistant.phrases import saying
from assistant.present.formatting import show
from assistant.present.move_words import move_sentence
from assistant.session.instruct import places_of
from assistant.spoken import Figure, Intent
from assistant.units import Quantity, is_quantity

SPOKEN = dict(zip(LETTERS, ("alpha", "bravo", "charlie", "delta", "echo", "foxtrot"), strict=True))
"""What a mark is called aloud: its letter rhymes with the others."""
CAUTIONS = (
    "I can't see the work, the clamps, or a tool in the way.",
    "The cutter may be turning. Clear of everything before you move.",
)
STOP = "Hit your stop button. I can't."
UNKNOWN = "I don't know that here."
HELP = (
    "Say zero the table, two inches left, back to zero, or half of that.",
    "Mark this one, go to alpha, middle of alpha and bravo, touched.",
    "Bolt circle of six on three inches, or row of five half an inch apart right.",
    "Once moved: I'm there. Or the dial: I'm at thirty-one.",
    "Also: went past, lost count, I moved it, scratch that, why, where am I, that's all.",
)
"""What can be said."""


def unit_of(axis: Axis) -> str:
    """`inch` or `mm`: what its dial is marked in."""
    return "mm" if "meter" in str(axis.per_turn.units) else "inch"


def size(value: Quantity, axis: Axis) -> str:
    """A distance, as it is read back."""
    far: Quantity = value * (1 if value.magnitude >= 0 else -1)
    return size_words(far, unit_of(axis))


def title(words: str) -> str:
    """Words as a sentence begins."""
    return f"{words[:1].upper()}{words[1:]}"


def place(value: Quantity, axis: Axis, *, bare: bool = False) -> str:
    """A place by its side of zero: `two inches left of zero`."""
    if not value.magnitude:
        return "zero" if bare else "at zero"
    way = axis.way(1 if value.magnitude > 0 else -1)
    return f"{size(value, axis)} {way} of zero"


def on_what(axis: Axis) -> str:
    """What a cross slide's dial counts."""
    if axis.name != "cross slide":
        return ""
    return "on the diameter" if axis.diameter_reading else "on the radius"


def leg_words(talk: Talk, leg: Leg, slide: Slide, *, again: bool = False) -> tuple[str, ...]:
    """A move: what was heard of it, then the handle. Given `again`, from elsewhere, it is named by
    where it goes: how far it is by now is another distance."""
    axis = talk.machine.axis(leg.axis)
    back = (
        f"{axis.name} to {place(leg.target, axis, bare=True)}"
        if again
        else f"{axis.name} {leg.what}"
    )
    counted = on_what(axis)
    back = f"{back}, {counted}" if counted else back
    said = move_sentence(move_of(axis, slide, leg), arriving=axis.way(slide.side))
    if said.startswith(title(back)):  # under a turn the handle is the distance
        return (said,)
    return (f"{title(back)}.", said)


def figure(talk: Talk) -> Figure | None:
    """The figure of the move in hand; None where none is."""
    leg = talk.places.leg
    if leg is None or talk.places.slides[leg.axis].lost is not Lost.NOTHING:
        return None
    axis = talk.machine.axis(leg.axis)
    move = move_of(axis, talk.places.slides[leg.axis], leg)
    what = f"{axis.name} {move.direction}"
    return Figure(move.distance, what, places=places_of(axis.graduation), move=move)


def why(talk: Talk) -> tuple[str, ...]:
    """How the move in hand comes about."""
    leg = talk.places.leg
    if talk.ask is not None:
        return (WHY.get(talk.ask.kind, "It decides what comes next."),)
    if leg is None:
        return ("No move is open.",)
    axis, slide = talk.machine.axis(leg.axis), talk.places.slides[leg.axis]
    side = axis.way(slide.side)
    slack = f"backlash {show(axis.backlash)}" if axis.backlash_known else "backlash not known"
    here, end = (place(at, axis, bare=True) for at in (stands(axis, slide), leg.target))
    parts = [f"From {here} to {end}."]
    if slack_matters(axis):
        parts.append(f"Its zero was come to going {side}, so every place is, {slack}.")
    return tuple(parts)


WHY = {
    "axis": "More than one handle goes that way.",
    "came": "The backlash is on the other side of it.",
    "reading": "A dial shows its part of a turn alone.",
    "side": "The same turns lie on either side of zero.",
    "shows": "So I know whether it was moved by hand.",
    "yes": "What comes next is counted from there.",
    "clock": "Where the first hole is.",
}


def where(talk: Talk) -> tuple[str, ...]:
    """Where every axis stands."""
    lines = [axis_line(talk, name) for name in talk.places.slides]
    told = [line for line in lines if line]
    return tuple(told) or ("No zero yet. Say zero the table, or whichever.",)


def axis_line(talk: Talk, name: str) -> str:
    """Where one axis stands; '' where it has no zero."""
    slide, axis = talk.places.slides[name], talk.machine.axis(name)
    called = title(name)
    if slide.lost is Lost.ZERO:
        return ""
    if slide.lost is not Lost.NOTHING:
        return f"{called}: not known, until its dial is read."
    leg = talk.places.leg
    on_way = ", on its way" if leg is not None and leg.axis == name else ""
    return f"{called} {place(stands(axis, slide), axis)}{on_way}."


def marks(talk: Talk) -> tuple[str, ...]:
    """Every mark, and where it is."""
    lines = []
    for letter, at in talk.places.marks.items():
        parts = [f"{name} {place(value, talk.machine.axis(name))}" for name, value in at.items()]
        lines.append(f"{SPOKEN[letter].capitalize()}: {', '.join(parts)}.")
    return tuple(lines) or ("Nothing is marked.",)


def count(number: int) -> str:
    """A whole number in words."""
    return saying.say_plain(Decimal(number))


def asked_back(talk: Talk) -> str:
    """What was heard, in words that can't be taken for anything else."""
    doubt = talk.doubt
    assert doubt is not None
    words = intent_words(doubt.intent, talk)
    if doubt.otherwise is None:
        return f"{title(words)}? Yes or no."
    other = intent_words(doubt.otherwise, talk)
    return f"{title(words)}, or {other}? Say it again."


def intent_words(intent: Intent, talk: Talk) -> str:
    """A command in words."""
    parts: list[str] = []
    for name, value in sorted(intent.slots, key=lambda slot: slot[0] != "axis"):
        if is_quantity(value):
            apart = value.check("[length]")
            parts.append(saying.say_apart(value, talk.machine.unit) if apart
                         else saying.say_angle(value))  # fmt: skip
        elif isinstance(value, int):
            turns = name == "turns"
            parts.insert(0, saying.say_turns(value) + " and") if turns else parts.append(
                count(value)
            )
        else:
            parts.append(SPOKEN.get(str(value), str(value)))
    if intent.name in ("move", "move_then", "dial_reads", "row", "circle"):
        return " ".join(parts)
    return " ".join((intent.name.replace("_", " "), *parts))


def question(talk: Talk) -> str:
    """What is asked now; '' where nothing is."""
    if talk.doubt is not None:
        return asked_back(talk)
    return "" if talk.ask is None else talk.ask.words


def opening(talk: Talk) -> tuple[str, ...]:
    """What is said at the begin."""
    begin = "" if talk.job else f"Free moves on the {talk.machine.name.partition(' (')[0]}."
    if any(slide.lost is Lost.TURN for slide in talk.places.slides.values()):
        return (begin, *CAUTIONS, "Zeros and marks are kept.", "I ask for each dial first.")
    last = "Say back to the job, when you are through." if talk.job else "Zero first."
    return (begin, *CAUTIONS, last)


def ways_of(axis: str) -> str:
    """`left or right`."""
    return " or ".join(WAYS[axis])
