"""One clip: a spoken phrase, cut to size, levelled, at the ear's rate, as a FLAC file."""

from __future__ import annotations

import os
from pathlib import Path

import numpy as np
import soundfile
import soxr
from numpy.typing import NDArray

from assistant.demo import clip_name
from recording.voices import Sound, Voice

RATE = 16_000
"""Samples a second, as the ears want it."""

LEVEL = 10 ** (-23 / 20)
"""Mean level of the speech itself, -23 dB under full scale: a close microphone, well set."""

PEAK = 0.9

BEFORE, AFTER = 0.10, 0.20
"""Seconds of silence kept before and after the speech."""

LONGEST = 8.0
"""Seconds. An utterance is cut by the ear at about nine."""

FRAME = RATE // 100


def record(voice: Voice, phrase: str, path: Path, *, pace: float, seed: int) -> float:
    """Write `phrase` said by `voice` to `path`; its length in seconds.

    The file appears whole or not at all. Raises `ValueError` where the phrase takes longer than
    `LONGEST` or nothing was said, and `VoiceMissing`.
    """
    clip = trimmed(resampled(voice.speak(phrase, pace=pace, seed=seed)))
    seconds = len(clip) / RATE
    if seconds > LONGEST:
        raise ValueError(f"{phrase!r} takes {seconds:.1f} s, and {LONGEST:g} s at most are heard")
    path.parent.mkdir(parents=True, exist_ok=True)
    part = path.with_name(path.name + ".part")
    with soundfile.SoundFile(part, "w", RATE, 1, subtype="PCM_16", format="FLAC") as file:
        # Tags go before the sound. They tell who spoke and how, never what is said.
        file.artist = f"{voice.name}, {voice.package}"
        file.license = voice.licence
        file.comment = _manner(pace, seed)
        file.write(levelled(clip))
    os.replace(part, path)
    return seconds


def is_made(voice: Voice, path: Path, *, pace: float, seed: int) -> bool:
    """Whether the clip at `path` is there and was spoken by `voice` in this manner."""
    if not path.exists():
        return False
    with soundfile.SoundFile(path) as file:
        who, how = file.artist, file.comment
    return bool(who == f"{voice.name}, {voice.package}" and how == _manner(pace, seed))


def _manner(pace: float, seed: int) -> str:
    return f"pace {pace:g}, seed {seed}"


def clip_path(folder: Path, phrase: str) -> Path:
    """Where the clip of `phrase` goes."""
    return folder / clip_name(phrase)


def resampled(sound: Sound) -> NDArray[np.float32]:
    """Mono samples at `RATE`."""
    samples, rate = sound
    if samples.ndim > 1:
        samples = samples.mean(axis=1)
    return np.asarray(soxr.resample(samples, rate, RATE, quality="VHQ"), dtype=np.float32)


def trimmed(samples: NDArray[np.float32]) -> NDArray[np.float32]:
    """The speech with `BEFORE` and `AFTER` seconds of silence round it."""
    loud = _loud_frames(samples)
    if not loud.any():
        raise ValueError("nothing was said")
    first, last = np.flatnonzero(loud)[[0, -1]]
    speech = samples[first * FRAME : (last + 1) * FRAME]
    before = np.zeros(round(BEFORE * RATE), dtype=np.float32)
    after = np.zeros(round(AFTER * RATE), dtype=np.float32)
    return np.concatenate([before, speech, after])


def levelled(samples: NDArray[np.float32]) -> NDArray[np.float32]:
    """The same with its speech at `LEVEL`, pauses not counted, and no peak above `PEAK`."""
    frames = _frames(samples)[_loud_frames(samples)]
    gain = LEVEL / np.sqrt(np.mean(np.square(frames)))
    gain = min(gain, PEAK / np.abs(samples).max())
    return np.asarray(samples * gain, dtype=np.float32)


def _frames(samples: NDArray[np.float32]) -> NDArray[np.float32]:
    whole = len(samples) // FRAME * FRAME
    return samples[:whole].reshape(-1, FRAME)


def _loud_frames(samples: NDArray[np.float32]) -> NDArray[np.bool_]:
    """Which 10 ms frames are speech: those less than 45 dB under the loudest one."""
    power = np.mean(np.square(_frames(samples)), axis=1)
    loud: NDArray[np.bool_] = power > power.max(initial=0.0) * 10**-4.5
    return loud
