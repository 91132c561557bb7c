"""Asks the operator for phrases to be said: printed, spoken aloud, and large in a window.

Who is to be heard as at the machine stands at the machine, too far off to read a terminal.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace

from assistant.app.echo import USUAL as ECHO_TAIL
from assistant.app.steady import FAULTS
from assistant.ports import Screen, Speaker
from assistant.present.glance import Ear, Glance, Moment
from assistant.spoken import Sentence

UNHEARD = "I heard nothing."
ALL = "That's all."
LAST_WORDS = 10.0
"""Seconds in which they are spoken at the most."""


class Asker:
    """One row of phrases. Used from the thread that reads the microphone."""

    def __init__(
        self,
        tell: Callable[[str], None] = print,
        speaker: Speaker | None = None,
        screen: Screen | None = None,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        """`tell` prints a line; a phrase is only printed where speaker and screen are None."""
        self._tell, self._speaker, self._screen, self._clock = tell, speaker, screen, clock
        self._quiet_from = 0.0
        """Clock time from which on nothing of its own voice is in the room."""
        self._unheard = False
        self._page = Glance(Moment.SAY, ear=Ear.STARTING)

    def ask(self, phrase: str, number: int, count: int) -> None:
        """Ask for `phrase`, which is `number` of `count`; returns at once."""
        self._tell(f'{number} of {count}. Say: "{phrase}"')
        words = phrase.replace("i'm", "I'm")
        self._page = replace(
            self._page,
            instruction=words,
            detail=(UNHEARD,) if self._unheard else (),
            place=f"{number} of {count}",
        )
        self._say(*([UNHEARD] if self._unheard else []), f"Say: {words}.")
        self._unheard = False

    def unheard(self) -> None:
        """Nothing was said; the next one asked for is told so."""
        self._tell(UNHEARD)
        self._unheard = True

    def speaking(self) -> bool:
        """Whether its own voice is in the room: what the microphone hears now doesn't count."""
        now = self._clock()
        if self._speaker is not None and self._speaker.speaking:
            self._quiet_from = now + ECHO_TAIL
        speaking = now < self._quiet_from
        if speaking:
            self.show(Ear.SPEAKING)
        return speaking

    def show(self, ear: Ear, level: float = -1.0) -> None:
        """Show whether it listens; `level` of the sound from 0 to 1, below 0 as before.

        Raises `KeyboardInterrupt` where the window was closed.
        """
        self._page = replace(
            self._page, ear=ear, level=round(level, 1) if level >= 0 else self._page.level
        )
        screen = self._screen
        if screen is None:
            return
        try:
            screen.show(self._page)
            closed = "quit" in screen.keys()  # noqa: SIM118  (a port, no mapping)
        except FAULTS as error:
            self._screen = None
            self._tell(f"No window any more: {error}. The phrases are printed.")
            with suppress(*FAULTS):
                screen.close()
            return
        if closed:
            raise KeyboardInterrupt

    def finish(self) -> None:
        """All is said: tell so."""
        self._tell(ALL)
        self._page = Glance(Moment.SAY, instruction=ALL)
        self._say(ALL)
        self.show(Ear.NOT_LISTENING, 0.0)
        if self._speaker is not None:
            self._speaker.wait(LAST_WORDS)

    def close(self) -> None:
        """Give back voice and window."""
        for device in (self._speaker, self._screen):
            if device is not None:
                device.close()

    def _say(self, *texts: str) -> None:
        if self._speaker is not None:
            self._speaker.say([Sentence(text) for text in texts])
