"""Whom the loops listen for: a job at work, or the questions that begin one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Protocol

from assistant.app.turn import Ways
from assistant.ports import Clock, Screen, Speaker
from assistant.present.glance import Ear
from assistant.spoken import Expected, Heard, WordAutomaton


class Edge(Protocol):
    """Its devices."""

    @property
    def speaker(self) -> Speaker: ...

    @property
    def screen(self) -> Screen: ...

    @property
    def clock(self) -> Clock: ...


class Talker(Protocol):
    """One conversation with the operator. Used from the main thread alone."""

    ear: Ear
    """State of the ear, to be shown."""
    ear_waits_for: str
    """What has to come before the ear listens: an attention word, a pedal."""
    level: float
    last_heard: str
    trouble: tuple[str, ...]
    keys_shown: bool
    """Whether the page of keys covers the page."""

    @property
    def devices(self) -> Edge:
        """Voice, screen and clock."""

    @property
    def ways(self) -> Ways:
        """What may be heard now."""

    @property
    def stage(self) -> object:
        """Another object whenever something else may be heard."""

    @property
    def course(self) -> object:
        """Another object whenever something else may be heard later on."""

    def in_a_sum(self, at: float) -> bool:
        """Whether a quick sum is open at that monotonic time, in seconds."""

    def ahead(self) -> Iterator[WordAutomaton]:
        """The grammars that will be wanted by and by, the next ones first."""

    @property
    def asks(self) -> bool:
        """Whether a question is open: its answer needs no word first, and one that was begun
        before the question ended doesn't count."""

    @property
    def asked_back(self) -> bool:
        """Whether what was heard is asked back, so that Escape is no to it."""

    @property
    def forward(self) -> str:
        """What Enter says; '' where it says nothing of its own."""

    @property
    def listens(self) -> bool:
        """Whether the operator wants to be heard."""

    @property
    def over(self) -> bool:
        """Whether it has come to its end."""

    def tell(self, line: str) -> None:
        """A line for the transcript."""

    def hear(self, heard: Heard, earlier: Sequence[Expected] = ()) -> object:
        """One thing heard."""

    def show(self) -> object:
        """Show where it stands."""

    def note_trouble(self, what: str, why: str) -> None:
        """A device fails, or is back: `why` is ''."""
