"""How long another process has given no sign of life: what tells one that hangs.

Pure: the time is handed in. Every child process is watched by it (`child.py`).
"""

from __future__ import annotations

from dataclasses import dataclass

ON_TIME = 0.1
"""Seconds between two looks count up to so many: if this process had to wait for the machine, so
had the other."""


@dataclass
class Silence:
    """Counts the silence of one process. Look at it several times in each `ON_TIME`."""

    looked: float = 0.0
    """Clock time, in seconds, of the last look; given at first, that at which it was started."""
    _seconds: float = 0.0

    def broken(self) -> None:
        """It gave a sign of life. May be called from another thread than `look`."""
        self._seconds = 0.0

    def look(self, now: float, *, counts: bool = True) -> float:
        """The seconds of silence until `now`; the time since the last look counts only if
        `counts`, which is whether a sign of life is owed."""
        passed, self.looked = min(now - self.looked, ON_TIME), now
        if counts:
            self._seconds += passed
        return self._seconds
