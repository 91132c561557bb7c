"""From a glance to what its page holds: every line with its need, in the order it is read."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.devices.screen.artwork import Outline, drawings_of, outline
from assistant.devices.screen.needs import Need, Role, Sign
from assistant.drawing import Drawing
from assistant.present.drawings.dial import turn_discs
from assistant.present.glance import READING, STOPPED, TRAVEL, Glance, Limits, Moment

HEADINGS = {
    Moment.CHECK: "Check",
    Moment.TOUCH: "Touch off",
    Moment.MOVE: "Move",
    Moment.CUT: "Cut",
    Moment.MEASURE: "Measure",
    Moment.NOTE: "Note",
    Moment.HOLES: "Holes",
    Moment.INDEX: "Index",
    Moment.ASK: "Question",
    Moment.SAY: "Say",
    Moment.QUIET: "Not listening",
    Moment.TROUBLE: "Trouble",
    Moment.DONE: "Finished",
}
BANDED = (Moment.ASK, Moment.QUIET, Moment.TROUBLE)
"""Moments whose heading is a solid band: the operator is waited for."""
MAPPED = (Moment.HOLES, Moment.INDEX)
"""Moments whose drawing is looked at as much as the number."""


@dataclass(frozen=True, slots=True)
class Content:
    """What a page holds; all that decides where it stands, and nothing else."""

    word: str
    banded: bool
    mapped: bool
    place: tuple[str, ...]
    """At the right of the heading: the place in the job, the pass."""
    ear: str
    """State of the ear, in words."""
    say: str
    """Which words this step wants."""
    above: tuple[Need, ...]
    """The number and what belongs to it."""
    flow: tuple[Need, ...]
    """Sentences, in the order they are read."""
    below: tuple[Need, ...]
    """Cautions, and what a question takes for an answer."""
    undrawn: tuple[Need, ...] = ()
    """What the drawings say, where they have no room: read after the sentences."""
    last: tuple[Need, ...] = ()
    """What is missing, read last."""
    drawings: tuple[tuple[Outline, ...], ...] = ()


def content_of(
    glance: Glance, leads: str = READING
) -> tuple[Content, tuple[tuple[Drawing, ...], ...]]:
    """The content of a page without what was heard, and its drawings."""
    drawings = drawings_of(glance)
    stopped = glance.phase == STOPPED
    ear = f"{glance.ear.value}: {glance.waits_for}" if glance.waits_for else glance.ear.value
    content = Content(
        word="Stop" if stopped else HEADINGS[glance.moment],
        banded=glance.moment in BANDED,
        mapped=glance.moment in MAPPED,
        place=tuple(text for text in (glance.place, glance.pass_place) if text),
        ear=ear,
        say=f"say: {glance.say}" if glance.say else "",
        above=tuple(_above(glance, leads)),
        flow=tuple(_flow(glance)),
        below=tuple(_below(glance)),
        undrawn=tuple(_undrawn(glance.limits)) if glance.limits is not None else (),
        last=tuple(_last(glance)),
        drawings=tuple(tuple(outline(one) for one in group) for group in drawings),
    )
    return content, drawings


def leading(glance: Glance, leads: str) -> tuple[str, str]:
    """The large number and its unit."""
    if glance.stop is not None and leads == READING:
        return glance.stop.number, glance.stop.unit
    return glance.number, glance.unit


def _above(glance: Glance, leads: str) -> list[Need]:
    """The number; of a move in the order in which the hand needs it."""
    what, stop = glance.what[:1].upper() + glance.what[1:], glance.stop
    phase = (
        "" if glance.phase == STOPPED or _said(glance.phase, glance.instruction) else glance.phase
    )
    widest = max(glance.widest, glance.number, key=len)
    number = Need(Role.NUMBER, widest, unit=glance.unit)
    if stop is None:
        label = Need(Role.WAY, what or phase, aside=phase if what else "")
        if not glance.number:
            return [label] if what or phase else []
        return [label, number] if label.text else [number]
    way = Sign.WAY if glance.way else Sign.NONE
    discs, aspect = Sign.NONE, 1.0
    if glance.move is not None and glance.way:
        drawn = turn_discs(glance.move)
        discs, aspect = Sign.DISCS, drawn.width / drawn.height
    if leads == TRAVEL:
        return [
            Need(Role.WAY, what, sign=way, aside=phase),
            number,
            Need(Role.TURNS, str(stop), sign=discs, sign_aspect=aspect),
        ]
    travel = f"{glance.number} {glance.unit}".strip()
    if stop.turns.startswith(travel):  # the crank: its turns are the travel
        travel = ""
    reading = max(stop.widest, stop.number, key=len)
    return [
        Need(Role.WAY, f"{what} {travel}".strip(), sign=way, aside=phase),
        Need(Role.TURNS, stop.turns, sign=discs, sign_aspect=aspect),
        Need(Role.NUMBER, reading, unit=stop.unit),
        *([Need(Role.TURNS, stop.after)] if stop.after else []),
    ]


def _flow(glance: Glance) -> list[Need]:
    """What is read: what was answered, what to do, and why."""
    lines = []
    for number, text in enumerate(glance.answer):
        role = Role.DETAIL if number else Role.ANSWER
        lines.append(Need(role, text, paged=True, sign=Sign.BAR))
    detail = [*glance.detail, *(glance.trouble if _about_trouble(glance) else ())]
    words = glance.instruction or (detail.pop(0) if detail else "")
    if words:
        bare = not (glance.number or glance.stop)
        role = Role.HEADLINE if bare else Role.SENTENCE
        lines.append(Need(role, words, paged=True))
    return lines + [Need(Role.DETAIL, text, paged=True) for text in detail]


def _last(glance: Glance) -> list[Need]:
    """What is missing or broken."""
    missing = () if _about_trouble(glance) else glance.trouble
    return [Need(Role.REMARK, text, paged=True, sign=Sign.WARNING) for text in missing]


def _about_trouble(glance: Glance) -> bool:
    """Whether what is missing is what the page is about."""
    return glance.moment is Moment.TROUBLE


def _below(glance: Glance) -> list[Need]:
    """What is on every leaf."""
    cautions = [Need(Role.CAUTION, text) for text in glance.cautions]
    choices = [Need(Role.CHOICES, "\n".join(glance.choices))] if glance.choices else []
    return cautions + choices


def _undrawn(limits: Limits) -> list[Need]:
    """The band of limits in words."""
    lines = []
    if limits.low_text and limits.high_text:
        lines.append(f"limits {limits.low_text} to {limits.high_text}")
    elif limits.low_text or limits.high_text:
        which = "at least" if limits.low_text else "at most"
        lines.append(f"{which} {limits.low_text or limits.high_text}")
    if limits.measured_text:
        verdict = f": {limits.verdict}" if limits.verdict else ""
        lines.append(f"measured {limits.measured_text}{verdict}")
    return [Need(Role.DETAIL, text, paged=True) for text in lines]


def _said(words: str, text: str) -> bool:
    return words.strip("?").lower() in text.lower()
