"""The tree of a phrase: one tree says what may be heard, and reads what was heard.

A template of the phrase book and a way of saying a number are both such trees. The compiler builds
the ear's automaton from the tree (`acyclic.build`) and the matcher reads with it (`Node.read`), so
that a sentence the ear may hear can always be read.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import Any

Values = tuple[Any, ...]
Parse = tuple[int, Values]
"""Where a reading ends, and the values of its words."""


class Sentence(tuple[str, ...]):
    """The words to read, with what was read of them so far: many ways to say a size begin alike."""

    memo: dict[tuple[Node, int], list[Parse]]

    def __new__(cls, words: Iterable[str]) -> Sentence:
        sentence = super().__new__(cls, words)
        sentence.memo = {}
        return sentence


class Node:
    """A part of a phrase. Nodes are immutable and compared by identity."""

    @property
    def first(self) -> frozenset[str]:
        """The words that can begin it."""
        raise NotImplementedError

    @property
    def blank(self) -> bool:
        """Whether it may be said with no word at all."""
        raise NotImplementedError

    def read(self, words: Sentence, at: int) -> list[Parse]:
        """Every way to read `words` from `at` on."""
        raise NotImplementedError


@dataclass(frozen=True, eq=False)
class Word(Node):
    """One word; stands for `values` in what is read, often for none."""

    text: str
    values: Values = ()

    @cached_property
    def first(self) -> frozenset[str]:
        return frozenset((self.text,))

    @property
    def blank(self) -> bool:
        return False

    def read(self, words: Sentence, at: int) -> list[Parse]:
        if at < len(words) and words[at] == self.text:
            return [(at + 1, self.values)]
        return []


@dataclass(frozen=True, eq=False)
class Run(Node):
    """Parts said one after the other; with no parts, nothing said."""

    parts: tuple[Node, ...]

    @cached_property
    def first(self) -> frozenset[str]:
        words: frozenset[str] = frozenset()
        for part in self.parts:
            words |= part.first
            if not part.blank:
                break
        return words

    @cached_property
    def blank(self) -> bool:
        return all(part.blank for part in self.parts)

    def read(self, words: Sentence, at: int) -> list[Parse]:
        found: list[Parse] = [(at, ())]
        for part in self.parts:
            found = [
                (end, values + more)
                for begin, values in found
                for end, more in part.read(words, begin)
            ]
            if not found:
                break
        return found


@dataclass(frozen=True, eq=False)
class Choice(Node):
    """One of several options, the likeliest first."""

    options: tuple[Node, ...]

    @cached_property
    def first(self) -> frozenset[str]:
        return frozenset().union(*(option.first for option in self.options))

    @cached_property
    def blank(self) -> bool:
        return any(option.blank for option in self.options)

    @cached_property
    def _by_word(self) -> dict[str, tuple[Node, ...]]:
        return {
            word: tuple(o for o in self.options if word in o.first or o.blank)
            for word in self.first
        }

    @cached_property
    def _blank_options(self) -> tuple[Node, ...]:
        return tuple(option for option in self.options if option.blank)

    def read(self, words: Sentence, at: int) -> list[Parse]:
        key = (self, at)
        known = words.memo.get(key)
        if known is None:
            options = self._blank_options
            if at < len(words):
                options = self._by_word.get(words[at], options)
            known = [parse for option in options for parse in option.read(words, at)]
            words.memo[key] = known
        return known


@dataclass(frozen=True, eq=False)
class Meaning(Node):
    """A part whose words together stand for one value.

    `make` gets the values of the words of `body` and must take every sentence of it: a phrase
    that may be heard but not read would be a trap.
    """

    body: Node
    make: Callable[..., Any]

    @property
    def first(self) -> frozenset[str]:
        return self.body.first

    @property
    def blank(self) -> bool:
        return self.body.blank

    def read(self, words: Sentence, at: int) -> list[Parse]:
        key = (self, at)
        known = words.memo.get(key)
        if known is None:
            known = [(end, (self.make(*values),)) for end, values in self.body.read(words, at)]
            words.memo[key] = known
        return known


@dataclass(frozen=True, eq=False)
class Blank(Node):
    """A slot not filled yet: `{size}`. Replaced by `bind` before anything is read or built."""

    slot: str
    values: str
    """The list of the phrase book that it is filled from; the slot's own name as a rule."""

    @property
    def first(self) -> frozenset[str]:
        raise TypeError(f"slot {self.slot} is not bound")

    @property
    def blank(self) -> bool:
        return False


@dataclass(frozen=True, eq=False)
class Rest(Node):
    """All words that follow, one at least (a typed note); never in an ear's grammar."""

    @property
    def first(self) -> frozenset[str]:
        return frozenset()

    @property
    def blank(self) -> bool:
        return True  # so that no index by first word leaves it out

    def read(self, words: Sentence, at: int) -> list[Parse]:
        return [(len(words), (at,))] if at < len(words) else []


@dataclass(frozen=True, eq=False)
class Typed(Node):
    """A part that is read, but never in an ear's grammar: no ear tells it from another."""

    body: Node

    @property
    def first(self) -> frozenset[str]:
        return self.body.first

    @property
    def blank(self) -> bool:
        return self.body.blank

    def read(self, words: Sentence, at: int) -> list[Parse]:
        return self.body.read(words, at)


NOTHING = Run(())


def either(*options: Node | str) -> Node:
    """One of `options`; a string is words one after the other."""
    nodes = tuple(_node(option) for option in options)
    return nodes[0] if len(nodes) == 1 else Choice(nodes)


def run(*parts: Node | str) -> Node:
    """`parts` one after the other; a string is words one after the other."""
    nodes = tuple(_node(part) for part in parts)
    return nodes[0] if len(nodes) == 1 else Run(nodes)


def maybe(*parts: Node | str) -> Node:
    """`parts`, or nothing."""
    return Choice((run(*parts), NOTHING))


def table(words: dict[str, Any]) -> Node:
    """One of the words of a table, standing for its value."""
    return Choice(tuple(_phrase(text, (value,)) for text, value in words.items()))


def _node(part: Node | str) -> Node:
    return _phrase(part, ()) if isinstance(part, str) else part


def _phrase(text: str, values: Values) -> Node:
    *before, last = text.split()
    nodes = (*(Word(word) for word in before), Word(last, values))
    return nodes[0] if len(nodes) == 1 else Run(nodes)


def bind(node: Node, fill: Callable[[Blank], Node | None]) -> Node | None:
    """`node` with its slots filled; None where a slot that must be said has no filling.

    An option that needs a slot without a filling is left out, so that `the [{axis}] dial` can be
    used where no axis is asked for.
    """
    match node:
        case Blank():
            return fill(node)
        case Run(parts):
            bound = [bind(part, fill) for part in parts]
            return None if None in bound else Run(tuple(part for part in bound if part))
        case Choice(options):
            kept = tuple(o for o in (bind(option, fill) for option in options) if o is not None)
            return Choice(kept) if kept else None
        case Meaning(body, make):
            inner = bind(body, fill)
            return None if inner is None else Meaning(inner, make)
        case _:
            return node


def blanks(node: Node) -> frozenset[tuple[str, str]]:
    """The slots of a tree, each with the list it is filled from."""
    match node:
        case Blank(slot, values):
            return frozenset(((slot, values),))
        case Run(parts) | Choice(parts):
            return frozenset().union(*(blanks(part) for part in parts))
        case Meaning(body, _):
            return blanks(body)
        case _:
            return frozenset()
