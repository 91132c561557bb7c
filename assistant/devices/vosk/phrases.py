"""A grammar as the list of phrases that Vosk takes at run time.

Vosk makes a model of word pairs from the list. Few sentences are listed as they are. Of many, a
choice is made in which every pair of neighbours occurs: measured on 160 commands of two synthetic
voices, 82 of 100 were heard right so, 76 with a bare list of words and 49 with 2,000 sentences
picked at random (92 where the grammar itself could be put in, see `graph.py`).
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable

from assistant.spoken import WordAutomaton

ALL_SENTENCES = 300
"""Up to so many sentences the list holds every one."""

UNKNOWN_WORDS = ("[unk]", "<unk>", "<UNK>")
"""What models call speech that is none of their words."""


def phrase_list(
    grammar: WordAutomaton, knows: Callable[[str], bool], unknown: str | None
) -> list[str]:
    """Phrases that cover every pair of neighbouring words of `grammar`, and the unknown word.

    Sentences with a word that the model doesn't know are left out: Vosk would drop the word and
    keep the rest.
    """
    known = {word: knows(word) for word in grammar.vocabulary}
    if grammar.sentence_count <= ALL_SENTENCES:
        phrases = [
            " ".join(words) for words in grammar.sentences() if all(known[word] for word in words)
        ]
    else:
        phrases = _covering(grammar, known)
    phrases = [phrase for phrase in phrases if phrase]
    return [*phrases, unknown] if unknown else phrases


def _covering(grammar: WordAutomaton, known: dict[str, bool]) -> list[str]:
    arcs = [{word: after for word, after in row.items() if known[word]} for row in grammar.arcs]
    ends = _steps_to_end(arcs, grammar.finals)
    seen: set[tuple[str, str]] = set()
    phrases = []
    # A place in the grammar is a state and the word that led to it; nearest places first.
    start = (0, "")
    came_from: dict[tuple[int, str], tuple[int, str]] = {}
    waiting = deque([start])
    while waiting:
        place = waiting.popleft()
        state, last = place
        for word, after in arcs[state].items():
            if after not in ends:
                continue
            if (after, word) not in came_from:
                came_from[after, word] = place
                waiting.append((after, word))
            if (last, word) not in seen:
                way = [word]
                before = place
                while before != start:
                    way.append(before[1])
                    before = came_from[before]
                words = [*reversed(way), *_way_out(arcs, ends, after, word, seen)]
                seen.update(zip(["", *words], [*words, ""], strict=True))
                phrases.append(" ".join(words))
    return phrases


def _steps_to_end(arcs: list[dict[str, int]], finals: frozenset[int]) -> dict[int, int]:
    """How many words at least each state is from an end; states that reach none are left out."""
    before: dict[int, set[int]] = {}
    for state, row in enumerate(arcs):
        for after in row.values():
            before.setdefault(after, set()).add(state)
    steps = dict.fromkeys(finals, 0)
    waiting = deque(finals)
    while waiting:
        after = waiting.popleft()
        for state in before.get(after, ()):
            if state not in steps:
                steps[state] = steps[after] + 1
                waiting.append(state)
    return steps


def _way_out(
    arcs: list[dict[str, int]],
    ends: dict[int, int],
    state: int,
    last: str,
    seen: set[tuple[str, str]],
) -> list[str]:
    """The shortest words to an end, by pairs that were not seen yet where there is a choice."""
    words: list[str] = []
    while ends[state]:
        options = [(word, after) for word, after in arcs[state].items() if after in ends]
        last, state = min(options, key=lambda option: (ends[option[1]], (last, option[0]) in seen))
        words.append(last)
    return words
