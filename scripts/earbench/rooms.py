"""A small shop with bare walls, by pyroomacoustics: what it does to a voice and to a machine.

Image sources (Allen and Berkley, "Image method for efficiently simulating small-room acoustics",
1979) in a box of 9 by 7 by 3.5 m, whose walls are set by Sabine's formula to a reverberation time
of 0.6 s. The size and the time are common practice, no source.
"""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import NDArray

from assistant.ports import RATE, Samples

SIZE = (9.0, 7.0, 3.5)
"""Metres."""
REVERBERATION = 0.6
"""Seconds until sound has fallen by 60 dB."""
MOUTH = (4.0, 3.0, 1.6)
MACHINE = (4.6, 4.2, 1.1)
"""Where the noise comes from."""
MICROPHONES = {"near": (4.0, 3.35, 1.4), "far": (6.4, 5.3, 1.8)}
"""0.4 m and 3.3 m from the mouth."""


@cache
def responses(microphone: str) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Impulse responses from the mouth and from the machine to a microphone."""
    # Not at the top: only the bench's own extra has it.
    import pyroomacoustics as pra

    absorption, order = pra.inverse_sabine(REVERBERATION, SIZE)
    room = pra.ShoeBox(SIZE, fs=RATE, materials=pra.Material(absorption), max_order=min(order, 25))
    for place in (MOUTH, MACHINE):
        room.add_source(place)
    room.add_microphone(MICROPHONES[microphone])
    room.compute_rir()
    voice, machine = room.rir[0]
    return voice, machine


def reverberant(sound: Samples, microphone: str, machine: bool = False) -> Samples:
    """`sound` as the microphone hears it, as long as before and as loud."""
    response = responses(microphone)[1 if machine else 0]
    size = 1 << (sound.size + response.size - 1).bit_length()
    spectrum = np.fft.rfft(sound, size) * np.fft.rfft(response, size)
    heard = np.fft.irfft(spectrum, size)[int(np.abs(response).argmax()) :][: sound.size]
    level = float(np.sqrt(np.mean(np.square(sound)) / max(1e-20, np.mean(np.square(heard)))))
    return np.asarray(heard * level, np.float32)
