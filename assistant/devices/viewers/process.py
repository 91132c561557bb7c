"""The program's end of the server of second screens: told the pages, and never waited for."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from assistant.child import Child, ChildLost, Parent
from assistant.devices.viewers.addresses import DEVICE, Where, library_missing
from assistant.devices.viewers.messages import Report, Told
from assistant.errors import DeviceMissing
from assistant.present.glance import Glance

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
        self._child: Child[Told, Report] | None = Child(
            "viewers", run, where, make_view,
            begin_seconds=OPEN_SECONDS, silent_seconds=SILENT_SECONDS, clock=clock,
        )  # fmt: skip
        self._clock = clock
        self._cost = f"give another port: --show-at {where.address}:{where.port + 1}"
        self._glance: Glance | None = None
        self._wanted = NOTHING
        """What it has still to be told."""
        self._told = 0
        self._told_at = self._looked_at = 0.0
        while wait and not (self._child and self._child.ready):
            if self.trouble:
                raise DeviceMissing(DEVICE, self.trouble, self._cost)
            time.sleep(LOOK_SECONDS)
            self.look()

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
        now = self._clock()
        if self._child is None or (
            self._wanted is NOTHING and now < self._looked_at + LOOK_SECONDS
        ):
            return
        self._looked_at = now
        try:
            for report in self._child.look():
                self.report = report
        except ChildLost as lost:
            self._lose(lost)
            return
        if (
            self._child.ready
            and self.report.handled == self._told
            and (self._wanted is not NOTHING or now - self._told_at > BEAT_SECONDS)
        ):
            self._child.send(replace(self._wanted, at=time.monotonic()))
            self._wanted, self._told, self._told_at = NOTHING, self._told + 1, now

    @property
    def pid(self) -> int:
        """Of its process; 0 where there is none."""
        return self._child.pid if self._child is not None else 0

    def close(self) -> None:
        """End it: the devices say so."""
        if self._child is not None:
            self._child.end(3.0)
            self._child = None

    def _lose(self, lost: ChildLost) -> None:
        began = self._child is not None and self._child.ready
        silent = "it answers no more" if began else "its process did not begin in time"
        self.trouble = {"silent": silent, "ended": "its process ended"}.get(lost.how, lost.why)
        self._cost = lost.cost or self._cost  # of a library, where another port is no help
        self.report = Report(self.report.handled, let_in=self.report.let_in)
        self._child = None


def run(parent: Parent[Told, Report], where: Where, make_view: MakeView) -> None:
    """Body of the child."""
    try:
        from assistant.devices.viewers.child import serve
    except ImportError as error:
        raise library_missing(error) from error
    serve(where, make_view, parent)
