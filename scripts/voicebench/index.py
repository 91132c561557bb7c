"""How much of the speech should be understood in noise, as an index: STOI, by pystoi.

Taal, Hendriks, Heusdens and Jensen, "An algorithm for intelligibility prediction of time-frequency
weighted noisy speech", 2011. The reference is the voice as it comes; what is compared is the shaped
voice in noise, at the same active level. It knows nothing of words.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np

from assistant.devices.speaker import Voice
from assistant.ports import RATE, Samples
from voicebench.loudness import levelled
from voicebench.places import Place

SHAPES = (0.0, 1.0, 1.5)
PLACES = tuple(Place(kind, snr) for kind in ("pink", "machines") for snr in (5, 0, -5))


def index_table(texts: list[str], noises: Path) -> None:
    """Print the mean index of each shaping in each noise."""
    from pystoi import stoi  # of the bench's own extra

    voice = Voice(kind="clear")
    voice.start()
    for shape in SHAPES:
        found = []
        for place in PLACES:
            values = []
            for number, text in enumerate(texts):
                plain, shaped = (levelled(voice, text, each) for each in (0.0, shape))
                plain, shaped = _together(plain, shaped)
                noisy = place.around(shaped, noises, number)
                values.append(stoi(plain, noisy[: plain.size], RATE))
            found.append(f"{place.name} {np.mean(values):.3f}")
        print(f"shaped {shape:.1f}, {len(texts)} sentences: " + ", ".join(found), flush=True)
    voice.close()


def _together(one: Samples, other: Samples) -> tuple[Samples, Samples]:
    """Both from the same moment on: silence is trimmed at another sample where it is shaped."""
    size = one.size + other.size
    match = np.fft.irfft(np.fft.rfft(one, size) * np.conj(np.fft.rfft(other, size)), size)
    shift = int(np.argmax(np.abs(match)))
    shift = shift - size if shift > size // 2 else shift
    one, other = one[max(0, shift) :], other[max(0, -shift) :]
    least = min(one.size, other.size)
    return one[:least], other[:least]
