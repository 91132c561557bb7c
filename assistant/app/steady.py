"""A screen that outlives its display: goes on with a stand-in, and comes back by itself."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from contextlib import suppress

from assistant.errors import WheelcallError
from assistant.ports import Screen
from assistant.present.glance import Glance

PAUSES = (0.5, 1.0, 2.0, 4.0, 8.0, 15.0)
"""Seconds before each new try at a display that is gone; the last is repeated."""
FAULTS = (WheelcallError, OSError, RuntimeError)
"""What a screen may raise: its own errors, and those of a graphics library under it."""


class SteadyScreen:
    """Shows on `screen` while that works; `trouble` tells when it doesn't.

    Where it fails, `stand_in` gives what takes its place (None: nothing is shown), and `again`
    is asked, with growing pauses, for the real one. Used from the main thread.
    """

    def __init__(
        self,
        screen: Screen,
        again: Callable[[], Screen],
        stand_in: Callable[[], Screen | None],
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self.name = screen.name
        """Of the screen that is wanted, also while another stands in."""
        self.trouble = ""
        self._screen: Screen | None = screen
        self._again, self._stand_in, self._clock = again, stand_in, clock
        self._standing_in = False
        self._next_try = 0.0
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
            self._standing_in = True
            with suppress(*FAULTS):
                self._screen = self._stand_in()

    def _come_back(self) -> None:
        if not self._standing_in or self._clock() < self._next_try:
            return
        try:
            found = self._again()
        except FAULTS:
            self._plan_a_try()
            return
        self._drop()
        self._screen = found
        self._standing_in = False
        self.trouble = ""

    def _plan_a_try(self) -> None:
        self._next_try = self._clock() + PAUSES[min(self._tries, len(PAUSES) - 1)]
        self._tries += 1

    def _drop(self) -> None:
        screen, self._screen = self._screen, None
        if screen is not None:
            with suppress(*FAULTS):
                screen.close()
