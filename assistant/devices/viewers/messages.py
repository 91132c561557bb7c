"""What goes through the pipe between the program and the server of second screens."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.present.glance import Glance, Invite


@dataclass(frozen=True, slots=True)
class Told:
    """From the program, several times a second."""

    glance: Glance | None = None
    """Another page; None where it is the same."""
    invite: bool | None = None
    """Whether a code is wanted from now on: a new one; None where that is the same."""
    at: float = 0.0
    """When it was sent, by the computer's monotonic clock, which both processes share: read late,
    it says nothing of now."""


@dataclass(frozen=True, slots=True)
class Report:
    """From the server: after each `Told`, when something happens, and as a sign of life."""

    handled: int
    """How many `Told` so far."""
    invite: Invite | None = None
    looking: int = 0
    """How many devices look."""
    let_in: int = 0
    """How many were let in so far."""
    refused: int = 0
    """How many wrong codes were told so far."""
    last_from: str = ""
    """Address of whoever told a code last."""
