"""The program's end of the server of second screens: told the pages, and never waited for."""

from __future__ import annotations

import contextlib
import multiprocessing
import time
from collections.abc import Callable
from dataclasses import replace
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from typing import Any

from assistant.devices.viewers.addresses import DEVICE, Where, library_missing
from assistant.devices.viewers.messages import Report, Told
from assistant.errors import DeviceMissing
from assistant.log import get_log, start_log
from assistant.present.glance import Glance
from assistant.silence import Silence

BEAT_SECONDS = 0.2
"""It is told so often that the program is there, where there is no other page."""
SILENT_SECONDS = 5.0
"""Without a report for so long it hangs. The devices themselves say sooner that they see nothing;
a server that gives way to all others may be slow on a busy computer."""
OPEN_SECONDS = 60.0
"""Until it is begun, on a loaded machine."""
LOOK_SECONDS = 0.04
"""Between two looks at its reports; the loop of a job looks oftener, and a look takes its time."""
NOTHING = Told()

MakeView = Callable[[], Any]
"""Makes what draws the pages of one device; importable, for the process."""


class Viewers:
    """The server of second screens. Used from one thread; nothing of it waits, but its beginning.

    Once it is gone or hangs, `trouble` says so, and it is of no more use.
    """

    def __init__(
        self,
        where: Where,
        make_view: MakeView,
        *,
        wait: bool = True,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        """Raises `DeviceMissing` where it can't be begun; without `wait`, `trouble` tells then."""
        self.where = where
        self.trouble = ""
        """Why it serves no more, in plain words; '' while it does."""
        self.report = Report(0)
        """What it reported last."""
        context = multiprocessing.get_context("spawn")
        self._pipe, there = context.Pipe()
        self._process: BaseProcess | None = context.Process(
            target=run, args=(where, make_view, there), name="viewers", daemon=True
        )
        self._process.start()
        there.close()  # or its end would never be seen here
        self._clock = clock
        self._cost = f"give another port: --show-at {where.address}:{where.port + 1}"
        self._glance: Glance | None = None
        self._wanted = NOTHING
        """What it has still to be told."""
        self._told = 0
        self._told_at = self._looked_at = 0.0
        self._open = False
        self._silence = Silence(clock())
        self._open_until = clock() + OPEN_SECONDS
        if wait:
            self._pipe.poll(OPEN_SECONDS)
            self._look_whether_open()
            if not self._open:
                raise DeviceMissing(DEVICE, self.trouble, self._cost)

    def show(self, glance: Glance) -> None:
        """Another page; only the newest is told, where it can't keep up. The ear's level alone
        makes none: it changes many times a second."""
        level = replace(glance, level=0.0)
        if level != self._glance:
            self._glance = level
            self._wanted = replace(self._wanted, glance=level)

    def invite(self, wanted: bool) -> None:
        """Have a new code, or none any more."""
        self._wanted = replace(self._wanted, invite=wanted)

    def look(self) -> None:
        """Tell it what there is to tell, and take its reports: several times a second."""
        if self._process is None or not self._look_whether_open():
            return
        now = self._clock()
        if self._wanted is NOTHING and now < self._looked_at + LOOK_SECONDS:
            return
        self._looked_at = now
        try:
            while self._pipe.poll():
                self.report = self._pipe.recv()
                self._silence.broken()
            if self.report.handled == self._told and (
                self._wanted is not NOTHING or now - self._told_at > BEAT_SECONDS
            ):
                self._pipe.send(replace(self._wanted, at=time.monotonic()))
                self._wanted, self._told, self._told_at = NOTHING, self._told + 1, now
        except (EOFError, OSError):
            self._lose("its process ended")
        else:
            if self._silence.look(now) > SILENT_SECONDS:
                self._lose("it answers no more")

    @property
    def pid(self) -> int:
        """Of its process; 0 where there is none."""
        return (self._process.pid or 0) if self._process is not None else 0

    def close(self) -> None:
        """End it: the devices say so."""
        process, self._process = self._process, None
        if process is None:
            return
        self._pipe.close()
        process.join(3.0)
        if process.is_alive():
            process.kill()
            process.join()

    def _look_whether_open(self) -> bool:
        """Whether it is begun; where it can't be, it is lost."""
        if self._open:
            return True
        why: object = "its process did not begin in time"
        try:
            if not self._pipe.poll() and self._clock() < self._open_until:
                return False
            if self._pipe.poll():
                why = self._pipe.recv()
        except (EOFError, OSError):
            why = "its process ended"
        if why:
            if isinstance(why, tuple):  # of a library, where another port is no help
                why, self._cost = why
            self._lose(str(why))
            return False
        self._open, self._silence = True, Silence(self._clock())
        return True

    def _lose(self, why: str) -> None:
        self.trouble = why
        self.report = Report(self.report.handled, let_in=self.report.let_in)
        get_log("viewers").warning("the second screen is lost: %s", why)
        process, self._process = self._process, None
        if process is not None:
            process.kill()
            process.join()
        self._pipe.close()


def run(where: Where, make_view: MakeView, pipe: Connection[Any, Any]) -> None:
    """Body of the child."""
    start_log(child=True)
    try:
        from assistant.devices.viewers.child import serve
    except ImportError as error:
        missing = library_missing(error)
        pipe.send((missing.why, missing.cost))
        return
    with contextlib.suppress(EOFError, OSError):  # the program is gone already
        serve(where, make_view, pipe)
