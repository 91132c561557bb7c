"""Where something is said: quiet, pink noise, machine noise, a room."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from earbench.mixing import mixed, noise
from earbench.rooms import reverberant

from assistant.ports import Samples

MACHINES = ("motor", "gears", "milling", "lathe", "grinder")
"""Of scripts/make_noise, one after the other over the sentences."""
SNRS = (10, 5, 0, -5)


@dataclass(frozen=True)
class Place:
    """A kind of noise at so many dB, or none."""

    kind: str = ""
    """`pink`, `machines`, or ''."""
    snr: int = 0
    far: bool = False
    """3.3 m from the loudspeaker, in a room of 0.6 s."""

    @property
    def name(self) -> str:
        room = ", far in a room" if self.far else ""
        return (f"{self.kind} {self.snr:+d} dB" if self.kind else "clean") + room

    def around(self, speech: Samples, noises: Path, number: int) -> Samples:
        """`speech` as it arrives, as loud as all others; `number` chooses the piece of noise."""
        microphone = "far" if self.far else ""
        if self.far:
            speech = reverberant(speech, microphone)
        if not self.kind:
            return speech
        machine = MACHINES[number % len(MACHINES)]
        sound = pink() if self.kind == "pink" else noise(noises, machine)
        return mixed(speech, sound, float(self.snr), number, microphone)


PLACES = (
    Place(),
    *(Place(kind, snr) for snr in SNRS for kind in ("pink", "machines")),
    Place(far=True),
    Place("machines", 10, far=True),
)


@cache
def pink(seed: int = 1, size: int = 1 << 20) -> Samples:
    """A minute of pink noise: as much power in every octave."""
    rng = np.random.default_rng(seed)
    hertz = np.maximum(np.fft.rfftfreq(size), 1e-3)
    made = np.fft.irfft(np.fft.rfft(rng.standard_normal(size)) / np.sqrt(hertz))
    return np.asarray(0.05 * made / made.std(), np.float32)
