"""Whether cleaning the sound helps from afar: `python -m earbench.cleaned NOISES [METHOD ...]`.

AN4's `test` speakers, said 3.3 m from the microphone with a machine in the same room, cleaned one
way after the other before the built-in ear hears them. NOISES is a folder that scripts/make_noise
made. Needs WHEELCALL_SPEECH, the extra `bench`, and of each method its package from PyPI, installed
by hand: noisereduce 3.0.3 (with cloudpickle), webrtc-noise-gain 1.3.0, speexdsp-ns 0.1.2, nara_wpe
0.0.11 (with bottleneck and click), pyrnnoise 0.4.5 (with audiolab). What came out is in `wheelcall
help hearing`: none helps, so none is in use.
"""

from __future__ import annotations

import ctypes
import sys
from collections.abc import Callable
from pathlib import Path

import numpy as np
import soxr

from assistant.devices.ear import hear
from assistant.devices.moonshine import MoonshineEar
from assistant.ports import RATE, Samples
from earbench import corpora
from earbench.mixing import Surroundings

WHERE = Surroundings(15.0, "far")
FULL_SCALE = 32767
ALIGNED_WITHIN = 800
"""Samples by which a method may delay the sound."""
TAKEN = 0.5

Method = Callable[[Samples], Samples]


def gate(sound: Samples, *, stationary: bool, share: float) -> Samples:
    """Spectral gating."""
    from noisereduce import reduce_noise

    return np.asarray(
        reduce_noise(y=sound, sr=RATE, stationary=stationary, prop_decrease=share), np.float32
    )


def webrtc(sound: Samples) -> Samples:
    """The noise suppression of WebRTC, level 2 of 4."""
    from webrtc_noise_gain import AudioProcessor

    processor = AudioProcessor(0, 2)
    return _by_frames(sound, 160, lambda frame: processor.Process10ms(frame).audio)


def speex(sound: Samples) -> Samples:
    """The noise suppression of SpeexDSP."""
    from speexdsp_ns import NoiseSuppression

    return _by_frames(sound, 320, NoiseSuppression.create(320, RATE).process)


def _by_frames(sound: Samples, size: int, work: Callable[[bytes], bytes]) -> Samples:
    whole = (np.clip(sound, -1, 1) * FULL_SCALE).astype(np.int16)
    frames = (whole[at : at + size].tobytes() for at in range(0, whole.size - size + 1, size))
    cleaned = [np.frombuffer(work(frame), np.int16) for frame in frames]
    return np.asarray(np.concatenate(cleaned) / FULL_SCALE, np.float32)


def prediction_error(sound: Samples) -> Samples:
    """Weighted prediction error (Nakatani and others, 2010), which takes late reverberation off."""
    from nara_wpe.utils import istft, stft
    from nara_wpe.wpe import wpe

    spectrum = stft(sound[None].astype(np.float64), size=512, shift=128).transpose(2, 0, 1)
    dry = wpe(spectrum, taps=10, delay=3, iterations=3).transpose(1, 2, 0)
    return np.asarray(istft(dry, size=512, shift=128)[0][: sound.size], np.float32)


def recurrent(sound: Samples) -> Samples:
    """RNNoise (Valin, 2018), whose weights are in the package; it works at 48 kHz."""
    from pyrnnoise import rnnoise

    fine = np.asarray(soxr.resample(sound, RATE, 3 * RATE), np.float32) * FULL_SCALE
    size = rnnoise.FRAME_SIZE
    fine = np.pad(fine, (0, -fine.size % size))
    floats = ctypes.POINTER(ctypes.c_float)
    state, cleaned, out = rnnoise.create(), np.empty_like(fine), np.empty(size, np.float32)
    for at in range(0, fine.size, size):
        frame = np.ascontiguousarray(fine[at : at + size])
        rnnoise.lib.rnnoise_process_frame(
            state, out.ctypes.data_as(floats), frame.ctypes.data_as(floats)
        )
        cleaned[at : at + size] = out
    rnnoise.destroy(state)
    back = soxr.resample(cleaned / FULL_SCALE, 3 * RATE, RATE)
    return np.asarray(back[: sound.size], np.float32)


def half(method: Method) -> Method:
    """Half of the cleaned sound and half of it as it came, without the method's delay."""

    def mixed(sound: Samples) -> Samples:
        cleaned = method(sound)
        size = min(sound.size, cleaned.size)
        same = [
            float(np.dot(sound[: size - late], cleaned[late:size]))
            for late in range(0, ALIGNED_WITHIN, 8)
        ]
        cleaned = cleaned[8 * int(np.argmax(same)) :]
        size = min(sound.size, cleaned.size)
        return np.asarray((sound[:size] + cleaned[:size]) / 2, np.float32)

    return mixed


METHODS: dict[str, Method] = {
    "as it came": lambda sound: sound,
    "gate, stationary": lambda sound: gate(sound, stationary=True, share=0.8),
    "gate, adaptive": lambda sound: gate(sound, stationary=False, share=0.6),
    "RNNoise": recurrent,
    "RNNoise, half": half(recurrent),
    "WebRTC": webrtc,
    "WebRTC, half": half(webrtc),
    "Speex": speex,
    "prediction error": prediction_error,
}


def main() -> None:
    """A line for each method: right, taken and right, taken and wrong."""
    noises, *wanted = sys.argv[1:]
    said, grammar, ear = corpora.real("test", "AN4"), corpora.an4_grammar(), MoonshineEar()
    sounds = [WHERE.around(each.sound(), Path(noises), at) for at, each in enumerate(said)]
    for name in wanted or METHODS:
        heard = [hear(ear, METHODS[name](sound), grammar) for sound in sounds]
        right = [one.words == each.text for one, each in zip(heard, said, strict=True)]
        taken = [one.confidence >= TAKEN for one in heard]
        good = sum(a and b for a, b in zip(right, taken, strict=True))
        print(f"{name:18} of {len(said)}: heard right {sum(right)}, taken {good} right and "
              f"{sum(taken) - good} wrong", flush=True)  # fmt: skip


if __name__ == "__main__":
    main()
