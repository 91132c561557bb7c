"""Sound shaped for noise: more of it where consonants are, soft sounds raised, peaks rounded.

A shop's noise is strongest below 500 Hz and covers soft consonants first. The low end, which
carries little of what is understood, is given up for the range from 1 to 4 kHz (ANSI S3.5-1997
gives that range over half of the weight), so that at the same loudest sample more is understood.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

RATE = 24_000
"""Samples a second of what is shaped."""

Sound = NDArray[np.float32]

LEVEL = 0.16
"""Root mean square of the loud parts of each sentence: -16 dB."""
PEAK = 0.95
"""Of full scale; no sample is louder."""
LEAD_SECONDS, TAIL_SECONDS = 0.02, 0.1
"""Of quiet left at both ends; the voice itself leaves 0.2 to 0.5."""

HERTZ = (31, 62, 125, 200, 300, 500, 1000, 4000, 12_000)
CUT_DB = (-60, -42, -24, -12, -5, 0, 0, 0, 0)
RAISED_DB = (0, 0, 0, 0, 0, 0, 0, 12, 12)
"""At those frequencies, with straight lines over their logarithm between."""
SLOPE, KNEE_DB = 0.7, -40.0
"""Decibels out for each one in, down to the knee; what is softer is lowered: breath and hiss."""
BLOCK = 60
"""Samples in which the level is taken: 2.5 ms."""


def shaped(samples: Sound, amount: float = 1.0) -> Sound:
    """A sentence at the level of all sentences; `amount` from 0 (its own spectrum) to 1.5.

    Raises nothing; silence comes back as it is.
    """
    if samples.size < RATE // 50 or not np.any(samples):
        return samples
    made = _filtered(samples.astype(np.float64), amount)
    if amount > 0:
        made = _levelled(made, 1 - (1 - SLOPE) * min(amount, 1.5))
    made *= LEVEL / np.sqrt(np.mean(made[loud(made)] ** 2))
    return _trimmed(PEAK * np.tanh(made / PEAK))


def loud(samples: NDArray[np.float64], block: int = RATE // 50) -> NDArray[np.bool_]:
    """Which samples are speech: blocks of 20 ms less than 30 dB below the loud ones."""
    blocks = -(-samples.size // block)
    padded = np.pad(samples, (0, blocks * block - samples.size))
    power = (padded**2).reshape(blocks, block).mean(1)
    return np.repeat(power > 1e-3 * np.percentile(power, 95), block)[: samples.size]


def _filtered(samples: NDArray[np.float64], amount: float) -> NDArray[np.float64]:
    size = 1 << (samples.size + RATE // 10 - 1).bit_length()
    octaves = np.log2(np.maximum(np.fft.rfftfreq(size, 1 / RATE), HERTZ[0]))
    gain = np.array(CUT_DB) * min(amount, 1.0) + np.array(RAISED_DB) * amount
    db = np.interp(octaves, np.log2(HERTZ), gain)
    made = np.fft.irfft(np.fft.rfft(samples, size) * 10 ** (db / 20), size)
    return np.asarray(made[: samples.size], np.float64)


def _levelled(samples: NDArray[np.float64], slope: float) -> NDArray[np.float64]:
    blocks = -(-samples.size // BLOCK)
    padded = np.pad(samples, (0, blocks * BLOCK - samples.size))
    level = np.abs(padded).reshape(blocks, BLOCK).mean(1)
    level = np.convolve(level, np.hanning(11)[1:-1] / np.hanning(11).sum(), "same")
    db = 20 * np.log10(np.maximum(level / level.max(), 1e-6))
    above, below = (slope - 1) * db, (slope - 1) * KNEE_DB + (db - KNEE_DB) * 1.5
    gain = np.where(db > KNEE_DB, above, below)
    middles = (np.arange(blocks) + 0.5) * BLOCK
    db_out = np.interp(np.arange(samples.size), middles, gain)
    return np.asarray(samples * 10 ** (db_out / 20), np.float64)


def heard(samples: NDArray[np.float32] | NDArray[np.float64]) -> Sound:
    """`samples` with little quiet left at both ends; as they are where they are silent."""
    sounding = np.flatnonzero(np.abs(samples) > 0.02 * np.abs(samples).max(initial=0))
    if not sounding.size:
        return samples.astype(np.float32)
    start = max(0, sounding[0] - round(LEAD_SECONDS * RATE))
    return samples[start : sounding[-1] + round(TAIL_SECONDS * RATE)].astype(np.float32)


def _trimmed(samples: NDArray[np.float64]) -> Sound:
    made = heard(samples)
    fade = np.minimum(1, np.arange(made.size, dtype=np.float32) / 120)
    return np.asarray(made * fade * fade[::-1], np.float32)
