"""A text as the voice says it, as loud as all others."""

from __future__ import annotations

import numpy as np
import soxr

from assistant.audio.levels import active_speech_level
from assistant.devices.speaker import Engine
from assistant.ports import RATE, Samples

WORDS_A_MINUTE = 190
LEVEL_DB = -30.0
"""Of the speech alone, for every voice."""


def levelled(voice: Engine, text: str, shape: float = 1.0) -> Samples:
    """`text` at 16 kHz, at the level of every other (ITU-T P.56), shaped for noise by `shape`."""
    sound = voice.sound(text, WORDS_A_MINUTE, shape)
    samples = soxr.resample(sound.samples, sound.rate, RATE)
    level, _ = active_speech_level(samples)
    return np.asarray(samples * 10 ** ((LEVEL_DB - level) / 20), np.float32)
