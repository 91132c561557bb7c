"""With a headset it listens while it speaks: what comes from its own earphone is kept from the ear.

The ear hears a voice that is very soft, and raises it: its own, 40 dB softer than it was said, was
taken for commands (`scripts/torture --only itself`). So how loud its voice arrives is measured, and
while it speaks only what is plainly louder goes on, the operator's mouth being far nearer to the
microphone than the earphone is. A microphone on a stand beside a loudspeaker hears both alike:
then nothing goes on, as without a headset.
"""

from __future__ import annotations

from collections import deque

import numpy as np

from assistant.audio.levels import measure
from assistant.ports import RATE, Samples

WINDOW = 0.5
"""Seconds in which the loudest counts."""
LOUDEST = 95
"""Percentile of the levels in a window: one click isn't it."""
OWN_KEPT, LEAST_KEPT = 24, 12
"""Windows of its own voice that are kept, and so many at least: until then nothing goes on."""
QUIET_KEPT = 8
"""Windows without it. The quietest counts: in the others the operator may have spoken."""
SILENT_DB = -90.0
"""No microphone is quieter; a card that gives nothing yet is."""
AUDIBLE_DB, LEAST_AUDIBLE = 3.0, 3
"""Over the noise, and in so many windows at least: what is less is lost in it, and all goes on. A
few are enough, since a sentence that isn't made yet is silent."""
USUAL_SHARE = 75
"""Percentile of the windows in which it is audible: in some the operator cuts in."""
MARGIN_DB = 6.0
"""Louder than its own voice usually arrives, and it is the operator."""
BEFORE, AFTER = 0.2, 0.4
"""Seconds that go on before and after what is loud: soft beginnings, and pauses in a phrase."""


class EarphoneGate:
    """What the ear gets while the assistant speaks. Used from the thread of the sound."""

    def __init__(self) -> None:
        self._levels: list[float] = []
        """In dB, of the window under way, which is of its own voice or not."""
        self._of_own = False
        self._heard = 0.0
        """Seconds of the window under way."""
        self._own: deque[float] = deque(maxlen=OWN_KEPT)
        self._quiet: deque[float] = deque(maxlen=QUIET_KEPT)
        self._held: deque[Samples] = deque()
        self._open_for = 0.0
        """Seconds of sound that still go on."""

    @property
    def least_db(self) -> float:
        """What is softer is kept back while it speaks; infinite as long as too little was heard."""
        if len(self._own) < LEAST_KEPT or not self._quiet:
            return np.inf
        noise = max(min(self._quiet), SILENT_DB)
        audible = [level for level in self._own if level > noise + AUDIBLE_DB]
        if len(audible) < LEAST_AUDIBLE:
            return -np.inf
        return float(np.percentile(audible, USUAL_SHARE)) + MARGIN_DB

    def through(self, sound: Samples, *, own: bool) -> list[Samples]:
        """What goes on to the ear now. Where it may be its `own` voice: silence in its place, and
        what is louder, 0.2 s late; else `sound` as it is."""
        level = measure(sound).rms_db
        self._keep(level, sound.size / RATE, own=own)
        if not own:
            rest = self._let_go(0.0)
            self._open_for = 0.0
            return [*rest, sound]
        self._held.append(sound)
        if level > self.least_db:
            self._open_for = BEFORE + AFTER
        return self._let_go(BEFORE)

    def _let_go(self, seconds: float) -> list[Samples]:
        """All but the last `seconds`."""
        gone = []
        while self._held and sum(part.size for part in self._held) / RATE > seconds:
            part = self._held.popleft()
            gone.append(part if self._open_for > 0 else np.zeros_like(part))
            self._open_for -= part.size / RATE
        return gone

    def _keep(self, level: float, seconds: float, *, own: bool) -> None:
        if own != self._of_own:
            self._of_own, self._levels, self._heard = own, [], 0.0
        self._levels.append(level)
        self._heard += seconds
        if self._heard >= WINDOW:
            kept = self._own if own else self._quiet
            kept.append(float(np.percentile(self._levels, LOUDEST)))
            self._levels, self._heard = [], 0.0
