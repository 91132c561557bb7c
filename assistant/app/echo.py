"""How long after its own last word the room still speaks: until then the ear is kept closed.

Too long, and the onset of a quick answer is lost; too short, and the end of its own sentence is
heard as the beginning of the answer. It depends on what the sound system doesn't tell (a radio
link delays by 0.2 s) and on the room, so it is measured by what the microphone delivers while the
ear is closed.
"""

from __future__ import annotations

from collections import deque
from itertools import pairwise

import numpy as np

from assistant.audio.levels import measure
from assistant.ports import Samples

USUAL = 0.4
"""Seconds, as long as too little was measured: enough for a radio link or a room, not for both."""
SHORTEST, LONGEST = 0.1, 0.6
"""A radio link in a room that rings needs the longest: with less the room's answer was taken for
"yeah" and "no" (`scripts/torture --only itself`)."""
SLACK = 0.05
"""Added to the longest that was measured: two looks of the loop, and a last sound that fades."""
KEPT, LEAST_KEPT = 5, 3
"""Sentences of which the longest counts, and so many at least."""
FADED_DB = 15.0
"""So much softer than it was, its own voice is no speech to the ear any more: in simulated rooms
(0.4 and 1 s until an echo has faded by 60 dB) it took none of eight sentences for the operator."""
OVER_NOISE_DB = 8.0
GAP = 0.1
"""Seconds: a stop inside a word is shorter."""
BEFORE = 0.2
"""Seconds before the end of speaking, from which on its last sound is looked for."""
BACKGROUND_SECONDS = 3.0


class EchoTail:
    """Measures it. `hear` is for the thread of the sound, all else for that of the loop."""

    def __init__(self) -> None:
        self._arrived: deque[tuple[float, float]] = deque(maxlen=1000)
        """Clock time and level in dB of what came from the microphone since the last look."""
        self._quiet: deque[tuple[float, float]] = deque()
        self._spoken: list[tuple[float, float]] = []
        """While it speaks and until it has faded."""
        self._ended = 0.0
        """Clock time of the end of speaking; 0 while it isn't waited for."""
        self._speaking = False
        self._measured: deque[float] = deque(maxlen=KEPT)

    @property
    def seconds(self) -> float:
        """From the end of speaking until nothing of it is in the room."""
        if len(self._measured) < LEAST_KEPT:
            return USUAL
        return min(LONGEST, max(SHORTEST, max(self._measured) + SLACK))

    def hear(self, sound: Samples, at: float) -> None:
        """Sound of the microphone, whether the ear gets it or not; `at` is the clock time."""
        self._arrived.append((at, measure(sound).rms_db))

    def look(self, now: float, *, speaking: bool) -> None:
        """Called at each look of the loop, with whether the assistant's own voice is sounding."""
        if speaking and not self._speaking:
            self._spoken, self._ended = [], 0.0
        if self._speaking and not speaking:
            self._ended = now
        self._speaking = speaking
        while self._arrived:
            at, level = self._arrived.popleft()
            if speaking or self._ended:
                self._spoken.append((at, level))
            else:
                self._quiet.append((at, level))
        while self._quiet and self._quiet[0][0] < now - BACKGROUND_SECONDS:
            self._quiet.popleft()
        if self._ended and now > self._ended + LONGEST + GAP:
            self._judge()
            self._ended = 0.0

    def _judge(self) -> None:
        own = [level for at, level in self._spoken if at < self._ended]
        if not own or not self._quiet:
            return
        # the operator, too, may have spoken in that time
        noise = float(np.percentile([level for _, level in self._quiet], 25))
        voice = float(np.percentile(own, 80))
        if voice < noise + FADED_DB:
            return  # the microphone hardly hears it, and so does the ear
        faded = max(voice - FADED_DB, noise + OVER_NOISE_DB)
        loud = [at - self._ended for at, level in self._spoken if level > faded]
        for last, following in pairwise((*loud, LONGEST + GAP)):
            if following > -BEFORE and following - last > GAP:
                self._measured.append(max(0.0, last))
                return  # without such a gap somebody spoke on in the same breath
