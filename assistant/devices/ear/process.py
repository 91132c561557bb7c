"""The ear in a child process, watched: a native decoder that hangs or dies is started anew."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence

from assistant.audio.endpoint import Limits
from assistant.child import Child, ChildLost
from assistant.devices.ear import child
from assistant.devices.ear.events import EarEvent, EarState
from assistant.errors import DeviceFailed
from assistant.ports import Recogniser, Samples
from assistant.spoken import WordAutomaton

START_SECONDS = 30.0
"""Without a sign of life: a first start on a cold disk may take so long to its first."""
SIGN_SECONDS = 1.6
"""It gives a sign of life each tenth of a second, also on a slow machine (`heart.py`); without one
for so long it hangs, and that is known within 2 s."""
PAUSES = (0.0, 0.5, 1.0, 2.0, 4.0, 8.0, 15.0, 30.0)
"""Seconds before each new start, by the starts in a row that brought no ear; the last is
repeated."""
MOST_STARTS = 3
"""Starts in a row without an ear, after which nobody waits for it to be ready any more."""


class EarProcess:
    """A recogniser with its endpointing, in a process of its own.

    `make` makes the recogniser there, so it must be importable: a class, a function of a module,
    or `functools.partial` of one. All methods are for one thread, except `feed`, which only
    queues and may be called from a sound callback.

    `instead` makes another ear, for where the first can't be started: after `MOST_STARTS` it takes
    its place.
    """

    def __init__(
        self,
        make: Callable[[], Recogniser],
        *,
        instead: Callable[[], Recogniser] | None = None,
        limits: Limits | None = None,
        clock: Callable[[], float] = time.monotonic,
        sign_seconds: float = SIGN_SECONDS,
        start_seconds: float = START_SECONDS,
    ) -> None:
        self._make, self._instead = make, instead
        self._limits = limits or Limits()
        self._clock = clock
        self._sign_seconds = sign_seconds
        self._start_seconds = start_seconds
        self._child: Child[child.Command, child.Report] | None = None
        self._prepared: dict[str, WordAutomaton] = {}
        self._grammar: WordAutomaton | None = None
        self._starts = 0
        self._next_start = 0.0
        self._wanted = False
        """Whether there shall be a process."""
        self._pending: list[EarEvent] = []
        self.deaf: frozenset[str] = frozenset()
        """Words of the prepared grammars that the recogniser can't hear."""
        self.flushed = True
        """Whether everything before the last `flush` is reported."""

    @property
    def ready(self) -> bool:
        """Whether the recogniser is loaded and listens."""
        return self._child is not None and self._child.ready

    def start(self) -> None:
        """Start the process; returns at once. `poll` reports when it listens."""
        self._wanted = True
        if self._child is None:
            self._spawn()

    def prepare(self, grammars: Sequence[WordAutomaton]) -> None:
        """Have grammars compiled ahead of need; again after a restart."""
        new = {grammar.id: grammar for grammar in grammars if grammar.id not in self._prepared}
        self._prepared |= new
        if new:
            self._send(child.Prepare(tuple(new.values())))

    def listen_for(self, grammar: WordAutomaton) -> None:
        """Hold what is said from now on to `grammar`."""
        if self._grammar is None or self._grammar.id != grammar.id:
            self._grammar = grammar
            self._send(child.ListenFor(grammar))

    def feed(self, samples: Samples) -> None:
        """Queue sound that ends now."""
        self._send(child.Sound(samples, self._clock()))

    def flush(self) -> None:
        """The sound has ended: have it decided now. `flushed` turns true when that is reported."""
        self.flushed = self._child is None  # one that isn't there has nothing to report
        self._send(child.Flush())

    def interrupt(self) -> None:
        """Sound will be missing from here on, as while the assistant itself speaks: what is being
        said now is forgotten, since the rest of a number might be missing."""
        self._send(child.Interrupt())

    def poll(self) -> list[EarEvent]:
        """What happened since the last call; also watches over the process."""
        events, self._pending = self._pending, []
        if self._child is None:
            if self._wanted and self._clock() >= self._next_start:
                self._spawn()
            return events
        try:
            for report in self._child.look():
                self._receive(report, events)
        except ChildLost as lost:
            self._lose(lost, events)
        return events

    def wait_ready(self, timeout: float = START_SECONDS) -> list[EarEvent]:
        """Events until it listens. Raises `DeviceFailed` where it doesn't within `timeout`."""
        events: list[EarEvent] = []
        end = time.monotonic() + timeout
        while not self.ready:
            events += self.poll()
            given_up = self._child is None and self._starts >= MOST_STARTS
            if time.monotonic() > end or given_up:
                raise DeviceFailed("ear", "it did not start")
            time.sleep(0.01)
        return events

    def close(self) -> None:
        """End the process: gently, then by force."""
        self._wanted = False
        if self._child is not None:
            self._child.end(1.0)
            self._child, self.flushed = None, True

    def _receive(self, report: child.Report, events: list[EarEvent]) -> None:
        match report:
            case child.Deaf(words):
                self.deaf |= frozenset(words)
            case child.Flushed():
                self.flushed = True
            case _:
                self._starts = 0
                events.append(report)

    def _lose(self, lost: ChildLost, events: list[EarEvent]) -> None:
        """Say so, and plan a new start."""
        self._child, self.flushed = None, True
        why = lost.what if lost.how == "refused" else f"The ear {lost.what}"
        pause = PAUSES[min(self._starts, len(PAUSES) - 1)]
        self._next_start = self._clock() + pause
        # the same words at each try: what is new is said, and said once
        how = "I try again, with growing pauses." if self._starts else "It is started again."
        if self._starts >= MOST_STARTS and self._instead is not None:
            self._make, self._instead, self._starts = self._instead, None, 0
            self._next_start = self._clock()
            how = "The other ear is started instead."
        events.append(EarState("trouble", f"{why.rstrip('.')}. {how}"))

    def _spawn(self) -> None:
        self._starts += 1
        self._child = Child(
            "ear", child.run, self._make, self._limits,
            begin_seconds=self._start_seconds, silent_seconds=self._sign_seconds,
            clock=self._clock,
        )  # fmt: skip
        self._pending.append(EarState("starting"))
        if self._prepared:
            self._send(child.Prepare(tuple(self._prepared.values())))
        if self._grammar is not None:
            self._send(child.ListenFor(self._grammar))

    def _send(self, command: child.Command) -> None:
        ear = self._child  # once: the thread of the sound is here, too
        if ear is not None:
            ear.send(command)
