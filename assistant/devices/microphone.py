"""The microphone: 16 kHz mono sound from any card, found again after it was unplugged.

PortAudio's own thread runs the callback, which only queues. Whoever reads `chunks()` gets
`DeviceFailed` within two seconds when the sound stops coming, may tell the operator, and simply
reads `chunks()` again: that waits (longer each time), looks for the card anew and goes on.
"""

from __future__ import annotations

import queue
import threading
from collections.abc import Iterator
from typing import Any

import numpy as np
from numpy.typing import NDArray

from assistant.audio import cards, server
from assistant.audio.resample import resampled
from assistant.errors import DeviceFailed, DeviceMissing
from assistant.ports import RATE, Samples

DEVICE = "microphone"
COST = "commands are typed, or come from sound files"

CHUNK_SECONDS = 0.02
STALL_SECONDS = 1.5
"""A card that delivers nothing for so long has stopped; the operator hears of it within 2 s."""
WAKING_SECONDS = 3.0
"""A card that was just opened may take so long to begin: a sound server, a radio link waking up."""
QUEUE_SECONDS = 30
"""More unread sound than this is thrown away, the oldest first: the reader has stopped."""
PAUSES = (0.25, 0.5, 1.0, 2.0, 3.0)
"""Seconds before each new try at a microphone that is gone; the last is repeated."""
RATES = (RATE, 48_000, 44_100, 32_000, 8_000)


def find_microphone(name: str | None = None) -> Microphone:
    """The microphone of that name, or the default one; opened once, so that it is really there.

    Raises `DeviceMissing` that says why there is none.
    """
    microphone = Microphone(name)
    try:
        microphone.open()
    finally:
        microphone.release()
    return microphone


class Microphone:
    """A live source of sound. `chunks` is read from one thread; `close` may come from another."""

    live = True

    def __init__(self, card: str | None = None) -> None:
        self.name = f"{DEVICE} ({card or 'default'})"
        self.lost_seconds = 0.0
        """Sound thrown away because nobody read it."""
        self._card = card
        self._blocks: queue.Queue[NDArray[np.float32] | None] = queue.Queue()
        self._stream: Any = None
        self._rate = RATE
        self._failures = 0
        self._worked = False
        self._closed = threading.Event()
        self._served_by = ""
        self._watch: server.Watch | None = None
        self._server_changed = threading.Event()
        self._ended = threading.Event()
        """PortAudio ended the stream by itself."""

    @property
    def behind(self) -> float:
        """Seconds of sound that came and wait to be read."""
        return self._blocks.qsize() * CHUNK_SECONDS

    def chunks(self) -> Iterator[Samples]:
        """16 kHz mono sound, about 20 ms at a time, until `close`.

        Raises `DeviceFailed` when the sound stops coming; read again to have it looked for.
        """
        if self._failures:
            self._closed.wait(PAUSES[min(self._failures, len(PAUSES)) - 1])
            # Listing anew interrupts the speaker, so it is kept for when opening did not help.
            if self._failures > 1 and not self._closed.is_set():
                cards.rescan()
        while not self._closed.is_set():
            self._open_again()
            try:
                yield from resampled(self._delivered(), self._rate)
            except DeviceFailed:
                self._failures += 1
                raise
            finally:
                self.release()

    def close(self) -> None:
        """Stop, give back the card and end `chunks`."""
        self._closed.set()
        self._blocks.put(None)
        self.release()

    def open(self) -> None:
        """Take the card. Raises `DeviceMissing`, saying why."""
        with cards.LOCK:
            if self._stream is not None:  # a second stream would mix its sound into the first's
                return
            card = cards.find_card("input", self._card, DEVICE, COST)
            why = server.stand_in("input", card.name)
            if why:
                raise DeviceMissing(DEVICE, why, COST)
            sd = cards.portaudio(DEVICE, COST)
            for rate in dict.fromkeys((*RATES, card.rate)):
                for channels in dict.fromkeys((1, min(2, card.channels))):
                    try:
                        self._start(sd, card.index, rate, channels)
                    except sd.PortAudioError as error:
                        why = why or str(error)
                    else:
                        cards.hold(self.release)
                        self._served_by = card.name
                        self._watch = server.Watch(card.name, self._server_changed.set)
                        return
            raise DeviceMissing(DEVICE, f"{card.name} can't be opened: {why}", COST)

    def release(self) -> None:
        """Give back the card; `chunks`, where it is being read, takes it again."""
        with cards.LOCK:
            cards.let_go(self.release)
            stream, self._stream = self._stream, None
            watch, self._watch = self._watch, None
            if watch is not None:
                watch.close()
            if stream is not None:
                stream.abort(ignore_errors=True)
                stream.close(ignore_errors=True)
                self._blocks.put(None)

    def _start(self, sd: Any, index: int, rate: int, channels: int) -> None:
        stream = sd.InputStream(
            device=index,
            samplerate=rate,
            channels=channels,
            dtype="float32",
            blocksize=round(rate * CHUNK_SECONDS),
            latency=0.05,
            callback=self._arrived,
            finished_callback=self._ended.set,
        )
        try:
            stream.start()
        except sd.PortAudioError:
            stream.close(ignore_errors=True)
            raise
        self._ended.clear()
        self._stream, self._rate = stream, rate

    def _arrived(self, block: NDArray[np.float32], frames: int, time: Any, status: Any) -> None:
        # PortAudio's thread: copy and queue, nothing else.
        self._blocks.put(block.copy())

    def _open_again(self) -> None:
        self._blocks = queue.Queue()
        try:
            self.open()
        except DeviceMissing as missing:
            if not self._worked:
                raise
            self._failures += 1
            raise DeviceFailed(DEVICE, missing.why) from missing

    def _delivered(self) -> Iterator[NDArray[np.float32]]:
        """Blocks as they come; ends when the card was released for a moment, to be reopened."""
        most = round(QUEUE_SECONDS / CHUNK_SECONDS)
        patience = WAKING_SECONDS
        while not self._closed.is_set():
            try:
                block = self._blocks.get(timeout=patience)
            except queue.Empty:
                how = "ended" if self._ended.is_set() else "delivers no sound"
                raise DeviceFailed(DEVICE, f"the card {how}: is it plugged in?") from None
            if block is None:
                if self._stream is None:
                    return
                continue
            if self._server_changed.is_set():
                self._server_changed.clear()
                why = server.stand_in("input", self._served_by)
                if why:
                    raise DeviceFailed(DEVICE, why)
            patience = STALL_SECONDS
            self._failures, self._worked = 0, True
            while self._blocks.qsize() > most:
                self._blocks.get_nowait()
                self.lost_seconds += CHUNK_SECONDS
            yield block
