"""A real sound card, kept open and fed with silence between sentences.

A sound server or an amplifier that sleeps may take a second to wake and then swallow the first
word; one that is kept awake does not, and it is noticed at once when it goes away.
"""

from __future__ import annotations

import threading
import time
from typing import Any

import numpy as np
import soxr
from numpy.typing import NDArray

from assistant.audio import cards
from assistant.devices.speaker.voice import Sound
from assistant.errors import DeviceFailed, DeviceMissing

DEVICE = "speaker"
RATE = 22_050
"""The speech engine's own, in Hz; taken where the card allows it."""
STALL_SECONDS = 1.8
"""A card that asks for no sound for so long has stopped."""
WAKING_SECONDS = 4.0
"""So long after it was opened, a sleeping sound server may still take its time: up to 2.5 s."""
LATENCY_SECONDS = 0.03
"""How far ahead the card is filled: what is still heard after it was told to be silent."""


class _Sentence:
    """What is being played: written by the callback alone once it is handed over."""

    def __init__(self, samples: NDArray[np.float32], halt: threading.Event) -> None:
        self.samples = samples
        self.halt = halt
        self.at = 0
        self.first_at = 0.0
        self.done = threading.Event()


class CardPlayer:
    """Plays sentences through one card. Used from the speaker's thread."""

    def __init__(self, card: str | None = None) -> None:
        self._card = card
        self.name = f"{DEVICE} ({card or 'default'})"
        self.first_sound_at = 0.0
        """`time.monotonic` at which the card took the first sound of the last sentence."""
        self._stream: Any = None
        self._rate = RATE
        self._latency = LATENCY_SECONDS
        self._now: _Sentence | None = None
        self._beat = 0.0
        """When the card last asked for sound."""
        self._opened = 0.0
        self._ended = threading.Event()

    def open(self) -> None:
        """Take the card, if it isn't taken. Raises `DeviceMissing`, saying why."""
        with cards.LOCK:
            if self._stream is not None:
                return
            card = cards.find_card("output", self._card, DEVICE, "")
            sd = cards.library(DEVICE)
            why = ""
            for rate in dict.fromkeys((RATE, card.rate)):
                try:
                    self._start(sd, card.index, rate)
                except sd.PortAudioError as error:
                    why = why or str(error)
                else:
                    cards.hold(self.close)
                    return
            raise DeviceMissing(DEVICE, f"{card.name} can't be opened: {why}")

    def close(self) -> None:
        """Give back the card."""
        with cards.LOCK:
            cards.let_go(self.close)
            stream, self._stream = self._stream, None
            if stream is not None:
                stream.abort(ignore_errors=True)
                stream.close(ignore_errors=True)

    def play(self, sound: Sound, text: str, volume: float, halt: threading.Event) -> bool:
        """Play to the end, or until `halt`. Raises `DeviceFailed`."""
        try:
            self.open()
        except DeviceMissing as missing:
            raise DeviceFailed(DEVICE, missing.why) from missing
        samples = sound.samples
        if sound.rate != self._rate:
            samples = soxr.resample(samples, sound.rate, self._rate)
        sentence = _Sentence(np.clip(samples * np.float32(volume), -1, 1), halt)
        self._now = sentence
        try:
            while not sentence.done.wait(0.005) and not halt.is_set():
                self.still_there()
            # The card still holds the end of it.
            halt.wait(self._latency)
        finally:
            self._now = None
            self.first_sound_at = sentence.first_at
        return not halt.is_set()

    def still_there(self) -> None:
        """Raises `DeviceFailed` where the card was lost since it was opened."""
        with cards.LOCK:
            lost = self._ended.is_set()
            if self._stream is None and self._now is None:
                return  # the cards were listed anew: opened again by the next sentence
            if self._stream is None:
                lost = True
        now = time.monotonic()
        patience = STALL_SECONDS if now - self._opened > WAKING_SECONDS else 2.5
        if lost or now - self._beat > patience:
            self.close()
            raise DeviceFailed(DEVICE, "the card takes no sound: is it plugged in?")

    def probe(self) -> None:
        """Look for the card, listing the cards anew where it isn't found as it was."""
        self.close()
        try:
            self.open()
        except DeviceMissing:
            cards.rescan()
            try:
                self.open()
            except DeviceMissing as missing:
                raise DeviceFailed(DEVICE, missing.why) from missing

    def _start(self, sd: Any, index: int, rate: int) -> None:
        self._ended.clear()
        stream = sd.OutputStream(
            device=index,
            samplerate=rate,
            channels=1,
            dtype="float32",
            latency=LATENCY_SECONDS,
            callback=self._fill,
            finished_callback=self._ended.set,
        )
        try:
            stream.start()
        except sd.PortAudioError:
            stream.close(ignore_errors=True)
            raise
        self._opened = self._beat = time.monotonic()
        self._stream, self._rate, self._latency = stream, rate, stream.latency

    def _fill(self, out: NDArray[np.float32], frames: int, when: Any, status: Any) -> None:
        # PortAudio's thread: no locks, no waiting.
        self._beat = time.monotonic()
        now = self._now
        if now is None or now.halt.is_set():
            out[:] = 0
            return
        if not now.at:
            now.first_at = self._beat
        part = now.samples[now.at : now.at + frames]
        out[: part.size, 0] = part
        out[part.size :] = 0
        now.at += frames
        if now.at >= now.samples.size:
            now.done.set()
