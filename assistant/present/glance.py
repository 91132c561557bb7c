"""What the eye gets: everything on the screen at one moment, as plain data."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from assistant.spoken import DialMove


class Moment(StrEnum):
    """Kinds of moment; each has its own layout."""

    CHECK = "check"
    TOUCH = "touch"
    MOVE = "move"
    CUT = "cut"
    MEASURE = "measure"
    NOTE = "note"
    HOLES = "holes"
    INDEX = "index"
    ASK = "ask"
    SAY = "say"
    """A phrase is asked for, to try the ear or to get to know a voice."""
    QUIET = "quiet"
    """Not listening."""
    TROUBLE = "trouble"
    DONE = "done"


STOPPED = "stopped"
"""The phase after `stop` was said."""


class Ear(StrEnum):
    """The state of the ear, shown in words and shape."""

    LISTENING = "listening"
    HEARING = "hearing"
    WAITING = "waiting"
    """For an attention word, or a pedal."""
    SPEAKING = "speaking"
    NOT_LISTENING = "not listening"
    NO_MICROPHONE = "no microphone"
    STARTING = "starting"
    TROUBLE = "ear in trouble"


@dataclass(frozen=True, slots=True)
class Bar:
    """The depth bar: passes to scale."""

    full: float
    """Full depth; all values in one unit."""
    now: float
    after: float
    """Depth after the pass at hand."""
    marks: tuple[float, ...] = ()
    """Cumulative depth of each planned pass."""


@dataclass(frozen=True, slots=True)
class Limits:
    """A size to be measured, with its limits as shown; all values in one unit."""

    low: float | None
    high: float | None
    low_text: str = ""
    high_text: str = ""
    measured: float | None = None
    """What was last told of it; None before."""
    measured_text: str = ""
    gauge: str = ""
    verdict: str = ""
    """In shop words: `two over the limit`."""


@dataclass(frozen=True, slots=True)
class Glance:
    """One screen."""

    moment: Moment
    number: str = ""
    """The big figures, already formatted: `0.9405`; empty where the step has no number."""
    unit: str = ""
    what: str = ""
    """What the number is: `saddle in`."""
    instruction: str = ""
    """One line."""
    detail: tuple[str, ...] = ()
    """A few short lines more: cautions, limits, what was said."""
    place: str = ""
    """`step 7 of 31`."""
    pass_place: str = ""
    """`pass 2 of 4`."""
    dial: str = ""
    """Turns and dial in a line: `4 turns + 140½, stop at 140½`."""
    move: DialMove | None = None
    """For the drawn dial and the direction arrow."""
    bar: Bar | None = None
    drawing: tuple[tuple[str, float], ...] = ()
    """Dimensions for the scale drawing, by name, with `kind` given by `drawing_kind`."""
    drawing_kind: str = ""
    ear: Ear = Ear.LISTENING
    waits_for: str = ""
    """What has to come first while the ear is waiting: `hold or tap the pedal (f9)`."""
    level: float = 0.0
    """Input level, 0 to 1, in steps, so that it does not redraw without end."""
    heard: str = ""
    """Last thing heard, with what became of it: `heard: three thou`."""
    answer: tuple[str, ...] = ()
    """What was just answered, the most telling line first; until the next command."""
    noted: str = ""
    """What was made of the last thing heard, in short: `0.003 in.`; in the foot of the page."""
    trouble: tuple[str, ...] = ()
    """What is missing or broken, one plain line each."""
    job: str = ""
    theme: str = "dark"
    """`dark` or `light`."""
    changed: int = 0
    """Goes up by one with each new number, so that the change can be marked."""
    widest: str = ""
    """The widest number that may stand here, as `0.0000`: decides the size of the figures."""
    limits: Limits | None = None
    """For a size to be measured."""
    choices: tuple[str, ...] = ()
    """What an open question takes for an answer: `yes`, `no`."""
    phase: str = ""
    """The part of the step: `cutting`, `paper?`, the gauge; or `STOPPED`."""
