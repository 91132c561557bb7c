"""Speech in noise, at a signal-to-noise ratio by active speech level."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import numpy as np
import soundfile

from assistant.audio.levels import active_speech_level, measure
from assistant.ports import Samples

SHOP = ("motor", "gears", "milling", "lathe", "air", "grinder", "hammer")
"""The noises that scripts/make_noise makes, one after the other over the utterances."""


@cache
def noise(folder: Path, name: str) -> Samples:
    samples, _ = soundfile.read(folder / f"{name}.flac", dtype="float32")
    return np.asarray(samples, np.float32)


def mixed(speech: Samples, noise: Samples, snr: float, seed: int) -> Samples:
    """`speech` with a piece of `noise`, so that the speech while it is spoken (ITU-T P.56) stands
    `snr` dB above the mean level of the noise."""
    rng = np.random.default_rng(seed)
    start = int(rng.integers(0, noise.size - speech.size))
    piece = noise[start : start + speech.size]
    level, _ = active_speech_level(speech)
    gain_db = level - snr - measure(piece).rms_db
    both = speech + piece * np.float32(10 ** (gain_db / 20))
    peak = float(np.abs(both).max())
    return np.asarray(both * min(1.0, 0.98 / peak) if peak else both, np.float32)
