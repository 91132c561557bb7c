"""The closed grammar that an ear is held to: a deterministic automaton over words."""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property


@dataclass(frozen=True, eq=False)
class WordAutomaton:
    """Every word string that may be heard now, and no other.

    State 0 is the start. `arcs[s]` maps a word to the next state; `finals` are the states in
    which a sentence may end. Acyclic, so that the sentences can be counted.
    """

    id: str
    """A hash of the content: two automata with the same sentences and shape share it."""
    arcs: tuple[Mapping[str, int], ...]
    finals: frozenset[int]

    def walk(self, words: Sequence[str]) -> int | None:
        """The state after `words`, or None where no sentence begins so."""
        state = 0
        for word in words:
            following = self.arcs[state].get(word)
            if following is None:
                return None
            state = following
        return state

    def accepts(self, words: Sequence[str]) -> bool:
        """Whether `words` is a whole sentence."""
        return self.walk(words) in self.finals

    def can_go_on(self, words: Sequence[str]) -> bool:
        """Whether a longer sentence begins with `words`: end of speech then waits longer."""
        state = self.walk(words)
        return state is not None and bool(self.arcs[state])

    @cached_property
    def vocabulary(self) -> frozenset[str]:
        """All words of all sentences."""
        return frozenset(word for arcs in self.arcs for word in arcs)

    @cached_property
    def _counts(self) -> tuple[int, ...]:
        counts = [-1] * len(self.arcs)

        def count(state: int) -> int:
            if counts[state] < 0:
                counts[state] = int(state in self.finals) + sum(
                    count(following) for following in self.arcs[state].values()
                )
            return counts[state]

        count(0)
        return tuple(counts)

    @property
    def sentence_count(self) -> int:
        """How many different sentences may be heard."""
        return self._counts[0]

    def sample(self, rng: random.Random) -> tuple[str, ...]:
        """One sentence, all equally likely."""
        state = 0
        words: list[str] = []
        while True:
            pick = rng.randrange(self._counts[state])
            if state in self.finals:
                if pick == 0:
                    return tuple(words)
                pick -= 1
            for word, following in sorted(self.arcs[state].items()):
                if pick < self._counts[following]:
                    words.append(word)
                    state = following
                    break
                pick -= self._counts[following]

    def sentences(self) -> Iterator[tuple[str, ...]]:
        """Every sentence; for small grammars only."""

        def below(state: int, words: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
            if state in self.finals:
                yield words
            for word, following in sorted(self.arcs[state].items()):
                yield from below(following, (*words, word))

        return below(0, ())
