"""The speech engine in a process of its own: a line of JSON in, a sound file and a line out.

    {"text": "Lock it.", "rate": 190, "voice": null, "file": "/…/3.wav"}  ->  {"ok": true}

A speech engine is native code that can hang or crash; here it takes only this process with it, and
the program starts another. Run by its path and needs nothing of the package but pyttsx3.
"""

from __future__ import annotations

import json
import os
import signal
import sys
import threading
from typing import Any

LONGEST_SECONDS = 30
"""A request that takes longer ends this process, also when the program that asked is gone."""
TRIES = 5
"""eSpeak's queue now and then drops a sentence whole (about one in a hundred, when it comes some
milliseconds after another): its file is empty then, and it is asked for again."""
HEADER_BYTES = 44


def main() -> None:
    os.environ["ORT_DISABLE_TELEMETRY"] = "1"  # as in the package, for one that is started by hand
    # What the engine prints must not get between the answers.
    answers = os.fdopen(os.dup(1), "w", encoding="utf-8")
    os.dup2(2, 1)

    def answer(**what: Any) -> None:
        print(json.dumps(what), file=answers, flush=True)

    try:
        import pyttsx3

        engine = pyttsx3.init()
    except Exception as error:  # each driver has its own kinds
        answer(ok=False, error=str(error) or type(error).__name__)
        return
    said = threading.Event()
    engine.connect("finished-utterance", lambda name, completed: said.set())
    answer(ok=True)
    manner: tuple[str | None, int] | None = None
    for line in sys.stdin:
        if hasattr(signal, "alarm"):
            signal.alarm(LONGEST_SECONDS)
        try:
            asked = json.loads(line)
            if (asked["voice"], asked["rate"]) != manner:
                for _ in range(2):  # a setting goes the same way as a sentence, and gets lost there
                    if asked["voice"] is not None:
                        engine.setProperty("voice", asked["voice"])
                    engine.setProperty("rate", asked["rate"])
                    _settle()
                manner = (asked["voice"], asked["rate"])
            for _ in range(TRIES):
                said.clear()
                engine.save_to_file(asked["text"], asked["file"])
                engine.runAndWait()
                # The end of the sentence before can end this loop too early, since the engine's
                # thread sets its flag twice. Only this notice says that the file is whole.
                said.wait()
                _settle()
                if os.path.getsize(asked["file"]) > HEADER_BYTES:
                    break
        except Exception as error:
            answer(ok=False, error=str(error) or type(error).__name__)
        else:
            answer(ok=True)
        if hasattr(signal, "alarm"):
            signal.alarm(0)


def _settle() -> None:
    """Let the engine's thread come to rest, or the next sentence gets the end of this one."""
    native = sys.modules.get("pyttsx3.drivers._espeak")
    if native is not None:
        native.Synchronize()


if __name__ == "__main__":
    main()
