"""Works a part of a job through real sound cards; run inside `scripts/virtual_sound`.

    python -m tests.app.live_job JOURNAL RECORDING FIRST LAST

A person's place is taken by the demo operator: lines FIRST to LAST of the inch demo's script are
played to the microphone, each when the loudspeaker has been silent for a moment, and the next one
depends on what was answered. What the loudspeaker gives is recorded. Prints the transcript; the
exit status is 0 where the operator got through.
"""

from __future__ import annotations

import os
import queue
import subprocess
import sys
import threading
import time
from dataclasses import replace
from pathlib import Path

from assistant.app.operator import DemoOperator, read_script
from assistant.app.paths import configs_folder

ANSWER_SECONDS = 15.0
SILENCE = 0.6
"""Seconds without sound of the assistant's before the person speaks."""
RECORD = ["parec", "--device=speaker_out.monitor", "--rate=16000", "--channels=1",
          "--format=s16le"]  # fmt: skip


def main(journal: str, recording: str, first: int, last: int) -> int:
    """Say the lines; 0 where each came to the answer it waits for."""
    out = Path(recording).parent
    script = read_script(configs_folder() / "demo" / "keyseat-inch.toml")
    operator = DemoOperator(replace(script, lines=script.lines[first:last]))
    recorder = subprocess.Popen([*RECORD, "--file-format=wav", recording])
    time.sleep(0.5)
    assistant = subprocess.Popen(
        [sys.executable, "-m", "assistant", "run", "keyseat-inch", "--journal", journal,
         "--out", str(out), "--settings", str(out / "settings.toml")],
        stdout=subprocess.PIPE,
        stdin=subprocess.DEVNULL,
        text=True,
        env=dict(os.environ, SDL_VIDEODRIVER="dummy", DISPLAY=":none", PYTHONUNBUFFERED="1"),
    )  # fmt: skip
    lines: queue.Queue[str] = queue.Queue()
    threading.Thread(
        target=lambda: [lines.put(line.rstrip("\n")) for line in assistant.stdout or ()],
        daemon=True,
    ).start()
    try:
        answer = _answer(lines, 60.0)
        while True:
            _let_speak()
            phrase = operator.next(answer)
            if phrase is None:
                break
            subprocess.run(["paplay", "--device=mic_in", str(script.clip(phrase))], check=True)
            answer = _answer(lines, ANSWER_SECONDS)
    finally:
        assistant.terminate()
        assistant.wait(10)
        recorder.terminate()
        recorder.wait(10)
    print(f"operator got through: {not operator.gave_up}", flush=True)
    return 1 if operator.gave_up else 0


def _answer(lines: queue.Queue[str], seconds: float) -> list[str]:
    """What was answered; nothing where there was silence."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        try:
            line = lines.get(timeout=0.1)
        except queue.Empty:
            continue
        print(line, flush=True)
        if line.startswith("says"):
            return [line.removeprefix("says").strip()]
    return []


def _let_speak() -> None:
    """Wait until the loudspeaker has been silent for a moment."""
    listener = subprocess.Popen([*RECORD, "--latency-msec=50"], stdout=subprocess.PIPE)
    quiet_since = time.monotonic()
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
    sys.exit(main(sys.argv[1], sys.argv[2], int(sys.argv[3]), int(sys.argv[4])))
