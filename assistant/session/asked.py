"""What answers an open question: yes, no, or the same thing told anew."""

from __future__ import annotations

from assistant.replacing import replace
from assistant.session.state import Question
from assistant.spoken import Intent, Reason

SAME_THING = (frozenset({"measured", "over_under"}), frozenset({"paper", "bare"}))
"""Commands that tell the same in different ways."""


def is_answer(question: Question, intent: Intent) -> bool:
    """Whether a command answers: by yes or no, or by telling the same thing anew."""
    if intent.name == "yes":
        return not names_both(question)
    return intent.name == "no" or tells_the_same(question.candidate, intent)


def names_both(question: Question) -> bool:
    """Whether it names two numbers: then one of them has to be said again."""
    return question.reason == Reason.SCALE.value


def tells_the_same(candidate: Intent | None, intent: Intent) -> bool:
    """Whether a command tells another value, or the same, for what is asked back."""
    if candidate is None:
        return False
    names = {candidate.name, intent.name}
    return intent.name in ("correct", candidate.name) or any(names <= same for same in SAME_THING)


def answer_of(question: Question, intent: Intent) -> Intent | None:
    """The intent that an answer comes to; None for no."""
    candidate = question.candidate
    if candidate is None or intent.name == "no":
        return None
    if intent.name == "yes":
        return candidate
    if intent.name == "correct" or (intent.name == candidate.name and intent.has_number):
        return corrected(candidate, intent)
    return intent  # told in another way, or without its number


def corrected(candidate: Intent, intent: Intent) -> Intent:
    """The candidate with the values that were told anew; an axis that was named stays named.

    A dial reading told anew is told whole: turns and side of the misheard one go with it.
    """
    told = dict(intent.slots)
    kept = {
        name: value
        for name, value in candidate.slots
        if not (name in ("turns", "side") and "reading" in told)
    }
    return replace(candidate, slots=tuple((kept | told).items()))
