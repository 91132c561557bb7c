"""Whether the right thing was heard, and how sure the counts are."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import sqrt

from assistant.devices.moonshine.spellings import load_spellings
from assistant.phrases.matcher import match
from assistant.spoken import Heard, Understood
from earbench.corpora import book

FLOOR = 0.5
"""Confidence from which on a hearing counts as accepted, as in `Expected.floor`."""


@cache
def meaning(words: str) -> str:
    """What the whole phrase book makes of `words`, whatever the confidence."""
    said = match(book(), book().expected(), Heard(words, 1.0, engine="bench"))
    if isinstance(said, Understood):
        return repr(said.intent)
    return f"{said.reason} {said.candidate!r}" if said.candidate else f"nothing: {words}"


def right(heard: str, said: str) -> bool:
    """The same words, numbers taken as figures, or the same meaning in the book."""
    _, gist = load_spellings()
    return gist(heard) == gist(said) or bool(heard and meaning(heard) == meaning(said))


def wilson(hits: int, of: int) -> tuple[float, float]:
    """95 % interval of a share (Wilson, 1927)."""
    if of == 0:
        return 0.0, 1.0
    z = 1.959964
    share = hits / of
    middle = (share + z * z / (2 * of)) / (1 + z * z / of)
    half = z / (1 + z * z / of) * sqrt(share * (1 - share) / of + z * z / (4 * of * of))
    return max(0.0, middle - half), min(1.0, middle + half)


@dataclass
class Count:
    """What became of the utterances of one condition."""

    of: int = 0
    right: int = 0
    refused: int = 0
    """Right, but below the floor: asked back or ignored without need."""
    accepted_wrong: int = 0
    """Wrong and at or above the floor: acted upon."""

    def add(self, heard: Heard, said: str) -> None:
        """Count one hearing of `said`; '' for what is no command."""
        accepted = bool(heard.words) and heard.confidence >= FLOOR
        is_right = bool(said) and right(heard.words, said)
        self.of += 1
        self.right += is_right
        self.refused += is_right and not accepted
        self.accepted_wrong += accepted and not is_right
