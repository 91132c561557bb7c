"""Speech engines for tests, each with a trouble of its own. They are loaded in the voice's process,
so this module imports next to nothing."""

from __future__ import annotations

import os
import time
import wave
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from assistant.devices.voice.words import CantSay

Write = Callable[[Mapping[str, Any]], None]


def write_sound(asked: Mapping[str, Any], seconds: float, rate: int) -> None:
    """Silence as the sound of what is asked."""
    with wave.open(asked["file"], "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(rate)
        file.writeframes(bytes(2 * round(seconds * rate)))


def ends_at_once() -> Write:
    os._exit(3)


def has_no_engine() -> Write:
    raise OSError("no libespeak")


def ends() -> Write:
    return lambda asked: os._exit(0)


def is_in_trouble() -> Write:
    def write(asked: Mapping[str, Any]) -> None:
        raise ValueError("no voice")

    return write


def writes_nothing() -> Write:
    return lambda asked: None


def writes_half() -> Write:
    return lambda asked: write_sound(asked, 0.1, 22_050)


def hangs(tries: Path) -> Write:
    """Keeps a mark for each sentence that it was asked for, and hangs in it."""

    def write(asked: Mapping[str, Any]) -> None:
        with tries.open("a", encoding="utf-8") as marks:
            marks.write("x")
        time.sleep(3600)

    return write


def obeys() -> Write:
    """Refuses, hangs or crashes where the text says so; else it takes its time."""

    def write(asked: Mapping[str, Any]) -> None:
        text = asked["text"]
        if "refuse" in text:
            raise CantSay("letters")
        if "hang" in text:
            time.sleep(3600)
        if "crash" in text:
            os._exit(3)
        write_sound(asked, 2.0, 24_000)

    return write


def loads_slowly() -> Write:
    time.sleep(1.5)
    return obeys()
