"""How the model may write the words of a grammar: as they are, and as they sound."""

from __future__ import annotations

import tomllib
from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from enum import IntEnum
from functools import cache
from importlib.resources import files

from assistant.devices.moonshine.tokenizer import SPACE

Words = tuple[str, ...]


class Mode(IntEnum):
    """What the text ended with: decides how the next word may be written."""

    START = 0
    """Nothing yet: a capital follows."""
    WORD = 1
    """A word: a space follows."""
    NUMBER = 2
    """A number word: a hyphen may follow, as in twenty-five."""
    COMMA = 3
    """A comma: a space follows, and no second comma."""
    STOP = 4
    """A full stop in the middle, as after a pause: a capital may follow."""


@dataclass(frozen=True, slots=True)
class Form:
    """One way to write some words."""

    words: Words
    text: str
    """With `▁` for a space."""
    leaves: Mode
    """What the text then ends with."""


class Spellings:
    """The forms of every word, made from the tables of the data file."""

    def __init__(self, sounds: Mapping[str, Collection[str]], numbers: Collection[str]) -> None:
        """`sounds`: a word, or several with spaces, to what may be written for it; `numbers`:
        words that a hyphen may join."""
        self._numbers = frozenset(numbers)
        self._sounds: dict[str, list[tuple[Words, str]]] = defaultdict(list)
        for phrase, texts in sounds.items():
            words = tuple(phrase.split())
            self._sounds[words[0]] += [(words, text.replace(" ", SPACE)) for text in texts]

    def plus(self, sounds: Mapping[str, Collection[str]]) -> Spellings:
        """These and more sounds."""
        more = Spellings(sounds, self._numbers)
        for word, known in self._sounds.items():
            more._sounds[word] = [*known, *more._sounds[word]]
        return more

    def starts(self, word: str, mode: Mode) -> Iterator[Form]:
        """Every form that begins with `word`, as it may be written after `mode`.

        Forms of several words begin with it; whether the grammar goes on with the others is
        for the caller to find out.
        """
        for words, text in (((word,), word), *self._sounds.get(word, ())):
            leaves = Mode.NUMBER if words[-1] in self._numbers else Mode.WORD
            if mode in (Mode.START, Mode.STOP):
                yield Form(words, SPACE + text[0].upper() + text[1:], leaves)
            if mode != Mode.START:
                yield Form(words, SPACE + text, leaves)
            if mode == Mode.NUMBER and word in self._numbers:
                yield Form(words, "-" + text, leaves)


@cache
def load_spellings() -> Spellings:
    """What is shipped in `spellings.toml`."""
    text = (files("assistant.devices.moonshine") / "spellings.toml").read_text("utf-8")
    data = tomllib.loads(text)
    return Spellings(data["sounds"], data["numbers"]["words"])
