"""Fractions of a rule and moves of a dividing head in words."""

from __future__ import annotations

import re
from decimal import Decimal

from assistant.jobs.steps import Index
from assistant.phrases import saying
from assistant.phrases.typed import fraction_words

_FRACTION = re.compile(r"(?<![\w./-])(?:(\d+)-)?(\d+)/(\d+)(?![\w/]|\.\d)")


def fractions_in_words(text: str) -> str:
    """`27/64 drill` as `twenty seven sixty fourths drill`: no voice reads the figures right."""
    return _FRACTION.sub(_fraction_words, text)


def _fraction_words(found: re.Match[str]) -> str:
    words = fraction_words(int(found[2]), int(found[3]))
    if not words:
        return found[0]
    before = found.string[: found.start()]
    if words[0] in ("a", "an") and before.endswith(("the ", "The ")):
        words = words[1:]  # "the eighth drill"
    units = f"{saying.say_plain(Decimal(found[1]))} and " if found[1] else ""
    text = units + " ".join(words)
    begins = not before or before.endswith((". ", "? "))
    return text[0].upper() + text[1:] if begins else text


def index_sentence(step: Index) -> str:
    """One move of a dividing head: `Five turns and fifteen holes on the twenty-one circle.`"""
    turns = saying.say_turns(step.turns) if step.turns else ""
    if not step.circle:
        return _full(turns)
    hole = "hole" if step.holes == 1 else "holes"
    holes = f"{saying.say_plain(Decimal(step.holes))} {hole}"
    circle = saying.say_plain(Decimal(step.circle))
    return _full(f"{turns} and {holes}" if turns else holes)[:-1] + f" on the {circle} circle."


def _full(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}."
