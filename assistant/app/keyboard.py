"""The lines of the keyboard, read by one thread a process: who listens next goes on where the one
before left off, and no line is lost between them."""

from __future__ import annotations

import queue
import sys
import threading
from typing import TextIO

from assistant.devices.typed import TypedWords
from assistant.ports import Clock
from assistant.spoken import Heard

Inbox = queue.Queue[Heard | None]


class Keyboard:
    """One stream of lines."""

    def __init__(self, stream: TextIO, clock: Clock) -> None:
        self.stream = stream
        self.inbox: Inbox = queue.Queue()
        """What was typed; None at the end of the stream."""
        self._clock = clock
        self._thread = threading.Thread(target=self._read, name="keyboard", daemon=True)
        self._thread.start()

    def _read(self) -> None:
        for heard in TypedWords(self.stream, self._clock):
            self.inbox.put(heard)
        self.inbox.put(None)

    def again(self) -> Inbox:
        """The inbox for who listens next; a stream that has ended says so again."""
        if not self._thread.is_alive() and self.inbox.empty():
            self.inbox.put(None)
        return self.inbox


_open: list[Keyboard] = []


def typed_lines(clock: Clock) -> Inbox:
    """What is typed on standard input."""
    if not _open or _open[0].stream is not sys.stdin:
        _open[:] = [Keyboard(sys.stdin, clock)]
    return _open[0].again()
