"""A source of sound that does as it is told: the fake at the microphone's place."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from assistant.audio.resample import CHUNK
from assistant.errors import WheelcallError
from assistant.ports import Samples


class ScriptedSound:
    """Delivers stretches of sound one after another, in chunks of 20 ms.

    An error among them is raised in its turn; whoever reads `chunks` again afterwards gets what
    comes after it, as with a microphone that was plugged in again.
    """

    name = "scripted sound"
    behind = 0.0

    def __init__(self, parts: Iterable[Samples | WheelcallError], *, live: bool = False) -> None:
        self.live = live
        self.closed = False
        self._parts = iter(parts)

    def chunks(self) -> Iterator[Samples]:
        """The next stretches, up to the next error or the end."""
        for part in self._parts:
            if isinstance(part, WheelcallError):
                raise part
            for start in range(0, part.size, CHUNK):
                if self.closed:
                    return
                yield np.asarray(part[start : start + CHUNK], np.float32)

    def close(self) -> None:
        """End `chunks`."""
        self.closed = True
