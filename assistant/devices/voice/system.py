"""The operating system's speech engine (on Linux eSpeak NG), through pyttsx3."""

from __future__ import annotations

import os
import sys
import threading
from typing import Any

TRIES = 5
"""eSpeak's queue now and then drops a sentence whole (about one in a hundred, when it comes some
milliseconds after another): its file is empty then, and it is asked for again."""
HEADER_BYTES = 44


class SystemVoice:
    """One engine, used from one thread."""

    def __init__(self) -> None:
        """Raises what the driver raises where there is no engine: each has its own kinds."""
        import pyttsx3

        self._engine: Any = pyttsx3.init()
        self._said = threading.Event()
        self._engine.connect("finished-utterance", lambda name, completed: self._said.set())
        self._manner: tuple[str | None, int] | None = None

    def write(self, text: str, rate: int, voice: str | None, file: str) -> None:
        """`text` as a WAV file at `rate` words a minute; `voice` is the engine's name of one."""
        if (voice, rate) != self._manner:
            for _ in range(2):  # a setting goes the same way as a sentence, and gets lost there
                if voice is not None:
                    self._engine.setProperty("voice", voice)
                self._engine.setProperty("rate", rate)
                _settle()
            self._manner = (voice, rate)
        for _ in range(TRIES):
            self._said.clear()
            self._engine.save_to_file(text, file)
            self._engine.runAndWait()
            # The end of the sentence before can end this loop too early, since the engine's
            # thread sets its flag twice. Only this notice says that the file is whole.
            self._said.wait()
            _settle()
            if os.path.getsize(file) > HEADER_BYTES:
                break


def _settle() -> None:
    """Let the engine's thread come to rest, or the next sentence gets the end of this one."""
    native = sys.modules.get("pyttsx3.drivers._espeak")
    if native is not None:
        native.Synchronize()
