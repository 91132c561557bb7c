"""A screen that keeps what it is shown and draws nothing: for typed sessions and tests."""

from __future__ import annotations

from collections.abc import Sequence

from assistant.present.glance import Glance


class HiddenScreen:
    """The `Screen` without a picture."""

    name = "hidden"

    def __init__(self) -> None:
        self.shown: list[Glance] = []
        """Each screen that differed from the one before."""
        self.pressed: list[str] = []
        """Keys that the next call of `keys` reports."""

    def show(self, glance: Glance) -> None:
        """Keep it, where it differs from the last."""
        if not self.shown or self.shown[-1] != glance:
            self.shown.append(glance)

    def keys(self) -> Sequence[str]:
        """Keys since the last call."""
        pressed, self.pressed = self.pressed, []
        return pressed

    def close(self) -> None:
        """Nothing to close."""
