"""What an ear reports, and what the matcher makes of it."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from assistant.spoken.intent import Intent


@dataclass(frozen=True, slots=True)
class Opinion:
    """What another ear made of the same sound, held to the same grammar."""

    words: str
    """Empty where it heard no sentence of the grammar."""
    confidence: float
    """0 to 1."""
    engine: str
    better: bool = False
    """Whether it is the better ear of the two: then whatever it hears otherwise counts."""


@dataclass(frozen=True, slots=True)
class Heard:
    """The words of one utterance, as an ear (or the keyboard) reports them."""

    words: str
    """Lower case, single spaces, as in the phrase book; empty for sound that is no command."""
    confidence: float = 1.0
    """0 to 1: how sure the ear is that these words, and not others or none, were said."""
    started: float = 0.0
    """Clock time at which speech began, in seconds."""
    ended: float = 0.0
    """Clock time at which the speech ended (not when that was decided), in seconds."""
    grammar: str = ""
    """`WordAutomaton.id` of the grammar it was held to; empty for typed words."""
    engine: str = "typed"
    """Which ear: `moonshine`, `vosk`, `typed` ..."""
    free: str = ""
    """What the ear would have written without the grammar, where it can tell; for the log."""
    others: tuple[tuple[str, float], ...] = field(default=())
    """Runner-up word strings of the same grammar with their confidence, best first."""
    opinion: Opinion | None = None
    """What a second ear heard, where there is one and it was in time."""


class Reason(StrEnum):
    """Why words were not taken."""

    NOTHING = "nothing"
    """Sound, but no command: silence and the screen only."""
    UNSURE = "unsure"
    """A command, heard below its floor: asked back."""
    IMPLAUSIBLE = "implausible"
    """A value outside its plausible band: asked back."""
    AMBIGUOUS = "ambiguous"
    """More than one plausible reading: asked back."""
    SCALE = "scale"
    """What was plainly said is implausible, ten times or a tenth of it would be plausible, or a
    word of it is easily taken for another: both are named, and it has to be said again."""
    COMMA = "comma"
    """Typed figures with a comma that may be no decimal point: an error that says how to write."""
    CONTRADICTS = "contradicts"
    """A size that can't be, by what was cut: asked back."""
    NOT_NOW = "not now"
    """A phrase of the book that this step does not allow."""
    UNKNOWN = "unknown"
    """Typed words that are in no phrase: an error that lists what may be said."""


@dataclass(frozen=True, slots=True)
class Understood:
    """Words that mean one allowed intent, plausibly and surely enough."""

    intent: Intent
    heard: Heard


@dataclass(frozen=True, slots=True)
class Refused:
    """Words that were not taken, with the likeliest reading where there is one."""

    reason: Reason
    heard: Heard
    candidate: Intent | None = None
    """What it would mean if confirmed; `yes` to the question takes it."""
    detail: str = ""
    """For the screen and the log: `2.5 in is outside 1.400 to 1.600 in`."""
    otherwise: Intent | None = None
    """What else it may mean, where there is one thing: both are named when it is asked."""
