"""Tries of pieces: what the model may write next from a state of the grammar."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from assistant.devices.moonshine.spellings import Mode, Spellings, Words
from assistant.devices.moonshine.tokenizer import Tokenizer
from assistant.spoken import WordAutomaton


@dataclass(frozen=True, slots=True)
class Arrival:
    """Words that end at a node of a trie."""

    words: Words
    state: int
    """The grammar's state after them."""
    mode: Mode


@dataclass(slots=True)
class Node:
    """A place inside a trie; its root is where a word begins."""

    children: dict[int, Node] = field(default_factory=dict)
    arrivals: list[Arrival] = field(default_factory=list)
    _pieces: NDArray[np.int64] | None = None

    @property
    def pieces(self) -> NDArray[np.int64]:
        """The pieces that lead on from here, in the order of `children`."""
        if self._pieces is None:
            self._pieces = np.fromiter(self.children, np.int64, len(self.children))
        return self._pieces


class Tries:
    """The tries of one grammar, each made when it is first needed and then kept."""

    def __init__(self, grammar: WordAutomaton, tokenizer: Tokenizer, spellings: Spellings) -> None:
        self.grammar = grammar
        self._tokenizer = tokenizer
        self._spellings = spellings
        self._roots: dict[tuple[int, Mode], Node] = {}

    def root(self, state: int, mode: Mode) -> Node:
        """The trie of the words that the grammar allows in `state`, written as after `mode`."""
        key = (state, Mode.WORD if mode is Mode.COMMA else mode)
        root = self._roots.get(key)
        if root is None:
            root = self._roots[key] = self._build(*key)
        return root

    def _build(self, state: int, mode: Mode) -> Node:
        root = Node()
        for word in self.grammar.arcs[state]:
            for form in self._spellings.starts(word, mode):
                following = self._walk(state, form.words)
                if following is None:
                    continue
                node = root
                for piece in self._tokenizer.encode(form.text):
                    node = node.children.setdefault(piece, Node())
                node.arrivals.append(Arrival(form.words, following, form.leaves))
        return root

    def _walk(self, state: int, words: Words) -> int | None:
        following: int | None = state
        for word in words:
            following = self.grammar.arcs[following].get(word) if following is not None else None
        return following
