"""Where an utterance begins and ends: a pure state machine over speech probabilities.

    QUIET  --speech for 0.1 s-->  SPEAKING              STARTED
    SPEAKING  --silence for 0.2 s-->  PAUSING           PAUSED: hear now what was said so far
    PAUSING  --speech-->  SPEAKING                      RESUMED: what was heard is out of date
    PAUSING  --silence for 0.3 s, no sentence could go on-->  QUIET      OVER
    PAUSING  --silence for 0.7 s-->  QUIET                               OVER
    any but QUIET  --8.5 s since it began-->  QUIET                      CUT

The long wait is for numbers: "one point one" may still become "one point one oh nine", and a
number cut short is a wrong number.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum


class Signal(StrEnum):
    """What a frame of sound brought about."""

    STARTED = "started"
    PAUSED = "paused"
    RESUMED = "resumed"
    OVER = "over"
    CUT = "cut"
    """Over because it was too long: whatever was heard is incomplete."""


class Phase(StrEnum):
    """Where in an utterance the sound is."""

    QUIET = "quiet"
    SPEAKING = "speaking"
    PAUSING = "pausing"


@dataclass(frozen=True, slots=True)
class Limits:
    """Times in seconds, probabilities 0 to 1."""

    begin: float = 0.5
    """From this probability on a frame can begin an utterance."""
    stay: float = 0.3
    """From this probability on a frame continues one."""
    speech: float = 0.09
    """So much speech begins an utterance; a click is shorter."""
    pause: float = 0.2
    short: float = 0.3
    long: float = 0.7
    longest: float = 8.5
    """Under what the built-in ear can take."""
    before: float = 0.4
    """Sound kept from before the first frame of speech: soft first sounds are found late."""


@dataclass(frozen=True, slots=True)
class Endpoint:
    """The state between two frames."""

    limits: Limits = Limits()
    phase: Phase = Phase.QUIET
    speech: float = 0.0
    """Unbroken speech so far, in QUIET."""
    silence: float = 0.0
    """Silence since the last speech."""
    length: float = 0.0
    """Time since the utterance began."""

    def hear(
        self, probability: float, seconds: float, could_go_on: bool = True
    ) -> tuple[Endpoint, Signal | None]:
        """The state after a frame of `seconds`, and what it brought about.

        `could_go_on`: whether what was heard at the pause may be the beginning of a longer
        sentence; True where that isn't known.
        """
        limits = self.limits
        if self.phase is Phase.QUIET:
            if probability < limits.begin:
                return replace(self, speech=0.0), None
            speech = self.speech + seconds
            if speech < limits.speech:
                return replace(self, speech=speech), None
            return Endpoint(limits, Phase.SPEAKING, length=speech), Signal.STARTED
        length = self.length + seconds
        silence = 0.0 if probability >= limits.stay else self.silence + seconds
        # Added-up frame lengths fall short of a limit by rounding; a hair less counts as reached.
        reached = silence + 1e-9
        if length >= limits.longest:
            return Endpoint(limits), Signal.CUT
        if self.phase is Phase.SPEAKING:
            if reached < limits.pause:
                return replace(self, silence=silence, length=length), None
            return replace(self, phase=Phase.PAUSING, silence=silence, length=length), Signal.PAUSED
        if silence == 0.0:
            return replace(self, phase=Phase.SPEAKING, silence=0.0, length=length), Signal.RESUMED
        if reached >= (limits.long if could_go_on else limits.short):
            return Endpoint(limits), Signal.OVER
        return replace(self, silence=silence, length=length), None
