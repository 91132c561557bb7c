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

from assistant.audio import cards, server
from assistant.devices.speaker.voice import Sound
from assistant.errors import DeviceFailed, DeviceMissing

DEVICE = "speaker"
RATE = 24_000
"""The clear voice's own, in Hz; taken where the card allows it."""
STALL_SECONDS = 1.7
"""A card that asks for no sound for so long has stopped."""
WAKING_SECONDS = 3.0
"""A card that was just opened may take so long before it asks for sound steadily."""
STEADY_SECONDS = 0.15
"""A sentence is begun when the card has asked for sound so long without a pause: a sound server
that is waking up swallows the first second."""
PAUSE_SECONDS = 0.15
LATENCY_SECONDS = 0.1
"""How far ahead the card is filled. Less breaks off on a busy computer; what it holds is thrown
away when the speaker is hushed."""


class _Sentence:
    """What is being played: written by the callback alone once it is handed over."""

    def __init__(self, samples: NDArray[np.float32], halt: threading.Event) -> None:
        self.samples = samples
        self.halt = halt
        self.at = 0
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
        self._served_by = ""
        self._watch: server.Watch | None = None
        self._server_changed = threading.Event()
        self._waking_until = 0.0
        self._steady = False
        self._flowing_since = 0.0
        self._ended = threading.Event()

    def open(self) -> None:
        """Take the card, if it isn't taken. Raises `DeviceMissing`, saying why."""
        with cards.LOCK:
            if self._stream is not None:
                return
            card = cards.find_card("output", self._card, DEVICE, "")
            sd = cards.portaudio(DEVICE)
            why = server.stand_in("output", card.name)
            if why:
                raise DeviceMissing(DEVICE, why)
            for rate in dict.fromkeys((RATE, card.rate)):
                try:
                    self._start(sd, card.index, rate)
                except sd.PortAudioError as error:
                    why = why or str(error)
                else:
                    cards.hold(self.close)
                    self._served_by = card.name
                    self._watch = server.Watch(card.name, self._server_changed.set)
                    return
            raise DeviceMissing(DEVICE, f"{card.name} can't be opened: {why}")

    def close(self) -> None:
        """Give back the card."""
        with cards.LOCK:
            cards.let_go(self.close)
            stream, self._stream = self._stream, None
            watch, self._watch = self._watch, None
            if watch is not None:
                watch.close()
            if stream is not None:
                stream.abort(ignore_errors=True)
                stream.close(ignore_errors=True)

    def play(self, sound: Sound, text: str, volume: float, halt: threading.Event) -> bool:
        """Play to the end, or until `halt`. Raises `DeviceFailed`."""
        sd = cards.portaudio(DEVICE)
        try:
            self.open()
            return self._play(sound, volume, halt)
        except DeviceMissing as missing:
            raise DeviceFailed(DEVICE, missing.why) from missing
        except sd.PortAudioError as error:
            self.close()
            raise DeviceFailed(DEVICE, str(error)) from error

    def _play(self, sound: Sound, volume: float, halt: threading.Event) -> bool:
        samples = sound.samples
        if sound.rate != self._rate:
            samples = soxr.resample(samples, sound.rate, self._rate)
        self._await_steady(halt)
        sentence = _Sentence(np.clip(samples * np.float32(volume), -1, 1), halt)
        self._now = sentence
        try:
            while not sentence.done.wait(0.005) and not halt.is_set():
                self.still_there()
            # The card still holds the end of it.
            halt.wait(self._latency)
        finally:
            self._now = None
        if halt.is_set():
            self._throw_away()
        return not halt.is_set()

    def still_there(self) -> None:
        """Raises `DeviceFailed` where the card was lost since it was opened."""
        with cards.LOCK:
            lost = self._ended.is_set()
            if self._stream is None and self._now is None:
                return  # the cards were listed anew: opened again by the next sentence
            if self._stream is None:
                lost = True
        if self._server_changed.is_set():
            self._server_changed.clear()
            why = server.stand_in("output", self._served_by)
            if why:
                self.close()
                raise DeviceFailed(DEVICE, why)
        now = time.monotonic()
        patience = STALL_SECONDS if now > self._waking_until else WAKING_SECONDS
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

    def _await_steady(self, halt: threading.Event) -> None:
        while not self._steady and not halt.wait(0.01):
            self.still_there()
            if self._stream is None:  # the cards were listed anew meanwhile
                self.open()

    def _throw_away(self) -> None:
        """Silence at once: what the card was given in advance is forgotten."""
        with cards.LOCK:
            if self._stream is not None:
                self._stream.abort(ignore_errors=True)
                self._ended.clear()
                self._waking_until = time.monotonic() + WAKING_SECONDS
                self._stream.start()

    def _start(self, sd: Any, index: int, rate: int) -> None:
        self._ended.clear()
        self._steady, self._flowing_since, self._beat = False, 0.0, time.monotonic()
        self._waking_until = self._beat + WAKING_SECONDS
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
        self._stream, self._rate, self._latency = stream, rate, stream.latency

    def _fill(self, out: NDArray[np.float32], frames: int, when: Any, status: Any) -> None:
        # PortAudio's thread: no locks, no waiting.
        last, self._beat = self._beat, time.monotonic()
        # Once steady it stays so: a late call is then a busy computer, not a server waking up.
        if not self._steady:
            if self._beat - last > PAUSE_SECONDS or not self._flowing_since:
                self._flowing_since = self._beat
            self._steady = self._beat - self._flowing_since > STEADY_SECONDS
        now = self._now
        if now is None or now.halt.is_set():
            out[:] = 0
            return
        if not now.at:
            self.first_sound_at = self._beat
        part = now.samples[now.at : now.at + frames]
        out[: part.size, 0] = part
        out[part.size :] = 0
        now.at += frames
        if now.at >= now.samples.size:
            now.done.set()
