"""Acyclic automata over words, deterministic and minimal by construction.

A state is its arcs and whether a sentence may end there; states with the same content are one
state (as in a reduced decision diagram). A tree is built from its end to its beginning, so that
every phrase that ends with the same size shares the states of that size, and so do the grammars of
all steps: a changed step costs only what is new in it.

The theory: J. Daciuk et al., "Incremental construction of minimal acyclic finite-state automata",
Computational Linguistics 26 (2000), from memory; here states are interned rather than registered.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable

from assistant.phrases.expression import Choice, Meaning, Node, Rest, Run, Typed, Word
from assistant.spoken import WordAutomaton

State = int
_Content = tuple[bool, frozenset[tuple[str, State]]]


class StateStore:
    """States by content. Grows with the grammars built in it; not safe to share by threads."""

    def __init__(self) -> None:
        self._contents: list[_Content] = []
        self._states: dict[_Content, State] = {}
        self._unions: dict[frozenset[State], State] = {}
        self._builds: dict[tuple[int, State], State] = {}
        self._kept: list[Node] = []
        self.dead = 0
        """No sentence at all; no arc leads here, so that no ear runs into a dead end."""
        self._contents.append((False, frozenset()))
        self._states[self._contents[0]] = self.dead
        self.end = self._state(True, {})
        """The sentence ends here."""

    def __len__(self) -> int:
        return len(self._contents)

    def _state(self, final: bool, arcs: dict[str, State]) -> State:
        content = (final, frozenset(arc for arc in arcs.items() if arc[1] != self.dead))
        known = self._states.get(content)
        if known is None:
            known = self._states[content] = len(self._contents)
            self._contents.append(content)
        return known

    def union(self, states: Iterable[State]) -> State:
        """The sentences of all of them."""
        distinct = frozenset(states) - {self.dead}
        if len(distinct) < 2:
            return next(iter(distinct), self.dead)
        known = self._unions.get(distinct)
        if known is None:
            final = False
            arcs: dict[str, set[State]] = {}
            for state in distinct:
                ends, outgoing = self._contents[state]
                final = final or ends
                for word, following in outgoing:
                    arcs.setdefault(word, set()).add(following)
            merged = {word: self.union(followings) for word, followings in arcs.items()}
            known = self._unions[distinct] = self._state(final, merged)
        return known

    def build(self, node: Node, tail: State) -> State:
        """The state from which `node` can be said, and then what `tail` says."""
        if isinstance(node, Word):
            return self._state(False, {node.text: tail})
        key = (id(node), tail)
        known = self._builds.get(key)
        if known is None:
            known = self._builds[key] = self._build(node, tail)
            self._kept.append(node)  # an id is only good while its node lives
        return known

    def _build(self, node: Node, tail: State) -> State:
        match node:
            case Run(parts):
                for part in reversed(parts):
                    tail = self.build(part, tail)
                return tail
            case Choice(options):
                return self.union(self.build(option, tail) for option in options)
            case Meaning(body, _):
                return self.build(body, tail)
            case Rest() | Typed():
                return self.dead
            case _:
                raise TypeError(f"no automaton can be built from {node!r}")

    def automaton(self, start: State) -> WordAutomaton:
        """The automaton that begins at `start`; its id is a hash of its content."""
        numbers = {start: 0}
        order = [start]
        digest = hashlib.sha256()
        arcs: list[dict[str, int]] = []
        finals: set[int] = set()
        for state in order:  # grows as it is walked
            final, outgoing = self._contents[state]
            mine: dict[str, int] = {}
            for word, following in sorted(outgoing):
                number = numbers.get(following)
                if number is None:
                    number = numbers[following] = len(order)
                    order.append(following)
                mine[word] = number
            if final:
                finals.add(len(arcs))
            digest.update(f"{final} {mine}\n".encode())
            arcs.append(mine)
        return WordAutomaton(digest.hexdigest()[:16], tuple(arcs), frozenset(finals))
