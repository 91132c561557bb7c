"""Sound from files and pipes, as the microphone would deliver it."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO

import numpy as np
import soundfile
from numpy.typing import NDArray

from assistant.audio.resample import HIGHEST_RATE, LOWEST_RATE, resampled
from assistant.errors import BadFile, BadInput
from assistant.ports import RATE, Samples

BLOCK_SECONDS = 0.02
WANT = "wanted a sound file such as WAV or FLAC"


class SoundFile:
    """A WAV, FLAC or other sound file of any rate and number of channels."""

    behind = 0.0

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
        due = time.monotonic()
        for samples in resampled(self._blocks(), self.rate):
            if self.live:
                due += samples.size / RATE
                time.sleep(max(0.0, due - time.monotonic()))
            yield samples

    def close(self) -> None:
        """Close the file; `chunks` ends."""
        self._file.close()

    def _blocks(self) -> Iterator[NDArray[np.float32]]:
        size = round(self.rate * BLOCK_SECONDS)
        while not self._file.closed:
            try:
                block = self._file.read(size, dtype="float32", always_2d=True)
            except soundfile.SoundFileError as error:
                raise BadFile(self.path, "sound", "damaged", f"{WANT} ({error})") from error
            if not len(block):
                return
            yield block


class Pipe:
    """Bare sound from anything with `read`, such as standard input: 16 bits, little-endian."""

    live = True
    behind = 0.0  # what waits at the other end of a pipe nobody tells

    def __init__(self, stream: BinaryIO, rate: int = RATE, channels: int = 1) -> None:
        """Raises `BadInput` for a rate outside 4 to 384 kHz and for more than 64 channels."""
        if not LOWEST_RATE <= rate <= HIGHEST_RATE:
            raise BadInput("sample rate", f"{rate} Hz", "wanted 4000 to 384000 Hz")
        if not 1 <= channels <= 64:
            raise BadInput("channels", channels, "wanted 1 to 64")
        self.name = "pipe"
        self.rate, self.channels = rate, channels
        self._stream = stream

    def chunks(self) -> Iterator[Samples]:
        """The sound in chunks of 20 ms, until the other end closes."""
        return resampled(self._blocks(), self.rate)

    def close(self) -> None:
        """Close the pipe; `chunks` ends."""
        self._stream.close()

    def _blocks(self) -> Iterator[NDArray[np.float32]]:
        frame = 2 * self.channels
        size = round(self.rate * BLOCK_SECONDS) * frame
        while not self._stream.closed and (data := self._stream.read(size)):
            whole = data[: len(data) - len(data) % frame]  # the last frame may be cut off
            samples = np.frombuffer(whole, "<i2").astype(np.float32) / np.float32(32768)
            yield samples.reshape(-1, self.channels)
