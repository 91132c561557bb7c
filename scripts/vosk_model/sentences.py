"""What the training voices say: the phrase book in every step, free numbers, other words.

Which sentences are kept for tests is decided by their words alone, so that no voice ever says one
of them in training. Fixed commands can't be kept back: there a test is made by voices.
"""

from __future__ import annotations

import hashlib
import random
from collections import Counter
from collections.abc import Iterator, Sequence
from functools import cache

from assistant.phrases.book import FREE_NUMBER, PhraseBook
from assistant.phrases.compiler import compile_grammar
from assistant.phrases.words import ONES, TEENS, TENS
from assistant.spoken import WordAutomaton

Sentence = tuple[str, ...]

FEW = 400
"""A command with no more sentences than this is said in all of them; others are drawn from."""
LONGEST = 9
"""Words of a drawn sentence: a size that takes more than this is not said in a shop."""
TRIES = 100
"""Walks for one sentence, and for each clip that a word is wanted in."""
KEPT_BACK = 12
"""One in so many drawn sentences is never said in training."""


def grammars(book: PhraseBook) -> dict[str, WordAutomaton]:
    """One grammar for each command of the book that can be spoken, asked for and not."""
    found = {
        expected.intent: compile_grammar(book, (expected,))
        for expected in (*book.expected(), *FREE_NUMBER)
    }
    return {name: grammar for name, grammar in found.items() if grammar.sentence_count}


def whole(book: PhraseBook) -> WordAutomaton:
    """Everything that the book holds in one grammar, free numbers too."""
    return compile_grammar(book, (*book.expected(), *FREE_NUMBER))


def vocabulary(book: PhraseBook) -> frozenset[str]:
    """All words of the book."""
    return frozenset().union(*(grammar.vocabulary for grammar in grammars(book).values()))


def kept_back(sentence: Sentence) -> bool:
    """Whether a drawn sentence is for tests alone."""
    digest = hashlib.sha256(" ".join(sentence).encode()).digest()
    return len(sentence) > 2 and digest[0] % KEPT_BACK == 0


def fixed(book: PhraseBook) -> dict[str, list[Sentence]]:
    """Every sentence of the commands that carry no size, by command."""
    return {
        name: sorted(set(grammar.sentences()))
        for name, grammar in sorted(grammars(book).items())
        if grammar.sentence_count <= FEW
    }


def wordings(book: PhraseBook) -> list[Sentence]:
    """Every sentence of the commands that carry no size."""
    return sorted(set().union(*fixed(book).values()))


def drawn(book: PhraseBook, rng: random.Random) -> Iterator[Sentence]:
    """Sentences with sizes, without end: a walk through a command's grammar, then figures.

    A walk takes each next word with the same chance. So short and long forms both come up, where
    drawing among whole sentences would give the longest nearly always.
    """
    open_ended = [g for g in grammars(book).values() if g.sentence_count > FEW]
    while True:
        sentence = walk(rng.choice(open_ended), rng)
        if sentence:
            yield sentence
        yield figures(rng)


def walk(grammar: WordAutomaton, rng: random.Random, wanted: str = "") -> Sentence:
    """A random sentence of `grammar` of at most `LONGEST` words; with the word `wanted` in it,
    which the grammar must have. Empty where `TRIES` walks found none so short."""
    leading = _leading(grammar, wanted) if wanted else frozenset()
    for _ in range(TRIES):
        state, missing = 0, bool(wanted)
        words: list[str] = []
        while len(words) <= LONGEST:
            arcs = grammar.arcs[state]
            if not missing and state in grammar.finals and (not arcs or rng.random() < 0.4):
                return tuple(words)
            open_to = [
                word
                for word in sorted(arcs)
                if not missing or word == wanted or arcs[word] in leading
            ]
            if not open_to:
                break
            word = rng.choice(open_to)
            missing = missing and word != wanted
            words.append(word)
            state = arcs[word]
    return ()


@cache
def _leading(grammar: WordAutomaton, word: str) -> frozenset[int]:
    """States from which `word` can still come."""
    before: dict[int, set[int]] = {}
    for state, arcs in enumerate(grammar.arcs):
        for following in arcs.values():
            before.setdefault(following, set()).add(state)
    found: set[int] = set()
    todo = [state for state, arcs in enumerate(grammar.arcs) if word in arcs]
    while todo:
        state = todo.pop()
        if state not in found:
            found.add(state)
            todo += before.get(state, ())
    return frozenset(found)


def of_each_word(
    book: PhraseBook, rng: random.Random, least: int, said: Counter[str]
) -> list[Sentence]:
    """Sentences with the words of the book that stand in less than `least` sentences of `said`,
    until they do: a free walk meets many a word once in thousands of sentences."""
    having = [grammar for _, grammar in sorted(grammars(book).items())]
    counts = said.copy()
    found: list[Sentence] = []
    for word in sorted(vocabulary(book)):
        by = [grammar for grammar in having if word in grammar.vocabulary]
        for _ in range(least * TRIES):
            if counts[word] >= least:
                break
            grammar = rng.choice(by)
            sentence = walk(grammar, rng, word)
            if sentence and (grammar.sentence_count <= FEW or not kept_back(sentence)):
                found.append(sentence)
                counts.update(set(sentence))
    return found


def figures(rng: random.Random) -> Sentence:
    """A string of figures as people read them out: one by one, in pairs, mixed."""
    ones, teens, tens = (list(table) for table in (ONES, TEENS, TENS))
    words: list[str] = []
    for _ in range(rng.randint(1, 8)):
        kind = rng.random()
        if kind < 0.62:
            words.append(rng.choice([*ones, *ones, "oh", "zero", "nought"]))
        elif kind < 0.74:
            words.append(rng.choice(teens))
        elif kind < 0.92:
            words.append(rng.choice(tens))
            if rng.random() < 0.7:
                words.append(rng.choice(ones))
        else:
            words += ["point", rng.choice([*ones, "oh", "zero"])]
    return tuple(words)


def contrasts(rng: random.Random) -> Iterator[Sentence]:
    """Figures with a teen or a ten among them, mostly last, without end.

    Fifteen and fifty differ in one weak syllable; at the end of a sentence it is all but lost.
    """
    while True:
        told = rng.choice([*TEENS, *TENS])
        before = figures(rng)[: rng.randint(0, 3)]
        after = figures(rng)[: rng.choice((0, 0, 0, 1, 2))]
        sentence = (*before, told, *after)
        if sentence[-1] != "point":
            yield sentence


def other_words(words: Sequence[str], rng: random.Random) -> Iterator[Sentence]:
    """Words of everyday English in no order, without end: sounds in other surroundings."""
    while True:
        yield tuple(rng.choice(words) for _ in range(rng.randint(2, 5)))


def balanced(source: Iterator[Sentence], count: int, least: int) -> list[Sentence]:
    """`count` sentences of `source` for training, in which rare words come up more often.

    A sentence is taken if one of its words has come up less than `least` times, or by turn.
    """
    seen: Counter[str] = Counter()
    taken: list[Sentence] = []
    passed: list[Sentence] = []
    for _ in range(count * 6):
        if len(taken) >= count:
            break
        sentence = next(source)
        if kept_back(sentence):
            continue
        if min(seen[word] for word in sentence) < least:
            taken.append(sentence)
            seen.update(sentence)
        else:
            passed.append(sentence)
    return taken + passed[: count - len(taken)]
