"""Tells a recogniser that is at work from one that hangs, on a machine however slow.

The time that an answer takes tells nothing: a loaded machine takes ten times as long for it. What
tells is whether the thread that works makes any progress: it uses the processor's time, and it
comes back from native code now and then. A thread that waits for what never comes uses none at
all; one that goes round in circles in native code uses much and never comes back.
"""

from __future__ import annotations

import _thread
import signal
import sys
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass

from assistant.child import ParentMissing

BEAT_SECONDS = 0.1
LEAST_WORK = 0.001
"""Processor seconds in a beat: a thread that got any more than this isn't waiting. The least share
that a busy machine gives to one of many threads is above it."""
LONGEST_CALL = 1.5
"""Processor seconds in one and the same native call. The longest of the built-in ear, encoding
nine seconds of speech, takes 0.1 s (measured on a core of a server)."""
LONGEST_COMMAND = 10.0
"""Processor seconds for one command: more than any sentence takes, but for one that goes round in
circles."""


@dataclass
class Progress:
    """Judges, beat by beat, whether a thread makes progress. Knows no clock and no thread."""

    new_command: bool = True
    """Set where the thread turns to another command."""
    resting: bool = False
    """Whether it waits for one: then nothing is wanted of it."""
    _used: float = 0.0
    _in_call: float = 0.0
    _in_command: float = 0.0

    def made(self, came_back: bool, used: float) -> bool:
        """Whether there was progress since the last beat.

        `came_back` is whether the thread was back in Python meanwhile, `used` all the processor's
        time that it has used so far, in seconds.
        """
        worked, self._used = used - self._used, used
        self._in_call = 0.0 if came_back else self._in_call + worked
        self._in_command = 0.0 if self.new_command else self._in_command + worked
        self.new_command = False
        if self.resting:
            return True
        if self._in_command > LONGEST_COMMAND:
            return False
        return came_back or (worked >= LEAST_WORK and self._in_call <= LONGEST_CALL)


class Heart:
    """A thread that beats as long as the main thread makes progress, or waits for a command. Made
    in the main thread.

    Whether that is back in Python is seen by its minding a signal, which is not really sent (no
    call into the system is interrupted) and does nothing. It is that of Ctrl-C, which goes to every
    process of a terminal: the ear's leaves when it is told to, and not for that.
    """

    def __init__(self, beat: Callable[[], None]) -> None:
        self._beat = beat
        self._progress = Progress()
        self._came_back = threading.Event()
        self._used = processor_time(threading.get_ident())
        signal.signal(signal.SIGINT, lambda _signal, _frame: self._came_back.set())
        threading.Thread(target=self._run, name="heart", daemon=True).start()

    def rest(self) -> None:
        """The main thread waits for a command."""
        self._progress.resting = True

    def turn(self) -> None:
        """The main thread turns to another command."""
        self._progress.new_command, self._progress.resting = True, False

    def _run(self) -> None:
        _thread.interrupt_main()
        while True:
            time.sleep(BEAT_SECONDS)
            came_back = self._came_back.is_set()
            if came_back:
                self._came_back.clear()
                _thread.interrupt_main()
            if self._progress.made(came_back, self._used()):
                try:
                    self._beat()
                except ParentMissing:
                    return


def processor_time(thread: int) -> Callable[[], float]:
    """What tells the processor's time that a thread has used, in seconds.

    Where the system can't tell it of one thread (macOS, Windows), it is that of the process less
    the thread that asks.
    """
    if sys.platform not in ("win32", "darwin"):
        with suppress(OSError):
            clock = time.pthread_getcpuclockid(thread)
            return lambda: time.clock_gettime(clock)
    return lambda: time.process_time() - time.thread_time()
