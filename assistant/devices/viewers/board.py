"""The page as it is now, and those who wait for the next one. Used in the server's loop alone."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Callable
from contextlib import suppress

from assistant.present.glance import Glance

STALE_SECONDS = 1.0
"""The program tells something several times a second; silent for so long, its page isn't known to
be the page of now."""


class Board:
    """What the program told last."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self.glance: Glance | None = None
        self.since = 0.0
        """When the number on it changed, by the clock."""
        self.over = ""
        """Why there is nothing more to come; '' while there is."""
        self._told = float("-inf")
        self._clock = clock
        self._waiting: set[asyncio.Event] = set()

    @property
    def live(self) -> bool:
        """Whether the program still tells."""
        return self.glance is not None and self._clock() - self._told < STALE_SECONDS

    def beat(self, at: float) -> None:
        """The program was there at that time by the clock, and its page is the same."""
        self._told = at

    def put(self, glance: Glance) -> None:
        """Another page."""
        last, self.glance = self.glance, glance
        if last is None or _number(last) != _number(glance):
            self.since = self._clock()
        self._wake()

    def end(self, why: str) -> None:
        """There is no more to come."""
        self.over = why
        self._wake()

    async def news(self, seconds: float) -> None:
        """Wait for another page, or so long."""
        event = asyncio.Event()
        self._waiting.add(event)
        try:
            with suppress(TimeoutError):
                await asyncio.wait_for(event.wait(), seconds)
        finally:
            self._waiting.discard(event)

    def _wake(self) -> None:
        for event in self._waiting:
            event.set()


def _number(glance: Glance) -> tuple[str, str, str]:
    return glance.number, glance.unit, glance.what
