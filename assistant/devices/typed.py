"""Typed words: commands from the keyboard or a script, heard exactly as they stand."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from assistant.ports import Clock
from assistant.spoken import Heard

ENGINE = "typed"
LONGEST = 500
"""Characters of a line that are looked at."""

_UNSAID = re.compile(r"[^\w'/.\-½¼¾]+|(?<![\w])[./'\-]+(?![.\d])|(?<=\w)[./'\-]+(?!\w)")
"""What is not said: other signs anywhere; these before a word (but not before a number, where
`.375` is not `375`) and after one."""


def typed_words(line: str) -> str:
    """A typed line as the phrase book has it: lower case, single spaces, no punctuation.

    A full stop or hyphen stays in a number or word (`0.375`, `.5`, `forty-one`), not around it.
    """
    return " ".join(_UNSAID.sub(" ", line[:LONGEST].casefold()).split())


class TypedWords:
    """Lines of text as things heard; empty lines are skipped. Ends with the lines."""

    name = ENGINE

    def __init__(self, lines: Iterable[str], clock: Clock) -> None:
        self._lines = lines
        self._clock = clock

    def __iter__(self) -> Iterator[Heard]:
        for line in self._lines:
            words = typed_words(line)
            if words:
                now = self._clock.monotonic()
                yield Heard(words, 1.0, now, now, engine=ENGINE)
