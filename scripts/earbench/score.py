"""Whether the right thing was heard, what came of it, and how sure the counts are."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from functools import cache
from math import sqrt
from typing import Any

from assistant.app.turn import NO_COMMAND
from assistant.phrases.matcher import match
from assistant.session.allowed import CONSEQUENT
from assistant.spoken import Heard, Refused, Understood
from assistant.spoken.gist import load_gist
from assistant.spoken.written import has_number
from earbench.corpora import book

FLOOR = 0.5
"""Confidence from which on a hearing is acted upon, as in `Expected.floor`; with a number in it
`CONSEQUENT`."""


@cache
def _read(words: str) -> Understood | Refused:
    return match(book(), book().expected(), Heard(words, 1.0, engine="bench"))


@cache
def meaning(words: str) -> str:
    """What the whole phrase book makes of `words`, whatever the confidence."""
    said = _read(words)
    if isinstance(said, Understood):
        return repr(said.intent)
    return f"{said.reason} {said.candidate!r}" if said.candidate else f"nothing: {words}"


@cache
def has_size(words: str) -> bool:
    """Whether a slip of the ear could make another size of it, "a thou" for "eighty thou" too."""
    if has_number(words):
        return True
    said = _read(words)
    intent = said.intent if isinstance(said, Understood) else said.candidate
    return intent is not None and intent.has_number


def right(heard: str, said: str) -> bool:
    """The same words, numbers taken as figures, or the same meaning in the book."""
    gist = load_gist()
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
    """What became of the utterances of one condition.

    Each of them is one of four: taken (right, and acted upon), asked back, refused (nothing
    happens), or wrong (another command is acted upon).
    """

    of: int = 0
    right: int = 0
    """Heard right, however sure the ear was of it."""
    taken: int = 0
    asked: int = 0
    refused: int = 0
    wrong: int = 0
    wrong_number: int = 0
    """Those of `wrong` in which a number was heard: the ones that scrap a part."""
    asked_right: int = 0
    """Those of `asked` that were heard right: asked without need."""

    def add(self, heard: Heard, said: str) -> str:
        """Count one hearing of `said` ('' for what is no command); what became of it."""
        is_right = bool(said) and right(heard.words, said)
        numbered = has_size(heard.words)
        self.of += 1
        self.right += is_right
        if heard.words and heard.confidence >= (CONSEQUENT if numbered else FLOOR):
            fate = "taken" if is_right else "wrong"
            self.wrong_number += numbered and not is_right
        elif heard.words and heard.confidence >= NO_COMMAND:
            fate = "asked"
            self.asked_right += is_right
        else:
            fate = "refused"
        setattr(self, fate, getattr(self, fate) + 1)
        return fate

    def __add__(self, other: Count) -> Count:
        mine, theirs = asdict(self), asdict(other)
        return Count(**{name: mine[name] + theirs[name] for name in mine})

    def as_json(self) -> dict[str, Any]:
        """The counts, with the interval of each share."""
        return {
            name: {"count": count, "interval": [round(end, 4) for end in wilson(count, self.of)]}
            for name, count in asdict(self).items()
            if name != "of"
        } | {"of": self.of}
