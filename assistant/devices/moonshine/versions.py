"""Versions of one utterance that are heard together: as it came, and a little slower.

What was really said survives the change; a mishearing mostly doesn't. Heard each by itself, of 53
number sentences of the tuning voices in noise and from a far microphone that were heard right 46
were heard so again, of 17 misheard ones 2. Searched together, by the mean of both, more comes out
right than of either (see `wheelcall help hearing`).
"""

from __future__ import annotations

import numpy as np
import soxr

from assistant.devices.moonshine.model import MAX_SECONDS
from assistant.ports import RATE, Samples

SLOWER = 1.06
PAD_SECONDS = 0.2
"""Pure silence put around an utterance: of 103 sentences of AN4 in noise of 10 dB 96 were right
with it and 92 without, whatever its length."""
MOST = round((MAX_SECONDS - 2 * PAD_SECONDS) * RATE)
"""Samples that can be heard at all; somewhat fewer can be heard in two versions."""


def versions(sound: Samples) -> list[Samples]:
    """One or two, with silence around and of equal length. At most `MOST` samples."""
    pad = round(PAD_SECONDS * RATE)
    if sound.size * SLOWER > MOST:
        return [np.pad(sound, pad)]
    slow = np.pad(slower(sound), pad)
    return [np.pad(sound, (pad, slow.size - sound.size - pad)), slow]


def slower(sound: Samples) -> Samples:
    """`sound` stretched, and lower by as much."""
    return np.asarray(soxr.resample(sound, RATE, RATE * SLOWER), np.float32)
