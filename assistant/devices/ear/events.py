"""What an ear reports while it listens."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from assistant.spoken import Heard

Doing = Literal["starting", "listening", "hearing", "working", "trouble"]


@dataclass(frozen=True, slots=True)
class Level:
    """How loud it is, a few times a second, for the meter and the advice in `check`."""

    rms_db: float
    """dB below full scale; speech into a good microphone is at -30 to -15."""
    peak_db: float
    clipped: float
    """Share of samples at full scale, 0 to 1."""
    speech: float
    """Probability that somebody speaks, 0 to 1, the highest since the last report."""


@dataclass(frozen=True, slots=True)
class SpeechStarted:
    """Somebody began to speak: an answer begun before a question ended doesn't count."""

    at: float
    """Clock time, in seconds."""


@dataclass(frozen=True, slots=True)
class Partial:
    """The words so far, to be shown as "hearing"; they may still change."""

    words: str


@dataclass(frozen=True, slots=True)
class HeardEvent:
    """An utterance is over, and this was heard."""

    heard: Heard
    took: float = 0.0
    """Seconds from the decision that it is over to this."""


@dataclass(frozen=True, slots=True)
class EarState:
    """What the ear is doing now."""

    doing: Doing
    why: str = ""
    """For `trouble`: what happened, in a plain sentence."""


@dataclass(frozen=True, slots=True)
class Helpless:
    """What of the ear's help is missing, while it goes on without it."""

    why: str
    """A plain sentence; '' once it is there again."""


EarEvent = Level | SpeechStarted | Partial | HeardEvent | EarState | Helpless
