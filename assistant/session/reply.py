"""What is answered, as parts that `present` puts into words and figures."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.spoken import Figure, SlotKind
from assistant.spoken.limits import Limits
from assistant.units import Quantity


@dataclass(frozen=True, slots=True)
class Say:
    """Words as they stand; one sentence."""

    text: str


@dataclass(frozen=True, slots=True)
class ReadBack:
    """A value just told, said in its unambiguous form."""

    value: Quantity
    kind: SlotKind = SlotKind.LENGTH
    unit: str = ""
    """`inch` or `mm`, where it is said in one of them whatever the session speaks."""


@dataclass(frozen=True, slots=True)
class Answer:
    """A figure, with what it is."""

    figure: Figure
    unit: str = ""
    """`inch` or `mm`, where the answer is in one of them whatever the session speaks."""


@dataclass(frozen=True, slots=True)
class Travel:
    """A travel as whole turns of a wheel and the rest on its dial."""

    axis: str
    turns: int
    part: Quantity


@dataclass(frozen=True, slots=True)
class Why:
    """The terms of a figure, and its source."""

    figure: Figure


@dataclass(frozen=True, slots=True)
class Verdict:
    """A measurement against its limits: `two over the limit`."""

    value: Quantity
    limits: Limits


@dataclass(frozen=True, slots=True)
class Instruction:
    """What to do now: the step's words with `state.figure`."""

    short: bool = False
    """From where the dial stands: `Up six, to seventeen.`"""
    named: bool = False
    """The wheel is named in the short form too: `Knee up six, to seventeen.`"""
    again: bool = False
    """In the words for what was said in full before."""
    cautions: tuple[str, ...] = ()
    """Cautions to be spoken first: those of the step that this job has not heard yet."""


@dataclass(frozen=True, slots=True)
class Ask:
    """The open question of the state."""


Part = Say | ReadBack | Answer | Travel | Why | Verdict | Instruction | Ask


@dataclass(frozen=True, slots=True)
class Reply:
    """An answer; empty where nothing is to be said."""

    parts: tuple[Part, ...] = ()
    hush: bool = False
    """Silence whatever is being spoken first."""
    error: str = ""
    """For typed words: what was wrong with them and what may be said."""
