"""The protocols of the edge: everything that touches a thread, a card, a window or a file.

The core knows these shapes alone. One module or small package in `devices/` stands behind each,
and `app/wiring.py` is the only place that chooses which.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Protocol, runtime_checkable

import numpy as np
from numpy.typing import NDArray

from assistant.spoken import Heard, Sentence, WordAutomaton

if TYPE_CHECKING:
    from assistant.present.glance import Glance
    from assistant.session.events import Record

Samples = NDArray[np.float32]
"""Mono sound at 16 kHz, -1 to 1."""

RATE = 16_000


@runtime_checkable
class Recogniser(Protocol):
    """An ear: turns one utterance into words of a closed grammar. Used from one thread."""

    name: str

    def prepare(self, grammars: Sequence[WordAutomaton]) -> tuple[str, ...]:
        """Compile grammars ahead of need; the words of theirs that this ear can't hear."""

    def begin(self, grammar: WordAutomaton) -> None:
        """Start an utterance held to `grammar`."""

    def feed(self, samples: Samples) -> str:
        """More of the utterance; the words so far, where the ear can tell, else ''."""

    def finish(self) -> Heard:
        """End of the utterance: its words, or `Heard('')` for sound that is no command."""

    def close(self) -> None:
        """Give back the model's memory."""


@runtime_checkable
class Foresighted(Protocol):
    """A recogniser that can tell in a pause what was said so far, the utterance still open."""

    def peek(self) -> Heard:
        """What `finish` would report if nothing more came."""


class AudioSource(Protocol):
    """Where sound comes from: a microphone, a file, a pipe."""

    name: str
    live: bool
    """True where time passes by itself (a microphone), False where it can be read faster."""

    @property
    def behind(self) -> float:
        """Seconds of sound that came and wait to be read: how old the next chunk is."""

    def chunks(self) -> Iterator[Samples]:
        """16 kHz mono sound in chunks of 10 to 50 ms; ends when the source ends.

        Raises `DeviceFailed` where a live source stops delivering.
        """

    def close(self) -> None:
        """Stop and give back the device."""


USUAL_RATE = 190
"""Words a minute where nobody set another, nor said slower or faster."""
SLOWEST, FASTEST = 80, 300
"""Words a minute."""
MOST_SHAPED = 1.5
"""Times the usual shaping for noise."""


class Speaker(Protocol):
    """A voice with its own queue and thread."""

    name: str

    def say(self, sentences: Sequence[Sentence]) -> None:
        """Queue sentences; returns at once."""

    def hush(self) -> None:
        """Be silent now and forget the queue."""

    def foresee(self, sentences: Sequence[str]) -> None:
        """Sentences that may be said next, in place of those foreseen before."""

    def adjust(
        self,
        *,
        rate: float | None = None,
        volume: float | None = None,
        shape: float | None = None,
    ) -> None:
        """Words a minute (80 to 300), volume (0 to 1) and how much the voice is shaped for noise (0
        to 1.5) from the next sentence on."""

    @property
    def speaking(self) -> bool:
        """Whether sound is being made or waits to be made."""

    def wait(self, timeout: float | None = None) -> bool:
        """Wait until all is said; False where that took longer than `timeout` seconds."""

    def close(self) -> None:
        """Be silent and give back the device."""


class Screen(Protocol):
    """Shows one `Glance` at a time and reports keys."""

    name: str

    def show(self, glance: Glance) -> None:
        """Show it; draws only what changed, and nothing where nothing did."""

    def keys(self) -> Sequence[str]:
        """Keys pressed since the last call, as words: `space`, `enter`, `escape`, `f1`, `quit`."""

    def close(self) -> None:
        """Close the window."""


class Journal(Protocol):
    """Where events are kept: appended durably, in order, never changed."""

    def append(self, job: str, records: Sequence[Record]) -> None:
        """Write all of `records` or none; on disk when it returns. Raises `JournalError`."""

    def read(self, job: str) -> Sequence[Record]:
        """All records of one job, in order."""

    def jobs(self) -> Sequence[JobEntry]:
        """Every job in the journal, the last touched first."""

    def close(self) -> None:
        """Close the file."""


@dataclass(frozen=True, slots=True)
class JobEntry:
    """One line of the list of jobs."""

    id: str
    title: str
    started: datetime
    touched: datetime
    finished: bool
    events: int


class Clock(Protocol):
    """Time, so that tests own it."""

    def now(self) -> datetime:
        """Wall-clock time with a time zone, for the record."""

    def monotonic(self) -> float:
        """Seconds that only go forward, for timing."""
