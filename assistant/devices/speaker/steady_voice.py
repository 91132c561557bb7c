"""The clear voice, with the system's voice to stand in for it, sentence by sentence."""

from __future__ import annotations

from contextlib import suppress

from assistant.devices.speaker.voice import Sound, TextRefused, Voice
from assistant.errors import DeviceFailed, DeviceMissing

PATIENCE_SECONDS = 4.0
"""The clear voice is ready in half a second, or three on a busy computer. After that the other one
begins."""
MOST_FAILURES = 3
"""Failures without a sentence between them, after which it is broken and not stuck."""


class SteadyVoice:
    """Two engines as one. Where the first fails to start, hangs, crashes or can't say a text, the
    second says the sentence; the next one is the first's again, once it is ready.

    The second is started when it is wanted, for its memory's sake.
    """

    def __init__(self, first: Voice, second: Voice) -> None:
        self._first, self._second = first, second
        self._failures = 0
        self.standing_in = ""
        """What is wrong with the first; '' where it speaks, or will as soon as it is loaded."""

    def start(self) -> None:
        """Have a voice ready. Raises `DeviceMissing` where neither can be had."""
        if not self._usable(PATIENCE_SECONDS):
            self._second.start()

    def sound(self, text: str, rate: int, shape: float = 1.0) -> Sound:
        """`text` as sound, by the first voice that can say it.

        Raises `TextRefused` or `DeviceFailed` of the first where the second fails, too.
        """
        failed = DeviceFailed("voice", self.standing_in or "the clear voice isn't loaded yet")
        if self._usable():
            try:
                sound = self._first.sound(text, rate, shape)
            except TextRefused as refused:
                failed = refused
            except DeviceFailed as trouble:
                failed = trouble
                self._note(trouble.why)
                self._usable()  # begins to start it again
            else:
                self._failures, self.standing_in = 0, ""
                return sound
        try:
            return self._second.sound(text, rate, shape)
        except DeviceFailed:
            raise failed from None

    def close(self) -> None:
        """End both."""
        self._first.close()
        self._second.close()

    def _usable(self, patience: float = 0.0) -> bool:
        if self._failures >= MOST_FAILURES:
            return False
        try:
            return self._first.ready(patience)
        except DeviceMissing as missing:
            self._note(missing.why)
        return False

    def _note(self, why: str) -> None:
        self._failures += 1
        self.standing_in = why
        if self._failures >= MOST_FAILURES:
            with suppress(OSError):
                self._first.close()
