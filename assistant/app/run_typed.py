"""A job by typed lines, with real voice, screen and journal: for a computer without microphone."""

from __future__ import annotations

import queue
import time

from assistant.app.keyboard import typed_lines
from assistant.app.keys import press
from assistant.app.talker import Talker
from assistant.present.glance import Ear

POLL = 0.03
"""Seconds between looks at the window's keys."""


HINT = 'Type what you would say, and press Enter. "help" helps.'


def run_typed(
    assistant: Talker, *, until_finished: bool = False, patience: float | None = None
) -> bool:
    """Take lines from the keyboard, and keys from the window; True where the job was finished.

    `until_finished` ends with the job. Where nothing is typed at first for `patience` seconds,
    nobody is there, and it ends.
    """
    assistant.ear = Ear.NO_MICROPHONE
    assistant.show()
    clock = assistant.devices.clock
    inbox = typed_lines(clock)
    begun = clock.monotonic()
    while not (until_finished and assistant.over):
        for key in assistant.devices.screen.keys():  # noqa: SIM118  (a port, no mapping)
            if key == "quit":
                return assistant.over
            press(assistant, key)
            patience = None
        try:
            heard = inbox.get_nowait()
        except queue.Empty:
            if patience is not None and clock.monotonic() - begun > patience:
                break
            time.sleep(POLL)
            continue
        if heard is None:
            break
        patience = None
        assistant.hear(heard)
    return assistant.over
