"""The conversation: where it stands, what it asks, and what is kept of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from assistant.free.places import Places
from assistant.machine import Machine
from assistant.spoken import Intent, SlotValue

KEPT = 30
"""So many commands can be taken back, and are kept on the disk."""


@dataclass(frozen=True, slots=True)
class Record:
    """One command that changed something."""

    words: str
    """What was said, in short, for "taken back"."""
    before: Places
    """As it was before."""


@dataclass(frozen=True, slots=True)
class Ask:
    """What is asked before a command is done: the answer is put into its slot, and it is done."""

    intent: Intent
    slot: str
    """Its first word is the kind of answer: `axis`, `came`, `reading`, `side`, `size`, `way`,
    `yes`, `clock`; its second the axis that it is about."""
    words: str

    @property
    def kind(self) -> str:
        """The kind of answer."""
        return self.slot.split(":")[0]

    @property
    def axis(self) -> str:
        """The axis in question; '' where there is none."""
        return self.slot.partition(":")[2]


@dataclass(frozen=True, slots=True)
class Doubt:
    """What was heard, and is asked back."""

    intent: Intent
    otherwise: Intent | None = None
    """What else it may have been: then one of them has to be said again."""


@dataclass(frozen=True)
class Talk:
    """One conversation."""

    machine: Machine
    places: Places
    history: tuple[Record, ...] = ()
    job: str = ""
    """The title of the job that stands meanwhile; '' where there is none."""
    ask: Ask | None = None
    doubt: Doubt | None = None
    answer: tuple[str, ...] = ()
    """What is said to the last thing heard."""
    over: bool = False
    begun: bool = False
    """Whether anything was told: the caution is shown until then."""
    job_zeros: Mapping[str, int] = field(default_factory=dict)
    """The record of the job that gave each axis its zero, as it was when free moves began."""
    moved: frozenset[str] = field(default_factory=frozenset)
    """The axes that were given a move, or whose place or dial was told anew."""

    @property
    def asks(self) -> bool:
        """Whether a question is open."""
        return self.ask is not None or self.doubt is not None


class AnswerMissing(Exception):
    """A command that can't be done before something is told."""

    def __init__(self, intent: Intent, slot: str, words: str) -> None:
        super().__init__(words)
        self.ask = Ask(intent, slot, words)


class MoveFailed(Exception):
    """A command that can't be done, and why."""

    def __init__(self, *words: str) -> None:
        super().__init__(*words)
        self.words = words


def with_slots(intent: Intent, values: Mapping[str, SlotValue | None]) -> Intent:
    """The intent with these slots told, or left out where they are None."""
    slots = {**dict(intent.slots), **values}
    return replace(
        intent, slots=tuple((name, value) for name, value in slots.items() if value is not None)
    )


def recorded(before: Talk, after: Talk, words: str) -> Talk:
    """`after`, with what changed kept so that it can be taken back."""
    if after.places == before.places:
        return after
    history = (*after.history, Record(words, before.places))[-KEPT:]
    changed = {
        axis for axis, slide in after.places.slides.items() if slide != before.places.slides[axis]
    }
    given = {leg.axis for leg in after.places.legs[:1]}
    return replace(after, history=history, begun=True, moved=after.moved | changed | given)
