"""Takes microphone, loudspeaker and sound server away from the live program; run inside
`scripts/virtual_sound`.

    python -m tests.app.live_faults JOURNAL OUT

Prints `KEY VALUE` lines: what was noticed, after how many seconds, and the step before and after.
"""

from __future__ import annotations

import os
import queue
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Mapping
from pathlib import Path

from assistant.app.operator import read_script
from assistant.app.paths import configs_folder
from tests.devices.virtual_sound import (
    VirtualSound,
    pactl,
    plug_in_microphone,
    plug_in_speaker,
)

PATIENCE = 60.0
NO_DISPLAY: Mapping[str, str] = {"SDL_VIDEODRIVER": "dummy", "DISPLAY": ":none"}


class Program:
    """`wheelcall run`, and the lines that it prints."""

    def __init__(self, journal: str, out: Path, display: Mapping[str, str] = NO_DISPLAY) -> None:
        self._process = subprocess.Popen(
            [sys.executable, "-m", "assistant", "run", "keyseat-inch", "--journal", journal,
             "--out", str(out), "--settings", str(out / "settings.toml")],
            stdout=subprocess.PIPE, stderr=subprocess.STDOUT, stdin=subprocess.DEVNULL, text=True,
            env=os.environ | display | {"PYTHONUNBUFFERED": "1"},
        )  # fmt: skip
        self._lines: queue.Queue[str] = queue.Queue()
        self.printed: list[str] = []
        threading.Thread(target=self._read, daemon=True).start()

    def _read(self) -> None:
        for line in self._process.stdout or ():
            self._lines.put(line.rstrip("\n"))

    def wait_for(self, start: str, seconds: float = PATIENCE) -> float:
        """Seconds until a line begins with `start`; -1 where none did."""
        begun = time.monotonic()
        while time.monotonic() - begun < seconds:
            try:
                line = self._lines.get(timeout=0.05)
            except queue.Empty:
                continue
            self.printed.append(line)
            if line.startswith(start):
                return time.monotonic() - begun
        return -1.0

    def noticed(self, fault: Callable[[], object], start: str) -> float:
        """Seconds from the beginning of `fault` until a line begins with `start`."""
        begun = time.monotonic()
        fault()
        return time.monotonic() - begun if self.wait_for(start) >= 0 else -1.0

    def forget(self) -> None:
        """Pass over the lines that are there already."""
        while not self._lines.empty():
            self.printed.append(self._lines.get())

    @property
    def alive(self) -> bool:
        return self._process.poll() is None

    def close(self) -> None:
        self._process.terminate()
        self._process.wait(10)


def main(journal: str, folder: str) -> int:
    """Take each away in turn; 0 where the program lived through it all."""
    out = Path(folder)
    sound = VirtualSound(out)
    program = Program(journal, out)
    clip = read_script(configs_folder() / "demo" / "keyseat-inch.toml").clip("checked")
    try:
        tell("begun", program.wait_for("says"))
        time.sleep(6.0)
        program.forget()
        # what a server gives in place of its last speaker, where it has the module for that
        pactl("load-module", "module-null-sink", "sink_name=auto_null")
        pactl("set-default-sink", "auto_null")
        tell("speaker noticed", program.noticed(sound.unplug_speaker, "Voice: "))
        time.sleep(1.0)
        plug_in_speaker()
        tell("speaker back", program.wait_for("Voice is back."))
        time.sleep(2.0)
        program.forget()
        tell("microphone noticed", program.noticed(sound.unplug_microphone, "Microphone: "))
        time.sleep(1.0)
        plug_in_microphone()
        tell("microphone back", program.wait_for("Microphone is back."))
        time.sleep(4.0)
        say(program, clip)
        tell("heard again", program.wait_for("says", 8.0))
        time.sleep(3.0)
        program.forget()
        tell("server noticed", program.noticed(lambda: pactl("exit"), "Microphone: "))
        time.sleep(3.0)
        tell("alive", float(program.alive))
    finally:
        program.close()
        while program.wait_for("\0", 0.3) >= 0:
            pass
        print("\n".join(program.printed[-60:]), flush=True)
    return 0


def say(program: Program, clip: Path) -> float:
    """Play `clip` into the microphone until it is understood; seconds, or -1."""
    begun = time.monotonic()
    for _ in range(4):
        subprocess.run(["paplay", "--device=mic_in", str(clip)], check=True)
        if program.wait_for("understood  checked", 8.0) >= 0:
            return time.monotonic() - begun
    return -1.0


def tell(what: str, value: float) -> None:
    """One finding."""
    print(f"FOUND {what}: {value:.2f}", flush=True)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], sys.argv[2]))
