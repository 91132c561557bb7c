"""The sound server behind the default card, where there is one: what it hands out in a pinch.

A server whose last microphone is unplugged goes on delivering: what the speaker plays. One whose
last speaker is unplugged goes on taking sound: for nothing. To the program both look like a card
at work. `pactl` tells, where it is installed; PipeWire answers it as PulseAudio does.
"""

from __future__ import annotations

import shutil
import subprocess
import threading
from collections.abc import Callable
from contextlib import suppress

from assistant.audio.cards import Way

SERVED = ("default", "pulse", "pipewire")
"""Names of the cards that are a sound server."""
NO_SINK = "auto_null"
"""What a server calls the sink that plays to nobody."""
ANSWER_SECONDS = 1.0


def stand_in(way: Way, card: str) -> str:
    """Why the server behind `card` has nothing real that way; '' where it has, or can't tell."""
    tool = shutil.which("pactl")
    if tool is None or card not in SERVED:
        return ""
    what = "source" if way == "input" else "sink"
    try:
        answer = subprocess.run(
            [tool, f"get-default-{what}"],
            capture_output=True, text=True, timeout=ANSWER_SECONDS, check=True,
        )  # fmt: skip
    except (OSError, subprocess.SubprocessError):
        return ""
    name = answer.stdout.strip()
    if way == "input" and name.endswith(".monitor"):
        return f"the sound server has none: its source {name} is the speaker's own"
    if way == "output" and name == NO_SINK:
        return "the sound server has none: what it is given is played to nobody"
    return ""


class Watch:
    """Tells when the server's cards change. Does nothing where there is no server."""

    def __init__(self, card: str, changed: Callable[[], None]) -> None:
        """`changed` is called in a thread of the watch."""
        self._changed = changed
        self._process: subprocess.Popen[str] | None = None
        tool = shutil.which("pactl")
        if tool is None or card not in SERVED:
            return
        with suppress(OSError):
            self._process = subprocess.Popen(
                [tool, "subscribe"],
                stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
                text=True,
            )  # fmt: skip
            threading.Thread(target=self._read, name="sound server", daemon=True).start()

    def close(self) -> None:
        """Stop watching."""
        process, self._process = self._process, None
        if process is not None:
            process.kill()
            process.wait()

    def _read(self) -> None:
        process = self._process
        if process is None or process.stdout is None:
            return
        with suppress(ValueError), process.stdout:
            for line in process.stdout:
                # "Event 'remove' on source #3"; streams come and go and mean nothing.
                if line.rstrip().rpartition(" on ")[2].split(" ")[0] in (
                    "source",
                    "sink",
                    "server",
                ):
                    self._changed()
