"""Small grammars for tests of the ear, from lists of sentences."""

from __future__ import annotations

import hashlib

from assistant.spoken import WordAutomaton


def automaton_of(*sentences: str) -> WordAutomaton:
    """The automaton of exactly these sentences: a tree of words."""
    arcs: list[dict[str, int]] = [{}]
    finals = set()
    for sentence in sentences:
        state = 0
        for word in sentence.split():
            if word not in arcs[state]:
                arcs.append({})
                arcs[state][word] = len(arcs) - 1
            state = arcs[state][word]
        finals.add(state)
    name = hashlib.sha256("|".join(sentences).encode()).hexdigest()[:12]
    return WordAutomaton(name, tuple(arcs), frozenset(finals))


def words_in_a_row(words: str, most: int, alone: str = "") -> WordAutomaton:
    """One to `most` of `words` in any order, or one of `alone`."""
    arcs: list[dict[str, int]] = [dict.fromkeys(words.split(), state + 1) for state in range(most)]
    arcs[0] |= dict.fromkeys(alone.split(), most)
    arcs.append({})
    name = hashlib.sha256(f"{words}|{most}|{alone}".encode()).hexdigest()[:12]
    return WordAutomaton(name, tuple(arcs), frozenset(range(1, most + 1)))
