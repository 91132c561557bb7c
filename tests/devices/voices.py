"""Stand-ins for the parts of a speaker, and the real engine for those who want it."""

from __future__ import annotations

import threading
from collections.abc import Sequence

import numpy as np

from assistant.devices.speaker import Sound, TextRefused, Voice
from assistant.errors import DeviceFailed
from assistant.spoken import Sentence


def engine() -> Voice:
    """The real speech engine, started. Raises `DeviceMissing` where there is none."""
    voice = Voice()
    voice.start()
    return voice


class ScriptedVoice(Voice):
    """Makes silence of the right name; fails when told to."""

    def __init__(self) -> None:
        self.failing = ""
        self.refused: set[str] = set()
        """Texts that it can't say."""
        self.asked: list[tuple[str, int]] = []
        self.starts = 0

    def start(self) -> None:
        self.starts += 1
        if self.failing:
            raise DeviceFailed("voice", self.failing)

    def sound(self, text: str, rate: int, shape: float = 1.0) -> Sound:
        self.asked.append((text, rate))
        if self.failing:
            raise DeviceFailed("voice", self.failing)
        if text in self.refused:
            raise TextRefused("voice", "can't say this")
        return Sound(np.zeros(220, np.float32), 22_050)

    def close(self) -> None:
        pass


class ScriptedPlayer:
    """Plays nothing; waits while it is told to hold, fails when told to."""

    name = "scripted player"

    def __init__(self) -> None:
        self.played: list[str] = []
        self.cut: list[str] = []
        self.volumes: list[float] = []
        self.failing = ""
        self.go = threading.Event()
        self.go.set()
        self.begun = threading.Event()
        """Set when a sentence has begun."""

    def play(self, sound: Sound, text: str, volume: float, halt: threading.Event) -> bool:
        self.begun.set()
        self.volumes.append(volume)
        while not self.go.wait(0.002):
            if halt.is_set():
                self.cut.append(text)
                return False
        if self.failing:
            raise DeviceFailed("speaker", self.failing)
        self.played.append(text)
        return True

    def hold(self) -> None:
        """From now on a sentence lasts until `go` is set or it is cut."""
        self.go.clear()
        self.begun.clear()

    def still_there(self) -> None:
        if self.failing:
            raise DeviceFailed("speaker", self.failing)

    def probe(self) -> None:
        self.still_there()

    def close(self) -> None:
        pass


class Reports:
    """What a speaker reported, and a way to wait for it."""

    def __init__(self) -> None:
        self.all: list[tuple[str, list[str]]] = []
        self._came = threading.Condition()

    def __call__(self, trouble: str, unspoken: Sequence[Sentence]) -> None:
        with self._came:
            self.all.append((trouble, [sentence.text for sentence in unspoken]))
            self._came.notify_all()

    def wait_for(self, trouble: str, unspoken: Sequence[str] = (), timeout: float = 10) -> bool:
        """Until that was reported."""
        with self._came:
            return self._came.wait_for(lambda: (trouble, list(unspoken)) in self.all, timeout)
