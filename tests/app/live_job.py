"""Works a part of a job through real sound cards; run inside `scripts/virtual_sound`.

    python -m tests.app.live_job JOURNAL RECORDING PHRASE...

A person's place is taken by a program that plays recordings to the microphone when it has heard
the assistant out. The assistant's speech is recorded from the loudspeaker. Prints the transcript;
the exit status is 0 where every phrase was understood.
"""

from __future__ import annotations

import os
import queue
import subprocess
import sys
import threading
import time

from assistant.demo import clip_path

COMMAND_SECONDS = 25.0
SILENCE = 0.6
"""Seconds without sound of the assistant's before the person speaks."""


def main(journal: str, recording: str, phrases: list[str]) -> int:
    """Say the phrases one after another, each after the answer to the last."""
    environment = dict(os.environ, SDL_VIDEODRIVER="dummy", DISPLAY="", PYTHONUNBUFFERED="1")
    recorder = subprocess.Popen(
        ["parec", "--device=speaker_out.monitor", "--rate=16000", "--channels=1",
         "--format=s16le", "--file-format=wav", recording]
    )  # fmt: skip
    time.sleep(0.5)
    command = [sys.executable, "-m", "assistant", "run", "keyseat-inch", "--journal", journal,
               "--out", os.path.dirname(recording), "--settings",
               os.path.join(os.path.dirname(recording), "settings.toml")]  # fmt: skip
    assistant = subprocess.Popen(
        command, stdout=subprocess.PIPE, stdin=subprocess.DEVNULL, text=True, env=environment
    )
    lines: queue.Queue[str] = queue.Queue()
    threading.Thread(
        target=lambda: [lines.put(line.rstrip("\n")) for line in assistant.stdout or ()],
        daemon=True,
    ).start()
    understood = 0
    try:
        _until(lines, "says", 40.0)
        for phrase in phrases:
            _let_speak()
            subprocess.run(
                ["paplay", "--device=mic_in", str(clip_path("keyseat-inch", phrase))], check=True
            )
            said = _until(lines, "says", COMMAND_SECONDS)
            understood += any(line.startswith("understood") for line in said)
        _let_speak()
    finally:
        assistant.terminate()
        assistant.wait(10)
        recorder.terminate()
        recorder.wait(10)
    print(f"{understood} of {len(phrases)} understood")
    return 0 if understood == len(phrases) else 1


def _until(lines: queue.Queue[str], word: str, seconds: float) -> list[str]:
    """Lines up to one that begins with `word`."""
    end = time.monotonic() + seconds
    got: list[str] = []
    while time.monotonic() < end:
        try:
            line = lines.get(timeout=0.1)
        except queue.Empty:
            continue
        print(line, flush=True)
        got.append(line)
        if line.startswith(word):
            return got
    print(f"no {word!r} line within {seconds:.0f} s", flush=True)
    return got


def _let_speak() -> None:
    """Wait until the loudspeaker has been silent for a moment."""
    quiet_since = time.monotonic()
    listener = subprocess.Popen(
        ["parec", "--device=speaker_out.monitor", "--rate=16000", "--channels=1",
         "--format=s16le", "--latency-msec=50"],
        stdout=subprocess.PIPE,
    )  # fmt: skip
    try:
        time.sleep(0.3)
        while time.monotonic() - quiet_since < SILENCE + 0.5:
            block = listener.stdout.read(1600) if listener.stdout else b""
            if any(block):
                quiet_since = time.monotonic()
    finally:
        listener.terminate()
        listener.wait(5)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], sys.argv[2], sys.argv[3:]))
