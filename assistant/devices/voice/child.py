"""A speech engine in a process of its own: a sentence in, a sound file and a word out.

    {"text": "Lock it.", "rate": 190, "voice": None, "shape": 1.0, "file": "/…/3.wav"}
        -> ("done", "")
         | ("refused", "letters 'Ж'")   the engine can't say this, and goes on
         | ("failed", "...")            the engine is in trouble

A speech engine is native code that can hang or crash; here it takes only this process with it, and
the program starts another. `voice` counts for the system's engine alone, `shape` for the clear one.
"""

from __future__ import annotations

import faulthandler
import os
import wave
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from assistant.child import Parent
from assistant.devices.voice.words import CantSay

LONGEST_SECONDS = 30
"""A request that takes longer ends this process, also where native code lets nothing else run."""

Write = Callable[[Mapping[str, Any]], None]


def clear(network: str) -> Write:
    """The clear voice, with the network of a file where one is named."""
    import numpy as np

    from assistant.devices.voice.clear import ClearVoice

    voice = ClearVoice(Path(network) if network else None)

    def write(asked: Mapping[str, Any]) -> None:
        samples = voice.sound(asked["text"], asked["rate"], asked["shape"])
        with wave.open(asked["file"], "wb") as file:
            file.setnchannels(1)
            file.setsampwidth(2)
            file.setframerate(voice.rate)
            file.writeframes((np.clip(samples, -1, 1) * 32767).astype("<i2").tobytes())

    return write


def system(_: str) -> Write:
    """The operating system's voice."""
    from assistant.devices.voice.system import SystemVoice

    voice = SystemVoice()
    return lambda asked: voice.write(asked["text"], asked["rate"], asked["voice"], asked["file"])


def work(parent: Parent[Mapping[str, Any], tuple[str, str]], kind: Any, network: str) -> None:
    """Load an engine, `clear` or `system` or by a function, and answer requests."""
    nowhere = os.open(os.devnull, os.O_WRONLY)  # an engine prints what is no business of a terminal
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)
    write: Write = kind() if callable(kind) else {"clear": clear, "system": system}[kind](network)
    parent.ready()
    while True:
        asked = parent.take()
        faulthandler.dump_traceback_later(LONGEST_SECONDS, exit=True, file=nowhere)
        try:
            write(asked)
        except CantSay as error:
            answer = ("refused", str(error))
        except Exception as error:  # each engine has its own kinds
            answer = ("failed", str(error) or type(error).__name__)
        else:
            answer = ("done", "")
        faulthandler.cancel_dump_traceback_later()
        parent.send(answer)
