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


READING, TRAVEL = "reading", "travel"
LEADS = (READING, TRAVEL)
"""What may be the large number of a move: the reading to stop at, or how far it goes."""

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
class Stop:
    """Where the hand stops on a wheel or crank, as it needs it: turns, then the reading."""

    turns: str
    """What comes before the reading: `4 turns + 140½, stop at`."""
    number: str
    """The reading, as the dial is marked: `140½`; or holes of a circle."""
    widest: str
    """The widest reading that may stand here, as `000½`: decides the size of the figures."""
    unit: str = ""
    after: str = ""
    """What comes after it: `coming back ½ turn`."""

    def __str__(self) -> str:
        return ", ".join(
            part for part in (f"{self.turns} {self.number} {self.unit}".strip(), self.after) if part
        )


@dataclass(frozen=True, slots=True)
class Invite:
    """How a second screen is let in: stands beside the page while its code holds."""

    address: str
    """To be typed into a browser: `http://192.168.1.20:8733`."""
    code: str
    """As it is shown: `7KQ4-2MXP`."""
    picture: tuple[str, ...]
    """Both as a QR picture: rows of `1` (dark) and `0`, with the quiet border that it needs."""


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
    """What to do, in a few sentences."""
    cautions: tuple[str, ...] = ()
    """Warnings of the step; never off the page, whatever else has to wait its turn."""
    detail: tuple[str, ...] = ()
    """A few short lines more: why it is asked, sizes that were told."""
    place: str = ""
    """`step 7 of 31`."""
    pass_place: str = ""
    """`pass 2 of 4`."""
    stop: Stop | None = None
    """Turns and dial, in their parts."""
    move: DialMove | None = None
    """For the drawn dial."""
    way: str = ""
    """The way of the hand's main travel, for the arrows: `in`; empty where nothing moves."""
    bar: Bar | None = None
    drawing: tuple[tuple[str, float], ...] = ()
    """Dimensions for the scale drawing, by name, with `kind` given by `drawing_kind`."""
    drawing_kind: str = ""
    ear: Ear = Ear.LISTENING
    waits_for: str = ""
    """What has to come first while the ear is waiting: `hold or tap the pedal (f9)`."""
    level: float = 0.0
    """Input level, 0 to 1, in steps, so that it does not redraw without end."""
    say: str = ""
    """The words that this step wants to hear: `I'm set`."""
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
    invite: Invite | None = None

    @property
    def dial(self) -> str:
        """Turns and dial in a line: `4 turns + 140½, stop at 140½`."""
        return "" if self.stop is None else str(self.stop)
