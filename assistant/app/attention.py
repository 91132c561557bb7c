"""Whether a word can be the attention word: one that the ear tells apart from all else."""

from __future__ import annotations

import re

from assistant.errors import BadInput
from assistant.phrases.book import PhraseBook
from assistant.phrases.compiler import compile_grammar
from assistant.phrases.words import normal

MOST_WORDS = 2
LEAST_SYLLABLES = 2
NEAREST = 0.72
"""Nearness in sound, 0 to 1, from which on a word of the book could be taken for it: tried on
words of every day, of which "paprika" lies under it, "pepper", "turnip" and "setter" above."""
SUGGESTIONS = ("clipboard", "teapot", "lantern", "basement", "coffee cup")
"""Each was heard right and surely in 16 of 16 calls of four synthetic voices, alone and before
commands of the whole book."""


def check_attention(word: str, book: PhraseBook) -> str:
    """The word as it is heard. Raises `BadInput` that says what is wrong with it."""
    said = normal(word)
    why = _trouble(said, book)
    if why:
        want = f"{why}; good ones are {', '.join(SUGGESTIONS)}"
        raise BadInput("attention word", word, want)
    return said


def _trouble(said: str, book: PhraseBook) -> str:
    # the ear's package brings its decoder along, which the program itself has no use for
    from assistant.devices.moonshine.confidence import syllables
    from assistant.devices.moonshine.nearness import nearness

    words = said.split()
    if not words or not re.fullmatch("[a-z' ]+", said):
        return "wanted a word in letters"
    if words[0] in ("hey", "hi", "hello", "ok", "okay"):
        return "wanted a word of your own, without a greeting"
    if len(words) > MOST_WORDS:
        return f"wanted {MOST_WORDS} words at most, since it comes before every command"
    if syllables(said) < LEAST_SYLLABLES:
        return "too short to be told from a noise: wanted two syllables or more"
    known = compile_grammar(book, book.expected()).vocabulary
    for each in words:
        if each in known:
            return f"{each!r} is said in commands"
    near = max(known, key=lambda other: nearness(said, other))
    if nearness(said, near) >= NEAREST:
        return f"it sounds too much like {near!r}, which is said in commands"
    return ""
