"""What each line of a page needs: how large it would be, how small it may get, may it wait.

This table is the whole rule of the layout. Every line has a size for each degree of tightness, as
a multiple of the smallest legible type; a page is set as loosely as it fits. When every line is
at its least and the page still does not fit, lines that may wait are paged; all others stay on
every leaf. Only when that does not suffice, all type gets smaller together: nothing is left off.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

TIGHTEST = 3
"""Degrees of tightness: 0 (as large as one would like) to this (the least of everything)."""
STEPS = 4
"""Steps from one degree to the next."""


class Role(StrEnum):
    """Kinds of line."""

    NUMBER = "number"
    """The one very large number."""
    WAY = "way"
    """What the number is; of a move, which wheel, which way and how far."""
    TURNS = "turns"
    """Turns of a wheel, and what comes before and after its reading."""
    HEADLINE = "headline"
    """The sentence of a page that has no number."""
    SENTENCE = "sentence"
    """The sentence under a number."""
    CAUTION = "caution"
    ANSWER = "answer"
    """The first line of what was answered."""
    DETAIL = "detail"
    REMARK = "remark"
    """What was heard, what is missing."""
    CHOICES = "choices"
    """What a question takes for an answer."""


SIZES: Mapping[Role, tuple[float, float, float, float]] = MappingProxyType(
    {
        # 16 minutes of arc is 1.0: the large number has 60 of them at 3.75
        Role.NUMBER: (0.0, 0.0, 3.75, 2.0),
        Role.WAY: (1.9, 1.5, 1.2, 1.0),
        Role.TURNS: (2.0, 1.7, 1.25, 1.0),
        Role.HEADLINE: (4.0, 2.4, 1.5, 1.0),
        Role.SENTENCE: (2.3, 1.6, 1.2, 1.0),
        Role.CAUTION: (1.4, 1.2, 1.1, 1.0),
        Role.ANSWER: (2.3, 1.6, 1.2, 1.0),
        Role.DETAIL: (1.3, 1.2, 1.1, 1.0),
        Role.REMARK: (1.0, 1.0, 1.0, 1.0),
        Role.CHOICES: (1.8, 1.5, 1.2, 1.0),
    }
)
"""Type size at each degree of tightness, in multiples of the smallest legible type."""

BOLD = frozenset(
    {Role.NUMBER, Role.WAY, Role.TURNS, Role.HEADLINE, Role.CAUTION, Role.ANSWER, Role.CHOICES}
)
NUMBER_SHARES = (0.36, 0.25)
"""Of the window's height: the number at tightness 0 and 1, at least as large as at 2."""
CAPITAL = 0.75
"""Height of a capital or figure as a share of the type size (B612: 1500 of 2000 units)."""


class Sign(StrEnum):
    """What is drawn before a line."""

    NONE = ""
    WAY = "way"
    """The arrow of a move."""
    DISCS = "discs"
    """A disc for each turn."""
    WARNING = "warning"
    BAR = "bar"
    """A bar along the left: what was answered."""


@dataclass(frozen=True, slots=True)
class Need:
    """One line of the page: a paragraph that is broken as its box wants, or the number."""

    role: Role
    text: str
    """For the number: the widest that may stand there, so that its size does not jump."""
    paged: bool = False
    """Whether it may wait its turn, on a leaf of its own."""
    sign: Sign = Sign.NONE
    sign_aspect: float = 1.0
    """Width of the sign by its height."""
    unit: str = ""
    """Of the number."""
    aside: str = ""
    """Stands at the right of the first row, or under the last where it has no room there."""

    @property
    def bold(self) -> bool:
        """Whether it is set bold."""
        return self.role in BOLD


def type_size(role: Role, step: int, small: int, height: int) -> int:
    """Type size in pixels of a role after so many steps of tightness, in a window of that height,
    where `small` is the smallest legible type."""
    sizes = [share * small for share in SIZES[role]]
    if role is Role.NUMBER:
        sizes[0], sizes[1] = (max(sizes[2], share * height / CAPITAL) for share in NUMBER_SHARES)
    whole, rest = divmod(step, STEPS)
    if not rest:
        return round(sizes[whole])
    return round(sizes[whole] + (sizes[whole + 1] - sizes[whole]) * rest / STEPS)
