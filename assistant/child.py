"""A part of the program in a process of its own, supervised: what hangs or crashes there takes that
process along and no more.

Here:

    child = Child("ear", work, make, begin_seconds=30, silent_seconds=1.6)
    child.send(command)        only queues: never waits, from any thread
    child.look()               all that it told since the last look; waits for nothing
    child.ask(task, 4.0)       of one that answers everything: its answer
    child.end(1.0)             it is told to leave, and made to

There, importable:

    def work(parent, make):    what it raises is logged and told, and ends the process
        ear = make()
        parent.ready()
        while True:
            parent.send(ear.answer(parent.take()))

Once it is lost, however that came, the methods that hear from it raise `ChildLost`, and its process
has ended. To begin anew is to make another one: when, and how often, is for whoever keeps it.

The process is spawned: a fork would take along locks of other threads in whatever state they are.
Its log is the program's; Ctrl-C in the terminal is for the program alone.
"""

from __future__ import annotations

import multiprocessing
import os
import queue
import signal
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from math import inf
from typing import Any, Generic, Literal, TypeVar

from assistant.errors import DeviceFailed, DeviceMissing, WheelcallError
from assistant.log import get_log, start_log
from assistant.silence import Silence

Sent = TypeVar("Sent")
"""What is sent to it."""
Told = TypeVar("Told")
"""What it tells."""

LOOK_SECONDS = 0.02
"""Between two looks of whoever waits."""
GRACE_SECONDS = 3.0
"""For a process whose program is gone to leave by itself."""

How = Literal["ended", "silent", "failed", "refused"]


class ChildLost(DeviceFailed):
    """A child that is gone."""

    def __init__(self, device: str, how: How, what: str, *, why: str = "", cost: str = "") -> None:
        """`what`, for "its process ...": "stopped (exit code 3)". Where it refused, that is the
        whole sentence of what was raised there, with its `why` and `cost`."""
        self.how = how
        self.what = what
        self.cost = cost
        super().__init__(device, why or f"its process {what}")


@dataclass(frozen=True, slots=True)
class _Ready:
    """It has what it needs, and begins its work."""


@dataclass(frozen=True, slots=True)
class _Beat:
    """A sign of life."""


@dataclass(frozen=True, slots=True)
class _Lost:
    """It can tell itself why it can't go on."""

    how: How
    what: str
    why: str = ""
    cost: str = ""


@dataclass(frozen=True, slots=True)
class _Leave:
    """It is to end."""


class Child(Generic[Sent, Told]):
    """One process from its start to its end. `send` and `kill` may be called from any thread, all
    else from one."""

    def __init__(
        self,
        name: str,
        work: Callable[..., None],
        *args: object,
        begin_seconds: float = inf,
        silent_seconds: float = inf,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        """Starts it: `work(parent, *args)`, importable, and so are `args`.

        Without any sign of life it is lost: for `begin_seconds` before it is ready, and for
        `silent_seconds` thereafter. `look` has to be called several times in each tenth of a
        second for these to count in full: only then has the process had its time, too.
        """
        self.name = name
        self.ready = False
        """Whether it is through with its beginning."""
        self._begin_seconds, self._silent_seconds = begin_seconds, silent_seconds
        self._clock = clock
        context = multiprocessing.get_context("spawn")
        # Never closed by hand: another thread may be at it. It goes with this object.
        self._pipe, there = context.Pipe()
        self._process = context.Process(
            target=_run, args=(name, work, there, args), name=name, daemon=True
        )
        self._process.start()
        there.close()  # or its end would never be seen here
        self._silence = Silence(clock())
        self._lost: ChildLost | None = None
        self._ending = threading.Lock()
        self._queued: queue.SimpleQueue[Any] = queue.SimpleQueue()
        threading.Thread(target=self._pass_on, name=f"to {name}", daemon=True).start()

    @property
    def pid(self) -> int:
        """Of its process; 0 once that has ended."""
        return (self._process.pid or 0) if self._process.exitcode is None else 0

    @property
    def queued(self) -> int:
        """How much of what was sent waits here still; a pipe holds some more."""
        return self._queued.qsize()

    def send(self, what: Sent) -> None:
        """Queue it. What is sent to one that is gone is lost."""
        self._queued.put(what)

    def look(self, *, owes: bool = True) -> list[Told]:
        """What it told since the last look. Its silence counts only while it `owes` a sign of life.

        Raises `ChildLost`, once all that it had told before was given.
        """
        told: list[Told] = []
        if self._lost is None:
            try:
                while self._pipe.poll():
                    self._take(self._pipe.recv(), told)
                if not self._process.is_alive() and not self._pipe.poll():
                    raise EOFError
            except (EOFError, OSError):
                self._ended()
            else:
                self._mind_silence(owes)
        if self._lost is not None and not told:
            raise self._lost
        return told

    def wait_ready(self) -> None:
        """Return once it is ready. Raises `ChildLost`. For one that tells nothing before that."""
        while not self.ready:
            self.look()
            self._wait()

    def ask(self, what: Sent, seconds: float = inf) -> Told:
        """Send it, and wait for what is told next. Raises `ChildLost`, also where nothing is told
        within `seconds`, of which none counts in which it had not its time."""
        self.send(what)
        owed = Silence(self._clock())
        while not (told := self.look(owes=False)):
            self._wait()
            if owed.look(self._clock()) > seconds:
                self._lose("silent", f"gave no answer in {seconds:g} s")
        return told[0]

    def end(self, seconds: float) -> None:
        """Have it leave, with `seconds` for it; then it is ended."""
        self._queued.put(_Leave())
        self._process.join(seconds)
        self.kill()

    def kill(self) -> None:
        """End it now."""
        with self._ending:
            self._process.kill()
            self._process.join()
        self._queued.put(None)

    def _pass_on(self) -> None:
        # In a thread: the pipe of a process that hangs gets full, and then holds up who sends.
        with suppress(OSError):
            while (what := self._queued.get()) is not None:
                self._pipe.send(what)

    def _wait(self) -> None:
        with suppress(EOFError, OSError):  # seen at the next look
            self._pipe.poll(LOOK_SECONDS)

    def _take(self, what: Any, told: list[Told]) -> None:
        self._silence.broken()
        match what:
            case _Ready():
                self.ready = True
            case _Beat():
                pass
            case _Lost(how, what_happened, why, cost):
                self._lose(how, what_happened, why=why, cost=cost)
                raise EOFError
            case _:
                told.append(what)

    def _mind_silence(self, owes: bool) -> None:
        allowed = self._silent_seconds if self.ready else self._begin_seconds
        if not owes and self.ready:
            self._silence.broken()
        if self._silence.look(self._clock()) > allowed:
            self._lose("silent", f"gave no sign of life for {allowed:g} seconds")

    def _ended(self) -> None:
        if self._lost is None:
            self._process.join(1.0)
            self._lose("ended", f"stopped (exit code {self._process.exitcode})")

    def _lose(self, how: How, what: str, *, why: str = "", cost: str = "") -> None:
        self._lost = ChildLost(self.name, how, what, why=why, cost=cost)
        get_log(self.name).warning("lost: %s", self._lost.why)
        self.kill()


class ParentMissing(Exception):
    """The program is gone, or wants this process to end: there is nothing to be done any more."""


class Parent(Generic[Sent, Told]):
    """The program, as its child knows it. `send` and `beat` may be called from any thread."""

    def __init__(self, pipe: Any) -> None:
        self._pipe = pipe
        self._lock = threading.Lock()

    def ready(self) -> None:
        """The beginning is over."""
        self._tell(_Ready())

    def beat(self) -> None:
        """A sign of life, where there is nothing to tell."""
        self._tell(_Beat())

    def send(self, told: Told) -> None:
        """Tell it. Raises `ParentMissing`, as all of these do."""
        self._tell(told)

    def fail(self, error: Exception, name: str) -> None:
        """The last that is told: what was raised."""
        if isinstance(error, WheelcallError):
            why = error.why if isinstance(error, DeviceMissing | DeviceFailed) else str(error)
            cost = error.cost if isinstance(error, DeviceMissing) else ""
            self._tell(_Lost("refused", str(error), why, cost))
        else:
            get_log(name).error("its process fails", exc_info=error)
            self._tell(_Lost("failed", f"failed ({type(error).__name__}: {error})"))

    def waiting(self, seconds: float = 0.0) -> bool:
        """Whether there is something to take, or will be within `seconds`."""
        try:
            return bool(self._pipe.poll(seconds))
        except (EOFError, OSError):
            raise ParentMissing from None

    def take(self) -> Sent:
        """What it sends next; waits for it."""
        try:
            what = self._pipe.recv()
        except (EOFError, OSError):
            raise ParentMissing from None
        if isinstance(what, _Leave):
            raise ParentMissing
        sent: Sent = what
        return sent

    def _tell(self, what: object) -> None:
        with self._lock:
            try:
                self._pipe.send(what)
            except OSError:
                raise ParentMissing from None


def _run(name: str, work: Callable[..., None], pipe: Any, args: tuple[object, ...]) -> None:
    """Body of the process."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    start_log(child=True)
    multiprocessing.current_process().daemon = False  # only of itself: so it may have children, too
    threading.Thread(target=_leave_with_the_program, daemon=True).start()
    parent: Parent[Any, Any] = Parent(pipe)
    with suppress(ParentMissing):
        try:
            work(parent, *args)
        except ParentMissing:
            raise
        except Exception as error:  # native code and models have their own kinds
            parent.fail(error, name)


def _leave_with_the_program() -> None:
    program = multiprocessing.parent_process()
    if program is not None:
        program.join()
        time.sleep(GRACE_SECONDS)
        os._exit(1)  # nobody is left to end what hangs
