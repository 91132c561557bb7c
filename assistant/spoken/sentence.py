"""What is said aloud: sentences, and what the speech queue may do with each."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Urgency(StrEnum):
    """What the speech queue may do with a sentence."""

    STATUS = "status"
    """Repeatable status: may be dropped when something newer is said."""
    ANSWER = "answer"
    """Read-backs, instructions and answers: never dropped, except by `stop`."""
    CAUTION = "caution"
    """Said first and never dropped."""


@dataclass(frozen=True, slots=True)
class Sentence:
    """One spoken sentence, under about four seconds."""

    text: str
    """Words and digits as the synthesiser should get them."""
    urgency: Urgency = Urgency.ANSWER
