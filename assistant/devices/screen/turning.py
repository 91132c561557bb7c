"""What of a page is shown at a time: which of its leaves, and whether its number is marked new."""

from __future__ import annotations

from dataclasses import replace

from assistant.present.glance import Ear, Glance

FRESH = 6.0
"""Seconds for which a number that changed is marked as new."""
LEAF_SECONDS = 5.0
"""For which each leaf of a page that takes several is shown: the three or four rows that wait their
turn, at a little over three words a second."""


def number_of(glance: Glance) -> tuple[str, str, str]:
    """What makes it another number."""
    return glance.number, glance.unit, glance.what


class Turning:
    """Follows one screen. Times are in seconds of any one clock."""

    def __init__(self) -> None:
        self.leaves = 1
        """Of the page as it was drawn last: whoever draws it tells."""
        self._number: tuple[str, str, str] | None = None
        self._changed_at = 0.0
        self._text: Glance | None = None
        """What there is to read: when it changes, leaves are turned from the first again."""
        self._turned_at = 0.0

    def at(self, glance: Glance, now: float, since: float | None = None) -> tuple[bool, int]:
        """Whether the number is new, and the leaf. `since` is when it changed, where that is known
        better than by this screen, which may have come later."""
        text = replace(glance, level=0.0, heard="", ear=Ear.LISTENING, changed=0)
        if text != self._text:
            self._text, self.leaves, self._turned_at = text, 1, now
        if number_of(glance) != self._number:
            self._number, self._changed_at = number_of(glance), now
        changed = self._changed_at if since is None else since
        fresh = bool(glance.number) and now - changed < FRESH
        return fresh, int((now - self._turned_at) / LEAF_SECONDS) % self.leaves
