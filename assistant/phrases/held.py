"""Grammars of the ways to listen: a word before every command, or nothing but a few commands.

All are made from the grammar of the step, so that the ear is held to both at once.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from assistant.spoken import WordAutomaton


def called(
    grammar: WordAutomaton, word: Sequence[str], always: Collection[str] = ()
) -> WordAutomaton:
    """`word` and then a sentence of `grammar`, `word` alone, or one of `always` without it.

    `always` are single words; those that aren't sentences of `grammar`, or begin `word`, are left
    out. Raises `ValueError` for no word.
    """
    start: dict[str, int] = {}
    arcs, finals = _with_prefix(grammar, word, start)
    plain = sorted(each for each in always if grammar.accepts([each]) and each != word[0])
    if plain:
        arcs.append({})
        finals.add(len(arcs) - 1)
        start |= dict.fromkeys(plain, len(arcs) - 1)
    name = f"{grammar.id}, called {' '.join(word)}, or {' '.join(plain)}"
    return WordAutomaton(name, tuple(arcs), frozenset(finals))


def called_or_not(grammar: WordAutomaton, word: Sequence[str]) -> WordAutomaton:
    """A sentence of `grammar` with `word` before it or without; only with it where a sentence
    begins with the same word."""
    if word and word[0] in grammar.arcs[0]:
        return called(grammar, word)
    start: dict[str, int] = {}
    arcs, finals = _with_prefix(grammar, word, start)
    shift = len(word)
    start |= {each: after + shift for each, after in grammar.arcs[0].items()}
    return WordAutomaton(
        f"{grammar.id}, called {' '.join(word)} or not", tuple(arcs), frozenset(finals)
    )


def only(grammar: WordAutomaton, always: Collection[str]) -> WordAutomaton:
    """Those of the single words `always` that are sentences of `grammar`, and nothing else."""
    plain = sorted(each for each in always if grammar.accepts([each]))
    arcs: tuple[Mapping[str, int], ...] = (dict.fromkeys(plain, 1), {})
    return WordAutomaton(f"only {' '.join(plain)}", arcs, frozenset({1}))


def _with_prefix(
    grammar: WordAutomaton, word: Sequence[str], start: dict[str, int]
) -> tuple[list[Mapping[str, int]], set[int]]:
    """States: the start, one after each word, the last of which is the start of `grammar`."""
    if not word:
        raise ValueError("no word to stand before the sentences")
    shift = len(word)
    start[word[0]] = 1
    chain: list[Mapping[str, int]] = [
        start, *({following: place + 1} for place, following in enumerate(word[1:], 1)),
    ]  # fmt: skip
    rest = [
        {each: after + shift for each, after in following.items()} for following in grammar.arcs
    ]
    return [*chain, *rest], {shift, *(final + shift for final in grammar.finals)}
