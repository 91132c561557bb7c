"""Levels: the meter, the level of speech while it is spoken, and the automatic gain."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from assistant.ports import RATE, Samples

FLOOR_DB = -100.0
CLIP = 0.985
"""A sample from here on counts as clipped."""


@dataclass(frozen=True, slots=True)
class Level:
    """How loud a stretch of sound is, in dB below full scale (0 is the most)."""

    rms_db: float
    peak_db: float
    clipped: float
    """Share of samples at full scale, 0 to 1."""

    @property
    def bar(self) -> float:
        """For a meter."""
        return meter(self.rms_db)


def meter(rms_db: float) -> float:
    """What a meter shows of a level: 0 at -60 dB below full scale, 1 at full scale."""
    return min(1.0, max(0.0, rms_db / 60 + 1))


def decibels(amplitude: float) -> float:
    """20 log10, with a floor of -100 dB for silence."""
    return max(FLOOR_DB, 20 * float(np.log10(amplitude))) if amplitude > 0 else FLOOR_DB


def measure(samples: Samples) -> Level:
    """The level of `samples`; silence where there are none."""
    if samples.size == 0:
        return Level(FLOOR_DB, FLOOR_DB, 0.0)
    size = np.abs(samples)
    rms = float(np.sqrt(np.mean(np.square(samples, dtype=np.float64))))
    return Level(decibels(rms), decibels(float(size.max())), float(np.mean(size >= CLIP)))


def active_speech_level(samples: Samples, rate: int = RATE) -> tuple[float, float]:
    """Level of speech while it is spoken, in dB, and the share of time that it is, 0 to 1.

    Method B of ITU-T P.56 (12/2011): an envelope with a time constant of 0.03 s is compared
    with a row of thresholds; a threshold counts as passed for 0.2 s more; the answer lies where
    the level over the time passed stands 15.9 dB above the threshold.
    """
    margin_db, hang = 15.9, round(0.2 * rate)
    power = float(np.sum(np.square(samples, dtype=np.float64)))
    if power == 0:
        return FLOOR_DB, 0.0
    envelope = _smooth(_smooth(np.abs(samples).astype(np.float64), rate), rate)
    before: tuple[float, float] | None = None
    for exponent in range(-15, 0):
        threshold = 2.0**exponent
        active = _count_with_hangover(envelope >= threshold, hang)
        if active == 0:
            break
        level = 10 * np.log10(power / active)
        gap = level - 20 * np.log10(threshold)
        if gap <= margin_db:
            if before is None:
                return float(level), active / samples.size
            # Between the two thresholds, in a straight line.
            share = (before[1] - margin_db) / (before[1] - gap)
            level = before[0] + share * (level - before[0])
            return float(level), float(power / 10 ** (level / 10) / samples.size)
        before = (float(level), float(gap))
    level = before[0] if before else FLOOR_DB
    return level, float(min(1.0, power / 10 ** (level / 10) / samples.size))


def _smooth(values: NDArray[np.float64], rate: int) -> NDArray[np.float64]:
    """A first-order low pass with a time constant of 0.03 s, in blocks of vector steps."""
    keep = float(np.exp(-1 / (0.03 * rate)))
    out = np.empty_like(values)
    block = 256
    powers = keep ** np.arange(1, block + 1)
    last = 0.0
    for start in range(0, values.size, block):
        piece = values[start : start + block] * (1 - keep)
        n = piece.size
        # y[i] = keep^(i+1) * last + sum over j <= i of keep^(i-j) * piece[j]
        out[start : start + n] = powers[:n] * (last + np.cumsum(piece / powers[:n]) * keep)
        last = float(out[start + n - 1])
    return out


def _count_with_hangover(passed: NDArray[np.bool_], hang: int) -> int:
    """Samples at which `passed` was true within the last `hang` samples."""
    at = np.flatnonzero(passed)
    if at.size == 0:
        return 0
    gaps = np.diff(np.append(at, passed.size))
    return int(np.minimum(gaps, hang + 1).sum())


class AutomaticGain:
    """Brings near and far voices to one level, slowly, and never noise alone.

    The gain follows the level of frames that hold speech; between utterances it stays.
    """

    def __init__(self, target_db: float = -26.0, most_db: float = 30.0) -> None:
        self._target_db = target_db
        self._most_db = most_db
        self._frames = 0
        self.gain_db = 0.0
        """The gain that is right now, in dB. Within an utterance it should stay: a change of
        loudness could be taken for a sound."""

    def hear(self, samples: Samples, speech: float) -> None:
        """Learn from a frame in which speech is present with probability `speech`."""
        level = measure(samples).rms_db
        if speech < 0.6 or level < -75:
            return
        want = min(self._most_db, max(-20.0, self._target_db - level))
        # A voice heard for the first time is followed at once, then over about a second.
        self._frames += 1
        self.gain_db += max(0.03, 1 / self._frames) * (want - self.gain_db)


def amplify(samples: Samples, gain_db: float) -> Samples:
    """`samples` louder by `gain_db`, never beyond full scale."""
    louder = samples * np.float32(10 ** (gain_db / 20))
    return np.asarray(np.clip(louder, -1.0, 1.0), np.float32)
