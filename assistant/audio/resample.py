"""Any rate and any number of channels to 16 kHz mono, in even chunks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

import numpy as np
import soxr
from numpy.typing import NDArray

from assistant.errors import BadInput
from assistant.ports import RATE, Samples

CHUNK = RATE // 50
"""Samples of a chunk: 20 ms."""
LOWEST_RATE, HIGHEST_RATE = 4_000, 384_000


class Resampler:
    """One stream of sound, block by block.

    What comes out lags behind by up to 0.1 s at 8 kHz and 0.03 s at 44.1 and 48 kHz, and comes in
    bursts, since the filter works in blocks of its own; at 16 kHz it comes at once.
    """

    def __init__(self, rate: int) -> None:
        """Raises `BadInput` for a rate outside 4 to 384 kHz."""
        if not LOWEST_RATE <= rate <= HIGHEST_RATE:
            raise BadInput("sample rate", f"{rate} Hz", "wanted 4000 to 384000 Hz")
        self._stream: Any = None
        if rate != RATE:
            self._stream = soxr.ResampleStream(rate, RATE, 1, dtype="float32", quality="HQ")

    def feed(self, block: NDArray[np.float32]) -> Samples:
        """The next block, frames by channels or mono; -1 to 1 comes out, whatever came in."""
        # An infinity in a float file would poison all that follows it.
        sane = np.nan_to_num(block, nan=0.0, posinf=1.0, neginf=-1.0)
        mono = np.asarray(sane if sane.ndim == 1 else sane.mean(axis=1), np.float32)
        return _clipped(mono if self._stream is None else self._stream.resample_chunk(mono))

    def flush(self) -> Samples:
        """What the filter still holds, at the end of the stream."""
        if self._stream is None:
            return np.zeros(0, np.float32)
        return _clipped(self._stream.resample_chunk(np.zeros(0, np.float32), last=True))


def resampled(blocks: Iterable[NDArray[np.float32]], rate: int) -> Iterator[Samples]:
    """`blocks` as chunks of 20 ms at 16 kHz mono; the last may be shorter."""
    resampler = Resampler(rate)
    waiting = np.zeros(0, np.float32)
    for block in blocks:
        waiting = np.concatenate((waiting, resampler.feed(block)))
        whole = waiting.size - waiting.size % CHUNK
        yield from waiting[:whole].reshape(-1, CHUNK)
        waiting = waiting[whole:]
    waiting = np.concatenate((waiting, resampler.flush()))
    for start in range(0, waiting.size, CHUNK):
        yield waiting[start : start + CHUNK]


def _clipped(samples: NDArray[np.float32]) -> Samples:
    return np.clip(samples, np.float32(-1), np.float32(1))
