"""The window in a process of its own: the X library ends the process whose display is gone."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable, Sequence

from assistant.child import Child, ChildLost, Parent
from assistant.devices.screen.window import WindowScreen
from assistant.errors import DeviceFailed, DeviceMissing
from assistant.ports import Screen
from assistant.present.glance import Glance

DEVICE = "display"
COST = "each changed screen is saved as a picture instead"
TICK = 0.02
"""Seconds between two looks at keys in the window's process."""
BEAT_SECONDS = 0.25
"""It reports so often, also where there is nothing to report."""
SILENT_SECONDS = 1.5
"""Without a report for so long it hangs, as on a display that answers no more."""
OPEN_SECONDS = 15.0
"""Until the window is open, on a loaded machine."""

Make = Callable[[], Screen]
Report = tuple[bool, Sequence[str]]
"""Whether the page that was sent is shown, and keys."""


def ends_with_its_display() -> bool:
    """Whether a window had better be apart: X and Wayland are Linux's, and SDL's other drivers
    (`dummy`) have no display that could go."""
    return sys.platform.startswith("linux") and os.environ.get("SDL_VIDEODRIVER", "x11") in (
        "x11",
        "wayland",
        "wayland,x11",
        "x11,wayland",
    )


class WindowProcess:
    """A `Screen` whose window is in a child process. Used from one thread.

    Raises `DeviceMissing` where no window can be opened, and `DeviceFailed` once it is gone or
    hangs: then it is of no more use, and another is to be made.
    """

    name = "window"

    def __init__(
        self, make: Make = WindowScreen, open_seconds: float = OPEN_SECONDS, *, wait: bool = True
    ) -> None:
        """`make` makes the window there, so it must be importable, or `functools.partial`.

        Without `wait` it returns before the window is open: `is_open` tells.
        """
        self._child: Child[Glance, Report] | None = Child(
            "window", run, make, begin_seconds=open_seconds, silent_seconds=SILENT_SECONDS
        )
        self._shown: Glance | None = None
        self._waiting: Glance | None = None
        self._busy = False
        """Whether it has a page that it hasn't shown yet: another would only wait there."""
        self._keys: list[str] = []
        while wait and not self.is_open():
            time.sleep(TICK)

    def is_open(self) -> bool:
        """Whether the window is open; raises `DeviceMissing` where it can't be opened."""
        self._look()
        return self._child is not None and self._child.ready

    def show(self, glance: Glance) -> None:
        """Have it shown; only the newest, where the window can't keep up."""
        if glance != self._shown:
            self._shown = self._waiting = glance
        self._look()

    def keys(self) -> Sequence[str]:
        """Keys since the last call, as of `WindowScreen`."""
        self._look()
        keys, self._keys = self._keys, []
        return keys

    @property
    def pid(self) -> int:
        """Of the window's process; 0 where there is none."""
        return self._child.pid if self._child is not None else 0

    def close(self) -> None:
        """Close the window."""
        if self._child is not None:
            self._child.end(1.0)
            self._child = None

    def _look(self) -> None:
        if self._child is None:
            raise DeviceFailed(DEVICE, "the window is closed")
        try:
            for shown, keys in self._child.look():
                self._busy = self._busy and not shown
                self._keys += keys
        except ChildLost as lost:
            if not self._child.ready:
                raise DeviceMissing(DEVICE, _why_missing(lost), COST) from None
            raise DeviceFailed(DEVICE, _why_failed(lost)) from None
        if self._child.ready and self._waiting is not None and not self._busy:
            self._child.send(self._waiting)
            self._waiting, self._busy = None, True


def _why_missing(lost: ChildLost) -> str:
    if lost.how == "silent":
        return "the window did not open in time"
    return "its process ended" if lost.how == "ended" else lost.why


def _why_failed(lost: ChildLost) -> str:
    if lost.how == "silent":
        return "the display answers no more"
    return "the display is gone" if lost.how == "ended" else lost.why


def run(parent: Parent[Glance, Report], make: Make) -> None:
    """Body of the child."""
    screen = make()
    parent.ready()
    reported = time.monotonic()
    while True:
        shown = parent.waiting(TICK)
        if shown:
            screen.show(parent.take())
        keys = list(screen.keys())
        if shown or keys or time.monotonic() - reported > BEAT_SECONDS:
            parent.send((shown, keys))
            reported = time.monotonic()
