"""How the shop wants to be spoken to: pace, loudness, shaping, figures, and what a session adds."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from assistant.ports import FASTEST, MOST_SHAPED, SLOWEST, USUAL_RATE, Speaker
from assistant.present.for_the_ear import for_the_ear
from assistant.session.state import State
from assistant.spoken import Sentence

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

    say_digits: bool = False
    """Numbers figure by figure, always."""
    repeat_numbers: bool = False
    """After a sentence with a value, the value again, figure by figure."""

    def spoken(
        self, sentences: Iterable[Sentence], state: State, *, again: bool = False
    ) -> list[Sentence]:
        """`sentences` as the voice says them; `again`, where they were asked for again, gives the
        figures one by one."""
        figures = self.say_digits or again
        return for_the_ear(sentences, state, figures=figures, repeat=self.repeat_numbers)

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
