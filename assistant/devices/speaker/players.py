"""Where a sentence's sound goes without a card: numbered files in a folder."""

from __future__ import annotations

import re
import threading
from collections.abc import Callable
from pathlib import Path
from typing import Protocol

import numpy as np
import soundfile

from assistant.devices.speaker.voice import Sound
from assistant.errors import DeviceFailed


class Player(Protocol):
    """Plays one sentence at a time. Used from the speaker's thread."""

    name: str

    def play(self, sound: Sound, text: str, volume: float, halt: threading.Event) -> bool:
        """Play to the end, and return at the end; False where `halt` cut it short.

        Raises `DeviceFailed`.
        """

    def still_there(self) -> None:
        """Asked a few times a second. Raises `DeviceFailed` where the device was lost."""

    def probe(self) -> None:
        """After a failure: look for the device anew. Raises `DeviceFailed` while it is gone."""

    def close(self) -> None:
        """Give back the device."""


class FolderPlayer:
    """Writes each sentence as a numbered WAV file and prints it."""

    def __init__(self, folder: Path, tell: Callable[[str], None] = print) -> None:
        self.folder = folder
        self.name = f"sound files in {folder}"
        self._tell = tell
        folder.mkdir(parents=True, exist_ok=True)
        taken = [int(file.name[:4]) for file in folder.glob("[0-9][0-9][0-9][0-9]-*.wav")]
        self._count = max(taken, default=0)

    def play(self, sound: Sound, text: str, volume: float, halt: threading.Event) -> bool:
        """Write it; takes no longer than writing."""
        self._count += 1
        name = re.sub(r"[^a-z0-9]+", "-", text.casefold()).strip("-")[:40]
        path = self.folder / f"{self._count:04d}-{name or 'sentence'}.wav"
        try:
            soundfile.write(path, np.clip(sound.samples * volume, -1, 1), sound.rate)
        except (soundfile.SoundFileError, OSError) as error:
            raise DeviceFailed("sound files", f"{path} can't be written: {error}") from error
        self._tell(f"says: {text}  [{path.name}]")
        return True

    def still_there(self) -> None:
        """A folder is tried when the next sentence is written."""

    def probe(self) -> None:
        """The folder may have been removed."""
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise DeviceFailed("sound files", f"{self.folder}: {error}") from error

    def close(self) -> None:
        """Nothing to give back."""
