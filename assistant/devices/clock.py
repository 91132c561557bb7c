"""The clock of the computer, and one that tests own."""

from __future__ import annotations

import time
from datetime import UTC, datetime, timedelta


class SystemClock:
    """The real time."""

    def now(self) -> datetime:
        """Wall-clock time in the local zone."""
        return datetime.now(UTC).astimezone()

    def monotonic(self) -> float:
        """Seconds that only go forward."""
        return time.monotonic()


class SetClock:
    """A clock that moves only when told."""

    def __init__(self, start: datetime | None = None) -> None:
        self._now = start or datetime(2026, 1, 1, 8, 0, tzinfo=UTC)
        self._monotonic = 0.0

    def now(self) -> datetime:
        """The time it was set to."""
        return self._now

    def monotonic(self) -> float:
        """Seconds passed since it was made."""
        return self._monotonic

    def advance(self, seconds: float) -> None:
        """Let time pass; never backwards."""
        if seconds < 0:
            raise ValueError("time goes forward")
        self._monotonic += seconds
        self._now += timedelta(seconds=seconds)

    def set_wall(self, now: datetime) -> None:
        """Set the wall clock, also backwards, as an operator may; `monotonic` stays."""
        self._now = now
