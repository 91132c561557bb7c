"""What lies between loudspeaker and microphone, on a card of software: echoes, or an earphone.

The sound server itself carries the sound (`module-loopback`), since it keeps the time: a process
that reads and writes comes late on a busy computer, and later each time. `scripts/virtual_sound`
has to be around it.
"""

from __future__ import annotations

import re
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import soundfile

REVERBERATION = 0.6
"""Seconds until sound has fallen by 60 dB: a small shop with bare walls, common practice, no
source."""
DIRECT = 0.03
"""Seconds after which the voice itself arrives: the server needs so long."""
ECHOES = (0.07, 0.13, 0.22)
"""Seconds after that at which the walls give it back."""
MACHINES = ("milling", "lathe", "grinder", "gears", "motor")


@dataclass(frozen=True)
class Between:
    """How the program's voice comes back to its microphone."""

    name: str
    echo_db: float
    """Of the voice as it arrives, over the voice as it was played."""
    walls: bool = False
    """Whether echoes follow."""
    late: float = 0.0
    """Seconds more, as over a radio link."""
    noise_db: float | None = None
    """Of a machine, RMS over full scale; None: it stands still."""

    def arrivals(self) -> Iterator[tuple[float, float]]:
        """When it arrives, in seconds, and how loud, in dB."""
        for after in (0.0, *(ECHOES if self.walls else ())):
            yield DIRECT + self.late + after, self.echo_db - 60 * after / REVERBERATION

    @contextmanager
    def there(self, folder: Path, noises: Path, number: int, seconds: float) -> Iterator[None]:
        """As long as this lasts, it is so; `number` chooses the machine."""
        modules = [_loopback(late, db) for late, db in self.arrivals()]
        noise = _noise(self, folder, noises, number, seconds)
        try:
            yield
        finally:
            for module in modules:
                _pactl("unload-module", module)
            if noise is not None:
                noise.kill()
                noise.wait()


def _loopback(late: float, db: float) -> str:
    module = _pactl(
        "load-module", "module-loopback", "source=speaker_out.monitor", "sink=mic_in",
        f"latency_msec={late * 1000:.0f}",
    ).strip()  # fmt: skip
    for told in _pactl("list", "sink-inputs").split("Sink Input #")[1:]:
        if re.search(rf"Owner Module: {module}\b", told):
            _pactl("set-sink-input-volume", told.split()[0], f"{db:.1f}dB")
    return module


def _noise(
    where: Between, folder: Path, noises: Path, number: int, seconds: float
) -> subprocess.Popen[bytes] | None:
    file = noises / f"{MACHINES[number % len(MACHINES)]}.flac"
    if where.noise_db is None:
        return None
    sound, rate = soundfile.read(file)
    sound *= 10 ** (where.noise_db / 20) / np.sqrt(np.mean(sound**2))
    path = folder / "noise.wav"
    soundfile.write(path, np.resize(sound, round(seconds * rate)), rate)
    return subprocess.Popen(["paplay", "--device=mic_in", str(path)])


def _pactl(*arguments: str) -> str:
    return subprocess.run(
        ["pactl", *arguments], check=True, capture_output=True, text=True, timeout=20
    ).stdout
