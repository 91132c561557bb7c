"""A speech engine in a process of its own: a line of JSON in, a sound file and a line out.

    {"text": "Lock it.", "rate": 190, "voice": null, "shape": 1.0, "file": "/…/3.wav"}
        -> {"ok": true}
         | {"ok": false, "refused": "letters 'Ж'"}   the engine can't say this, and goes on
         | {"ok": false, "error": "..."}             the engine is in trouble

A speech engine is native code that can hang or crash; here it takes only this process with it, and
the program starts another. `voice` counts for the system's engine alone, `shape` for the clear one.
"""

from __future__ import annotations

import json
import os
import signal
import sys
import wave
from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path
from typing import Any

from assistant.devices.voice.words import CantSay

LONGEST_SECONDS = 30
"""A request that takes longer ends this process, also when the program that asked is gone."""

Write = Callable[[Mapping[str, Any]], None]


def clear(network: str = "") -> Write:
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


def system() -> Write:
    """The operating system's voice."""
    from assistant.devices.voice.system import SystemVoice

    voice = SystemVoice()
    return lambda asked: voice.write(asked["text"], asked["rate"], asked["voice"], asked["file"])


def main(load: Callable[[], Write]) -> None:
    """Load an engine and answer requests until there are no more."""
    # What the engine prints must not get between the answers.
    answers = os.fdopen(os.dup(1), "w", encoding="utf-8")
    os.dup2(2, 1)

    def answer(**what: Any) -> None:
        print(json.dumps(what), file=answers, flush=True)

    try:
        write = load()
    except Exception as error:  # each engine has its own kinds
        answer(ok=False, error=str(error) or type(error).__name__)
        return
    answer(ok=True)
    for line in sys.stdin:
        if hasattr(signal, "alarm"):
            signal.alarm(LONGEST_SECONDS)
        try:
            write(json.loads(line))
        except CantSay as error:
            answer(ok=False, refused=str(error))
        except Exception as error:
            answer(ok=False, error=str(error) or type(error).__name__)
        else:
            answer(ok=True)
        if hasattr(signal, "alarm"):
            signal.alarm(0)


if __name__ == "__main__":
    main(partial({"clear": clear, "system": system}[sys.argv[1]], *sys.argv[2:]))
