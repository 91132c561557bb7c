"""From a stream of sound to what was heard, around any recogniser."""

from __future__ import annotations

import time
from collections import deque
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Protocol, runtime_checkable

import numpy as np

from assistant.audio.activity import FRAME_SECONDS, SpeechDetector
from assistant.audio.endpoint import Endpoint, Limits, Phase, Signal
from assistant.audio.levels import AutomaticGain, amplify, measure
from assistant.devices.ear.events import (
    EarEvent,
    EarState,
    HeardEvent,
    Level,
    Partial,
    SpeechStarted,
)
from assistant.ports import RATE, AudioSource, Foresighted, Recogniser, Samples
from assistant.spoken import Heard, WordAutomaton

LEVEL_SECONDS = 0.1
INCOMPLETE_CONFIDENCE = 0.2
"""For an utterance that was cut: whatever was heard of it, it has to be asked back."""


@runtime_checkable
class Pausing(Protocol):
    """A recogniser that wants to know of pauses, to begin on what may be all."""

    def pause(self) -> None:
        """Somebody pauses."""


class Hearing:
    """Cuts a stream into utterances and has each recognised. Used from one thread.

    The recogniser is asked in the first pause, while the wait for the end still runs; where
    nothing more is said, that is the answer. The sound of the wait is held back from it, so that
    finishing costs nothing.
    """

    def __init__(self, recogniser: Recogniser, limits: Limits | None = None) -> None:
        self._recogniser = recogniser
        self._detector = SpeechDetector()
        self._gain = AutomaticGain()
        self._louder = 0.0
        """Gain of the utterance under way, in dB."""
        self._limits = limits or Limits()
        self._endpoint = Endpoint(self._limits)
        self._grammar: WordAutomaton | None = None
        self._held_to: WordAutomaton | None = None
        """The grammar of the utterance under way: a change counts from the next one on."""
        before = round(self._limits.before / FRAME_SECONDS)
        self._before: deque[Samples] = deque(maxlen=before)
        self._shown = ""
        """The words so far as they were last reported."""
        self._waiting: list[Samples] = []
        """Sound since the pause, which the recogniser hasn't got."""
        self._could_go_on = True
        self._fed = self._position = 0.0
        """Seconds of sound so far, and of that what the detector has given its verdict on."""
        self._offset = 0.0
        """Clock time less position: sound may come in bursts, so only the sum is right."""
        self._started = 0.0
        """Position at which the utterance began."""
        self._level_parts: list[Samples] = []
        self._speech = 0.0

    def listen_for(self, grammar: WordAutomaton) -> None:
        """Hold what is said from now on to `grammar`; an utterance under way keeps its own."""
        self._grammar = grammar

    def feed(self, samples: Samples, now: float | None = None) -> Iterator[EarEvent]:
        """More sound, and what it brought about.

        `now` is the clock time at which its last sample was taken, in seconds; without it, time
        is counted by the sound itself. Raises what the recogniser raises.
        """
        if now is not None:
            self._offset = now - self._fed - samples.size / RATE
        self._fed += samples.size / RATE
        for frame, probability in self._detector.feed(samples):
            self._position += frame.size / RATE
            yield from self._frame(frame, probability)

    def flush(self) -> Iterator[EarEvent]:
        """The sound has ended: decide now."""
        for frame, probability in self._detector.flush():
            self._position += frame.size / RATE
            yield from self._frame(frame, probability)
        if self._endpoint.phase is not Phase.QUIET:
            # What is held back is silence; the recogniser needs none of it.
            yield from self._over(cut=False)
        self._endpoint = Endpoint(self._limits)
        self._before.clear()
        self._detector.reset()

    def interrupt(self) -> Iterator[EarEvent]:
        """Sound goes missing from here on: forget the utterance under way, since what is missing
        might be the rest of a number."""
        if self._endpoint.phase is not Phase.QUIET:
            yield EarState("listening", "the sound was interrupted")
        self._endpoint = Endpoint(self._limits)
        self._waiting.clear()
        self._before.clear()
        self._detector.reset()

    def _frame(self, frame: Samples, probability: float) -> Iterator[EarEvent]:
        yield from self._meter(frame, probability)
        self._gain.hear(frame, probability)
        if self._grammar is None:
            return
        quiet = self._endpoint.phase is Phase.QUIET
        self._endpoint, signal = self._endpoint.hear(probability, FRAME_SECONDS, self._could_go_on)
        if quiet:
            self._before.append(frame)
        elif self._endpoint.phase is Phase.PAUSING and signal is None:
            self._waiting.append(frame)
        elif signal is not Signal.OVER:
            yield from self._give(frame)
        match signal:
            case Signal.STARTED:
                yield from self._begin()
            case Signal.PAUSED:
                yield from self._pause()
            case Signal.OVER | Signal.CUT:
                yield from self._over(cut=signal is Signal.CUT)

    def _begin(self) -> Iterator[EarEvent]:
        assert self._grammar is not None
        self._held_to = self._grammar
        self._could_go_on = True
        self._waiting.clear()
        self._shown = ""
        self._started = self._position - self._endpoint.length
        self._louder = self._gain.gain_db
        self._recogniser.begin(self._grammar)
        yield EarState("hearing")
        yield SpeechStarted(self._started + self._offset)
        yield from self._give(np.concatenate(self._before))
        self._before.clear()

    def _give(self, samples: Samples) -> Iterator[EarEvent]:
        held_back, self._waiting = self._waiting, []
        words = ""
        for piece in (*held_back, samples):
            words = self._recogniser.feed(amplify(piece, self._louder))
        if words:
            assert self._held_to is not None
            self._could_go_on = self._held_to.can_go_on(words.split())
        yield from self._so_far(words)

    def _so_far(self, words: str) -> Iterator[EarEvent]:
        """The words of what is being said, where they are others than before."""
        if words and words != self._shown:
            self._shown = words
            yield Partial(words)

    def _pause(self) -> Iterator[EarEvent]:
        if isinstance(self._recogniser, Pausing):
            self._recogniser.pause()
        if isinstance(self._recogniser, Foresighted):
            assert self._held_to is not None
            words = self._recogniser.peek().words
            self._could_go_on = self._held_to.can_go_on(words.split())
            yield from self._so_far(words)

    def _over(self, cut: bool) -> Iterator[EarEvent]:
        yield EarState("working")
        decided = time.perf_counter()
        heard = self._recogniser.finish()
        silence = len(self._waiting) * FRAME_SECONDS
        ended = self._position - silence - (0.0 if cut else self._limits.pause)
        confidence = min(heard.confidence, INCOMPLETE_CONFIDENCE) if cut else heard.confidence
        self._waiting.clear()
        yield HeardEvent(
            replace(
                heard,
                started=self._started + self._offset,
                ended=max(self._started, ended) + self._offset,
                confidence=confidence,
            ),
            time.perf_counter() - decided,
        )
        yield EarState("listening")

    def _meter(self, frame: Samples, probability: float) -> Iterator[EarEvent]:
        self._level_parts.append(frame)
        self._speech = max(self._speech, probability)
        if len(self._level_parts) * FRAME_SECONDS >= LEVEL_SECONDS:
            level = measure(np.concatenate(self._level_parts))
            yield Level(level.rms_db, level.peak_db, level.clipped, self._speech)
            self._level_parts = []
            self._speech = 0.0


class Listener:
    """Hears a whole source in this process: sound files, at any pace."""

    def __init__(self, recogniser: Recogniser, limits: Limits | None = None) -> None:
        self._hearing = Hearing(recogniser, limits)

    def hear(self, source: AudioSource, grammar: Callable[[], WordAutomaton]) -> Iterator[Heard]:
        """Every utterance of `source`, each held to what `grammar()` was when it began."""
        for chunk in source.chunks():
            self._hearing.listen_for(grammar())
            yield from _heard(self._hearing.feed(chunk))
        yield from _heard(self._hearing.flush())


def _heard(events: Iterator[EarEvent]) -> Iterator[Heard]:
    return (event.heard for event in events if isinstance(event, HeardEvent))


def hear(
    recogniser: Recogniser,
    samples: Samples,
    grammar: WordAutomaton,
    limits: Limits | None = None,
) -> Heard:
    """What is said in one recording of one utterance, whatever pauses it has.

    `Heard('')` with confidence 0 where nobody speaks.
    """
    limits = limits or Limits()
    detector = SpeechDetector()
    frames = [*detector.feed(samples), *detector.flush()]
    speech = [
        number for number, (_, probability) in enumerate(frames) if probability >= limits.stay
    ]
    if not speech or max(probability for _, probability in frames) < limits.begin:
        return Heard("", 0.0, grammar=grammar.id, engine=recogniser.name)
    first = max(0, speech[0] - round(limits.before / FRAME_SECONDS))
    last = speech[-1] + 1 + round(limits.pause / FRAME_SECONDS)
    gain = AutomaticGain()
    for frame, probability in frames:
        gain.hear(frame, probability)
    recogniser.begin(grammar)
    for frame, _ in frames[first:last]:
        recogniser.feed(amplify(frame, gain.gain_db))
    return replace(
        recogniser.finish(),
        started=speech[0] * FRAME_SECONDS,
        ended=(speech[-1] + 1) * FRAME_SECONDS,
    )
