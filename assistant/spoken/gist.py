"""What a sentence comes down to: the same for sentences that can't mean different things."""

from __future__ import annotations

import tomllib
from collections.abc import Collection, Mapping
from functools import cache
from importlib.resources import files

from assistant.spoken.written import written


class Gist:
    """Tells sentences that differ only in words of no weight from those that mean another thing.

    "Measured the six twenty five" and "measure six two five" are one hearing; the ear is only
    unsure where two sentences differ in gist. The tables are in `gist.toml`.
    """

    def __init__(self, fillers: Collection[str], same: Mapping[str, Collection[str]]) -> None:
        self._fillers = frozenset(fillers)
        self._same = {other: word for word, others in same.items() for other in others}

    def __call__(self, words: str) -> str:
        return written(self.as_said(words))

    def as_said(self, words: str) -> str:
        """The words of weight with the numbers as they were said: "four two" is no "forty two".
        A sentence of fillers alone ("is it") is its own gist."""
        kept = [self._same.get(word, word) for word in words.split() if word not in self._fillers]
        return " ".join(kept or words.split())


@cache
def load_gist() -> Gist:
    """What is shipped in `gist.toml`."""
    data = tomllib.loads((files("assistant.spoken") / "gist.toml").read_text("utf-8"))
    return Gist(data["fillers"], data["same"])
