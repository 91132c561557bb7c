"""Sound from files and pipes, as the microphone would deliver it."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO

import numpy as np
import soundfile
import soxr
from numpy.typing import NDArray

from assistant.errors import BadFile, BadInput
from assistant.ports import RATE, Samples

CHUNK_SECONDS = 0.02
LOWEST_RATE, HIGHEST_RATE = 4_000, 384_000
WANT = "wanted a sound file such as WAV or FLAC"


class SoundFile:
    """A WAV, FLAC or other sound file of any rate and number of channels."""

    def __init__(self, path: Path | str, *, live: bool = False) -> None:
        """`live` delivers at the speed of speech, as a microphone would. Raises `BadFile`."""
        self.path = Path(path)
        self.name = self.path.name
        self.live = live
        if not self.path.is_file():
            raise BadFile(path, "file", "not there", WANT)
        try:
            self._file = soundfile.SoundFile(self.path)
        except (soundfile.SoundFileError, OSError) as error:
            raise BadFile(path, "sound", "not readable", f"{WANT} ({error})") from error
        self.rate = self._file.samplerate
        if not LOWEST_RATE <= self.rate <= HIGHEST_RATE:
            self._file.close()
            raise BadFile(path, "sample rate", f"{self.rate} Hz", "wanted 4 to 384 kHz")

    @property
    def seconds(self) -> float:
        """Length of the whole file by its header."""
        return float(self._file.frames / self.rate)

    def chunks(self) -> Iterator[Samples]:
        """The sound in chunks of 20 ms. Raises `BadFile` where the file breaks off unreadably."""
        try:
            blocks = self._file.blocks(
                blocksize=round(self.rate * CHUNK_SECONDS), dtype="float32", always_2d=True
            )
            yield from _paced(_mono_16k(blocks, self.rate), self.live)
        except soundfile.SoundFileError as error:
            raise BadFile(self.path, "sound", "damaged", f"{WANT} ({error})") from error

    def close(self) -> None:
        """Close the file."""
        self._file.close()


class Pipe:
    """Bare sound from anything with `read`, such as standard input: 16 bits, little-endian."""

    live = True

    def __init__(self, stream: BinaryIO, rate: int = RATE, channels: int = 1) -> None:
        if not LOWEST_RATE <= rate <= HIGHEST_RATE:
            raise BadInput("sample rate", f"{rate} Hz", "wanted 4000 to 384000 Hz")
        if not 1 <= channels <= 64:
            raise BadInput("channels", channels, "wanted 1 to 64")
        self.name = "pipe"
        self.rate, self.channels = rate, channels
        self._stream = stream

    def chunks(self) -> Iterator[Samples]:
        """The sound in chunks of about 20 ms, until the other end closes."""
        yield from _mono_16k(self._blocks(), self.rate)

    def close(self) -> None:
        """Close the pipe."""
        self._stream.close()

    def _blocks(self) -> Iterator[NDArray[np.float32]]:
        frame = 2 * self.channels
        size = round(self.rate * CHUNK_SECONDS) * frame
        while data := self._stream.read(size):
            whole = data[: len(data) - len(data) % frame]  # a last frame may be cut off
            samples = np.frombuffer(whole, "<i2").astype(np.float32) / np.float32(32768)
            yield samples.reshape(-1, self.channels)


def _mono_16k(blocks: Iterator[NDArray[np.float32]], rate: int) -> Iterator[Samples]:
    stream = None
    if rate != RATE:
        stream = soxr.ResampleStream(rate, RATE, 1, dtype="float32", quality="HQ")
    for block in blocks:
        # A float file may hold anything; an infinity would poison all that follows it.
        sane = np.nan_to_num(block, nan=0.0, posinf=1.0, neginf=-1.0)
        mono = np.asarray(sane.mean(axis=1), np.float32)
        samples = mono if stream is None else stream.resample_chunk(mono)
        if samples.size:
            yield _clipped(samples)
    if stream is not None:
        rest = stream.resample_chunk(np.zeros(0, np.float32), last=True)
        if rest.size:
            yield _clipped(rest)


def _clipped(samples: NDArray[np.float32]) -> Samples:
    return np.clip(samples, np.float32(-1), np.float32(1))


def _paced(chunks: Iterator[Samples], live: bool) -> Iterator[Samples]:
    due = time.monotonic()
    for samples in chunks:
        if live:
            due += samples.size / RATE
            time.sleep(max(0.0, due - time.monotonic()))
        yield samples
