"""A screen that outlives its display: goes on with a stand-in, and comes back by itself."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from contextlib import suppress

from assistant.errors import WheelcallError
from assistant.ports import Screen
from assistant.present.glance import Glance

PAUSES = (0.5, 1.0, 2.0, 4.0, 8.0, 15.0)
"""Seconds before each new try at a display that is there and yet fails; the last is repeated. A
try starts a process and takes half a second of the processor's time."""
LOOK_SECONDS = 0.25
"""So often it is looked whether a display is there, or a window open: that takes no time at all."""
FAULTS = (WheelcallError, OSError, RuntimeError)
"""What a screen may raise: its own errors, and those of a graphics library under it."""


class SteadyScreen:
    """Shows on `screen` while that works; `trouble` tells when it doesn't.

    Where it fails, `stand_in` gives what takes its place (None: nothing is shown), and `again` is
    asked for the real one; it gives None while that is on its way, and is then asked soon. It is
    asked while `there` says that a display is there, with growing pauses, and at once when one
    has come back. Used from the main thread.
    """

    def __init__(
        self,
        screen: Screen,
        again: Callable[[], Screen | None],
        stand_in: Callable[[], Screen | None],
        clock: Callable[[], float] = time.monotonic,
        there: Callable[[], bool] = lambda: True,
    ) -> None:
        self.name = screen.name
        """Of the screen that is wanted, also while another stands in."""
        self.trouble = ""
        self._screen: Screen | None = screen
        self._again, self._stand_in, self._clock, self._there = again, stand_in, clock, there
        self._standing_in = False
        self._was_there = True
        self._coming = False
        """Whether a window is being opened."""
        self._next_look = self._next_try = 0.0
        self._tries = 0

    def show(self, glance: Glance) -> None:
        """Show it where that can be done."""
        self._come_back()
        for _ in range(2):  # the screen, and what takes its place
            if self._screen is None:
                return
            try:
                self._screen.show(glance)
            except FAULTS as error:
                self._lose(error)
            else:
                if not self._standing_in:
                    self._tries = 0
                return

    def keys(self) -> Sequence[str]:
        """Keys since the last call; none while the display is gone."""
        if self._screen is None:
            return ()
        try:
            return self._screen.keys()
        except FAULTS as error:
            self._lose(error)
            return ()

    def close(self) -> None:
        """Close what is open."""
        self._drop()

    def _lose(self, error: Exception) -> None:
        self._drop()
        if not self._standing_in:
            self.trouble = f"{error}. I'm trying to get it back."
            self._plan_a_try()
            self._standing_in = self._was_there = True
            with suppress(*FAULTS):
                self._screen = self._stand_in()

    def _come_back(self) -> None:
        now = self._clock()
        if not self._standing_in or now < self._next_look:
            return
        self._next_look = now + LOOK_SECONDS
        if not self._coming and not self._worth_a_try(now):
            return
        try:
            found = self._again()
        except FAULTS:
            self._coming = False
            self._plan_a_try()
            return
        self._coming = found is None
        if found is None:
            return
        self._drop()
        self._screen = found
        self._standing_in = False
        self.trouble = ""

    def _worth_a_try(self, now: float) -> bool:
        was_there, self._was_there = self._was_there, self._there()
        if self._was_there and not was_there:  # it has come back
            self._tries, self._next_try = 0, now
        return self._was_there and now >= self._next_try

    def _plan_a_try(self) -> None:
        self._next_try = self._clock() + PAUSES[min(self._tries, len(PAUSES) - 1)]
        self._tries += 1

    def _drop(self) -> None:
        screen, self._screen = self._screen, None
        if screen is not None:
            with suppress(*FAULTS):
                screen.close()
