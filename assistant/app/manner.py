"""How the shop wants to be spoken to: pace, loudness and shaping, and what a session adds to it."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.ports import Speaker
from assistant.session.state import State

USUAL_RATE = 190
"""Words a minute of a session in which nobody said slower or faster."""
SLOWEST, FASTEST = 80, 300
MOST_SHAPED = 1.5
ABOVE = Decimal("0.4")
"""How far a session's volume goes above 1."""


@dataclass(frozen=True)
class Manner:
    """The settings of the voice; a session's "slower" and "louder" count from these."""

    rate: int = USUAL_RATE
    """Words a minute, 80 to 300."""
    volume: float = 1.0
    """0 to 1."""
    shape: float = 1.0
    """How much the voice is shaped for noise, 0 to 1.5."""

    def adjust(self, speaker: Speaker, state: State) -> None:
        """Set the voice as the session wants it now.

        A session's volume is 1 at first, and the setting's. Above it the voice is shaped more, in
        a first step by half of what is left; the last step also gives it the full level.
        """
        more = float(min(Decimal(1), max(Decimal(0), (state.volume - 1) / ABOVE)))
        level = self.volume * min(1.0, float(state.volume))
        speaker.adjust(
            rate=min(FASTEST, max(SLOWEST, self.rate * state.rate / USUAL_RATE)),
            volume=1.0 if more == 1.0 else level,
            shape=self.shape + (MOST_SHAPED - self.shape) * more,
        )
