"""What is said aloud of devices that fail and are well again. The screen shows it all the while.

Nothing is spoken unasked while a cut is running, but for two words, once a cut: that the ear, the
microphone or the screen is gone has to be known at once, since "stop" would not be heard, or the
number not be there to look at. All other news waits until the cut is through, and is left out if
it is none any more.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from assistant.spoken import Sentence, Urgency

LOOSE_SECONDS = 30.0
"""A device that fails within this time of its coming back is loose: that is shown and no more,
since while the assistant speaks it doesn't listen."""
AT_ONCE = ("Ear", "Microphone", "Screen")
"""Said in a cut, too."""
VOICE = "Voice"
"""While it is gone the screen alone says so."""


@dataclass
class _Device:
    failing: bool = False
    told: bool = False
    """Whether the last that was said of it is that it fails."""
    loose: bool = False
    back_at: float | None = None
    said_in: str = ""
    """The cut in which its failing was said last."""


class TroubleTalk:
    """Keeps what was said of each device, and what has still to be. Used from one thread."""

    def __init__(self) -> None:
        self._devices: dict[str, _Device] = {}

    def note(self, what: str, *, failing: bool, now: float) -> None:
        """Device `what` fails from now on, or is well again; `now` in seconds of any clock."""
        device = self._devices.setdefault(what, _Device())
        if failing and not device.failing:
            back_at = device.back_at
            device.loose = back_at is not None and now - back_at < LOOSE_SECONDS
        if not failing:
            device.back_at = now
        device.failing = failing

    def due(self, cut: str, last_reply: Sequence[str] = ()) -> Iterator[Sentence]:
        """What is to be said now, each once. `cut` names the cut that is running, '' where none
        is; `last_reply` is said again by a voice that was gone."""
        for what, device in self._devices.items():
            if device.failing == device.told:
                continue
            if what == VOICE:
                yield from self._of_voice(device, cut, last_reply)
            elif device.failing and not device.loose:
                if not cut or (what in AT_ONCE and device.said_in != cut):
                    device.told, device.said_in = True, cut
                    yield Sentence(f"{what} trouble.", Urgency.CAUTION)
            elif not device.failing and not cut:
                device.told = False
                yield Sentence(f"My {what.lower()} is back.")

    def _of_voice(self, device: _Device, cut: str, last_reply: Sequence[str]) -> Iterator[Sentence]:
        device.told = device.failing
        # after a cut the next answer tells it anyway, and the one before it is out of date
        if not device.failing and not device.loose and not cut:
            yield from (Sentence(text) for text in ("My voice is back.", *last_reply))
