"""Speech in noise and in a room, at a signal-to-noise ratio by active speech level."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
import soundfile

from assistant.audio.levels import active_speech_level, measure
from assistant.ports import Samples
from earbench.rooms import reverberant

SHOP = ("motor", "gears", "milling", "lathe", "air", "grinder", "hammer")
"""The noises that scripts/make_noise makes, one after the other over the utterances."""


@dataclass(frozen=True)
class Surroundings:
    """Where something is said."""

    snr: float | None = None
    """dB by active speech level at the microphone, or None for quiet."""
    microphone: str = ""
    """`near` or `far` in the room of rooms.py, or '' for none."""

    @property
    def name(self) -> str:
        noise = "quiet" if self.snr is None else f"{self.snr:.0f} dB"
        return f"{noise}, {self.microphone}" if self.microphone else noise

    def around(self, speech: Samples, noises: Path, number: int) -> Samples:
        """`speech` as it arrives; `number` chooses the noise and the piece of it."""
        if self.microphone:
            speech = reverberant(speech, self.microphone)
        if self.snr is None:
            return speech
        kind = noise(noises, SHOP[number % len(SHOP)])
        return mixed(speech, kind, self.snr, number, self.microphone)


@cache
def noise(folder: Path, name: str) -> Samples:
    samples, _ = soundfile.read(folder / f"{name}.flac", dtype="float32")
    return np.asarray(samples, np.float32)


def mixed(speech: Samples, noise: Samples, snr: float, seed: int, microphone: str = "") -> Samples:
    """`speech` with a piece of `noise`, so that the speech while it is spoken (ITU-T P.56) stands
    `snr` dB above the mean level of the noise."""
    rng = np.random.default_rng(seed)
    start = int(rng.integers(0, noise.size - speech.size))
    piece = noise[start : start + speech.size]
    if microphone:
        piece = reverberant(piece, microphone, machine=True)
    level, _ = active_speech_level(speech)
    gain_db = level - snr - measure(piece).rms_db
    both = speech + piece * np.float32(10 ** (gain_db / 20))
    peak = float(np.abs(both).max())
    return np.asarray(both * min(1.0, 0.98 / peak) if peak else both, np.float32)
