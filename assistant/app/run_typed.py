"""A job by typed lines, with real voice, screen and journal: for a computer without microphone."""

from __future__ import annotations

import queue
import sys
import threading
import time

from assistant.app.assistant import Assistant
from assistant.app.keys import press
from assistant.devices.typed import TypedWords
from assistant.ports import Clock
from assistant.present.glance import Ear
from assistant.spoken import Heard

POLL = 0.03
"""Seconds between looks at the window's keys."""


def run_typed(assistant: Assistant) -> bool:
    """Take lines from the keyboard, and keys from the window; True where the job was finished."""
    print('No microphone: type what you would say, and press Enter. "help" helps.\n')
    assistant.ear = Ear.NO_MICROPHONE
    assistant.show()
    inbox: queue.Queue[Heard | None] = queue.Queue()
    threading.Thread(
        target=read_lines, args=(inbox, assistant.devices.clock), name="keyboard", daemon=True
    ).start()
    while True:
        for key in assistant.devices.screen.keys():  # noqa: SIM118  (a port, no mapping)
            if key == "quit":
                return assistant.state.finished
            press(assistant, key)
        try:
            heard = inbox.get_nowait()
        except queue.Empty:
            time.sleep(POLL)
            continue
        if heard is None:
            return assistant.state.finished
        assistant.hear(heard)


def read_lines(inbox: queue.Queue[Heard | None], clock: Clock) -> None:
    """Lines of the keyboard into `inbox`, None at their end; the main thread takes them out."""
    for heard in TypedWords(sys.stdin, clock):
        inbox.put(heard)
    inbox.put(None)
