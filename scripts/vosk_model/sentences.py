"""What the training voices say: the phrase book in every step, free numbers, other words.

Which sentences are kept for tests is decided by their words alone, so that no voice ever says one
of them in training. Fixed commands can't be kept back: there a test is made by voices.
"""

from __future__ import annotations

import hashlib
import random
from collections import Counter
from collections.abc import Iterator, Sequence

from assistant.phrases.book import FREE_NUMBER, PhraseBook
from assistant.phrases.compiler import compile_grammar
from assistant.phrases.words import ONES, TEENS, TENS
from assistant.spoken import WordAutomaton

Sentence = tuple[str, ...]

FEW = 400
"""A command with no more sentences than this is said in all of them; others are drawn from."""
LONGEST = 9
"""Words of a drawn sentence: a size that takes more than this is not said in a shop."""
KEPT_BACK = 12
"""One in so many drawn sentences is never said in training."""


def grammars(book: PhraseBook) -> dict[str, WordAutomaton]:
    """One grammar for each command of the book that can be spoken, asked for and not."""
    found = {
        expected.intent: compile_grammar(book, (expected,))
        for expected in (*book.expected(), *FREE_NUMBER)
    }
    return {name: grammar for name, grammar in found.items() if grammar.sentence_count}


def vocabulary(book: PhraseBook) -> frozenset[str]:
    """All words of the book."""
    return frozenset().union(*(grammar.vocabulary for grammar in grammars(book).values()))


def kept_back(sentence: Sentence) -> bool:
    """Whether a drawn sentence is for tests alone."""
    digest = hashlib.sha256(" ".join(sentence).encode()).digest()
    return len(sentence) > 2 and digest[0] % KEPT_BACK == 0


def fixed(book: PhraseBook) -> list[Sentence]:
    """Every sentence of the commands that carry no size."""
    return sorted(
        {
            sentence
            for grammar in grammars(book).values()
            if grammar.sentence_count <= FEW
            for sentence in grammar.sentences()
        }
    )


def drawn(book: PhraseBook, rng: random.Random) -> Iterator[Sentence]:
    """Sentences with sizes, without end: a walk through a command's grammar, then figures.

    A walk takes each next word with the same chance. So short and long forms both come up, where
    drawing among whole sentences would give the longest nearly always.
    """
    open_ended = [g for g in grammars(book).values() if g.sentence_count > FEW]
    while True:
        yield walk(rng.choice(open_ended), rng)
        yield figures(rng)


def walk(grammar: WordAutomaton, rng: random.Random) -> Sentence:
    """A random sentence of `grammar` of at most `LONGEST` words."""
    while True:
        state = 0
        words: list[str] = []
        while len(words) <= LONGEST:
            arcs = grammar.arcs[state]
            if state in grammar.finals and (not arcs or rng.random() < 0.4):
                return tuple(words)
            if not arcs:
                break
            word = rng.choice(sorted(arcs))
            words.append(word)
            state = arcs[word]


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
