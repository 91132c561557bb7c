"""The window in a process of its own: the X library ends the process whose display is gone."""

from __future__ import annotations

import contextlib
import multiprocessing
import os
import signal
import sys
import time
from collections.abc import Callable, Sequence
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from typing import Any, NoReturn

from assistant.devices.screen.window import WindowScreen
from assistant.errors import DeviceFailed, DeviceMissing, WheelcallError
from assistant.log import get_log, start_log
from assistant.ports import Screen
from assistant.present.glance import Glance
from assistant.silence import Silence

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
        context = multiprocessing.get_context("spawn")
        self._pipe, there = context.Pipe()
        self._process: BaseProcess | None = context.Process(
            target=run, args=(make, there), name="window", daemon=True
        )
        self._process.start()
        there.close()  # or its end would never be seen here
        self._shown: Glance | None = None
        self._waiting: Glance | None = None
        self._busy = False
        """Whether it has a page that it hasn't shown yet: another would only fill the pipe."""
        self._keys: list[str] = []
        self._silence = Silence(time.monotonic())
        self._is_open = False
        self._open_until = time.monotonic() + open_seconds
        if wait:
            self._pipe.poll(open_seconds)
            self.is_open()

    def is_open(self) -> bool:
        """Whether the window is open; raises `DeviceMissing` where it can't be opened."""
        if self._is_open:
            return True
        why = "the window did not open in time"
        try:
            if not self._pipe.poll() and time.monotonic() < self._open_until:
                return False
            if self._pipe.poll():
                why = self._pipe.recv()
        except (EOFError, OSError):
            why = "its process ended"
        if why:
            self.close()
            raise DeviceMissing(DEVICE, why, COST)
        self._is_open, self._silence = True, Silence(time.monotonic())
        return True

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
        return (self._process.pid or 0) if self._process is not None else 0

    def close(self) -> None:
        """Close the window."""
        process, self._process = self._process, None
        if process is None:
            return
        self._pipe.close()  # it ends by itself
        process.join(1.0)
        if process.is_alive():
            process.kill()
            process.join()

    def _look(self) -> None:
        if self._process is None:
            raise DeviceFailed(DEVICE, "the window is closed")
        if not self.is_open():
            return
        try:
            while self._pipe.poll():
                self._take(self._pipe.recv())
            if self._waiting is not None and not self._busy:
                self._pipe.send(self._waiting)
                self._waiting, self._busy = None, True
        except (EOFError, OSError):
            self._lose("the display is gone")
        if self._silence.look(time.monotonic()) > SILENT_SECONDS:
            self._lose("the display answers no more")

    def _take(self, report: str | tuple[bool, Sequence[str]]) -> None:
        self._silence.broken()
        if isinstance(report, str):
            self._lose(report)
        shown, keys = report
        self._busy = self._busy and not shown
        self._keys += keys

    def _lose(self, why: str) -> NoReturn:
        process, self._process = self._process, None
        if process is not None:
            process.kill()
            process.join()
        self._pipe.close()
        raise DeviceFailed(DEVICE, why)


def run(make: Make, pipe: Connection[Any, Any]) -> None:
    """Body of the child: '' or why there is no window, then whether a page was shown, and keys."""
    start_log(child=True)
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the program itself tells it when to leave
    with contextlib.suppress(EOFError, OSError):  # the program is gone, or closes it
        try:
            screen = make()
        except WheelcallError as error:
            pipe.send(error.why if isinstance(error, DeviceMissing) else str(error))
            return
        pipe.send("")
        try:
            _serve(screen, pipe)
        except (EOFError, OSError):
            raise
        except Exception as error:  # one line instead of a traceback, which is for the log
            get_log("window").exception("the window's process fails")
            pipe.send(error.why if isinstance(error, DeviceFailed) else f"{error!r}")


def _serve(screen: Screen, pipe: Connection[Any, Any]) -> None:
    reported = time.monotonic()
    while True:
        shown = pipe.poll(TICK)
        if shown:
            screen.show(pipe.recv())
        keys = list(screen.keys())
        if shown or keys or time.monotonic() - reported > BEAT_SECONDS:
            pipe.send((shown, keys))
            reported = time.monotonic()
