"""The voice of the program: a queue, a thread, a speech engine and something that plays."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Sequence
from contextlib import suppress
from itertools import chain, repeat

from assistant.devices.speaker.card import CardPlayer
from assistant.devices.speaker.players import Player
from assistant.devices.speaker.sentences import Sentences
from assistant.devices.speaker.voice import DEVICE as ENGINE
from assistant.devices.speaker.voice import Engine, TextRefused
from assistant.errors import BadInput, DeviceFailed, DeviceMissing
from assistant.ports import FASTEST, MOST_SHAPED, SLOWEST, USUAL_RATE
from assistant.spoken import Sentence, Urgency

PAUSES = (0.25, 0.5, 1.0, 2.0, 4.0, 8.0)
"""Seconds before each new try at a device that is gone; the last is repeated."""

WATCH_SECONDS = 0.25
"""With nothing to say, the card is looked at so often, so that a loss is known within 2 s."""

NO_TIME_LEFT = 1.0
"""Seconds after which a second try would end too late for it to be known within 2 s."""

Report = Callable[[str, Sequence[Sentence]], None]
"""Called in the speaker's thread, so it should only queue: what is wrong (empty: all is well
again), and the sentences that could not be spoken and won't be."""


def no_report(trouble: str, unspoken: Sequence[Sentence]) -> None:
    """Where nobody wants to know; `trouble` still tells."""


class QueuedSpeaker:
    """Says sentences one after another in a thread of its own.

    When engine or card fail, the sentence is tried once more at once; not so for an engine that
    hung, since it is to be known within 2 s that the voice is gone. If that fails too, what
    waits is reported as unspoken and forgotten, but for the cautions, which are said when the
    voice is back: an instruction said minutes late would be followed at the wrong step.
    """

    def __init__(
        self,
        voice: Engine,
        player: Player,
        *,
        rate: float = USUAL_RATE,
        volume: float = 1.0,
        shape: float = 1.0,
        notices: tuple[str, ...] = (),
        report: Report = no_report,
    ) -> None:
        self.name = player.name
        self.aloud = isinstance(player, CardPlayer)
        """Whether it is heard in the room."""
        self.notices = notices
        """What the operator must be told of this voice, one plain sentence each."""
        self.trouble = ""
        """What is wrong now, in plain words; '' where nothing is."""
        self._voice, self._player, self._report = voice, player, report
        self._waiting = Sentences()
        self._changed = threading.Condition()
        self._busy = False
        self._halt = threading.Event()
        self._closed = False
        self._ahead: list[str] = []
        """Sentences that may be said soon: made while there is nothing to say."""
        self._rate, self._volume, self._shape = 0, 0.0, 1.0
        self.adjust(rate=rate, volume=volume, shape=shape)
        self._thread = threading.Thread(target=self._run, name="speaker", daemon=True)
        self._thread.start()

    def say(self, sentences: Sequence[Sentence]) -> None:
        """Queue sentences; returns at once."""
        with self._changed:
            if self.trouble:
                cautions = [one for one in sentences if one.urgency is Urgency.CAUTION]
                unspoken = [one for one in sentences if one.urgency is not Urgency.CAUTION]
                self._waiting.add(cautions)
            else:
                unspoken = []
                self._waiting.add(sentences)
            trouble = self.trouble
            self._changed.notify_all()
        if unspoken:
            self._report(trouble, unspoken)

    def hush(self) -> None:
        """Be silent now and forget the queue."""
        with self._changed:
            self._waiting.clear()
            self._halt.set()
            self._changed.notify_all()

    def foresee(self, sentences: Sequence[str]) -> None:
        """Sentences that may be said next, in place of those foreseen before: their sound is made
        while there is nothing to say."""
        with self._changed:
            self._ahead = [text for text in sentences if text.strip()]
            self._changed.notify_all()

    def adjust(
        self,
        *,
        rate: float | None = None,
        volume: float | None = None,
        shape: float | None = None,
    ) -> None:
        """Words a minute (80 to 300), volume (0 to 1) and how much the voice is shaped for noise (0
        to 1.5) from the next sentence on."""
        if rate is not None:
            if not SLOWEST <= rate <= FASTEST:
                raise BadInput("rate", rate, f"wanted {SLOWEST} to {FASTEST} words a minute")
            self._rate = round(rate)
        if volume is not None:
            if not 0 <= volume <= 1:
                raise BadInput("volume", volume, "wanted 0 to 1")
            self._volume = float(volume)
        if shape is not None:
            if not 0 <= shape <= MOST_SHAPED:
                raise BadInput("shape", shape, f"wanted 0 to {MOST_SHAPED}")
            self._shape = float(shape)

    @property
    def speaking(self) -> bool:
        """Whether sound is being made or waits to be made; False while there is no voice."""
        with self._changed:
            return (self._busy or bool(self._waiting)) and not self.trouble

    def wait(self, timeout: float | None = None) -> bool:
        """Wait until all is said; False where that took too long or the voice is gone."""
        with self._changed:
            self._changed.wait_for(
                lambda: self.trouble or not (self._busy or self._waiting), timeout
            )
            return not (self.trouble or self._busy or self._waiting)

    def close(self) -> None:
        """Be silent and give back card and engine."""
        with self._changed:
            self._closed = True
            self._waiting.clear()
            self._halt.set()
            self._changed.notify_all()
        self._thread.join(timeout=3)
        self._player.close()
        self._voice.close()

    def _run(self) -> None:
        while not self._closed:
            sentence = self._take()
            begun = time.monotonic()
            try:
                if sentence is None and self._ahead:
                    self._make_ahead()
                elif sentence is None:
                    self._player.still_there()
                else:
                    self._speak(sentence)
            except DeviceFailed as failed:
                if failed.device == ENGINE and time.monotonic() - begun > NO_TIME_LEFT:
                    self._lose(sentence, failed.why)
                else:
                    self._try_again(sentence, failed)

    def _lose(self, sentence: Sentence | None, why: str) -> None:
        """Tell that the voice is gone, and look for it."""
        if not self._closed:
            self._give_up(sentence, why)
            self._come_back()
            self._report("", ())

    def _take(self) -> Sentence | None:
        """The next sentence; None after a quarter of a second without one."""
        with self._changed:
            self._busy = False
            self._changed.notify_all()
            self._changed.wait_for(
                lambda: self._waiting or self._closed or self._ahead, WATCH_SECONDS
            )
            sentence = self._waiting.next()
            if sentence is not None:
                self._halt.clear()
                self._busy = True
            return sentence

    def _try_again(self, sentence: Sentence | None, failed: DeviceFailed) -> None:
        if self._closed:
            return
        self._report(failed.why, ())
        try:
            if failed.device != ENGINE:  # a dead engine starts anew by itself
                self._player.probe()
            if sentence is not None:
                self._speak(sentence)
        except DeviceFailed as again:
            self._lose(sentence, again.why)
        else:
            self._report("", ())

    def _make_ahead(self) -> None:
        """One of the sentences to come. What fails here is told when it is to be said."""
        with self._changed:
            text = self._ahead.pop(0) if self._ahead else ""
        if text:
            with suppress(DeviceFailed):
                self._voice.sound(text, self._rate, self._shape)

    def _speak(self, sentence: Sentence) -> None:
        try:
            sound = self._voice.sound(sentence.text, self._rate, self._shape)
        except TextRefused as refused:  # of this text alone: the voice is well
            self._report(refused.why, [sentence])
            self._report("", ())
            return
        if not self._halt.is_set():
            self._player.play(sound, sentence.text, self._volume, self._halt)

    def _give_up(self, sentence: Sentence | None, why: str) -> None:
        with self._changed:
            self.trouble = why
            if sentence is not None and not self._halt.is_set():
                self._waiting.put_back(sentence)
            unspoken = self._waiting.clear(but_cautions=True)
            self._changed.notify_all()
        self._report(why, unspoken)

    def _come_back(self) -> None:
        """Try engine and player, with growing pauses, until both work or the program ends."""
        for pause in chain(PAUSES, repeat(PAUSES[-1])):
            with self._changed:
                if self._changed.wait_for(lambda: self._closed, pause):
                    return
            try:
                self._voice.start()
                self._player.probe()
            except (DeviceFailed, DeviceMissing) as failed:
                if failed.why != self.trouble:
                    self.trouble = failed.why
                    self._report(failed.why, ())
            else:
                with self._changed:
                    self.trouble = ""
                return
