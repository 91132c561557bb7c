"""Grammars that begin with a word, or hold a few commands alone."""

from __future__ import annotations

import random

import pytest

from assistant.phrases.book import load_book
from assistant.phrases.compiler import compile_grammar
from assistant.phrases.held import called, called_or_not, only
from tests.automata import automaton_of

GRAMMAR = automaton_of("touched", "three thou", "three", "stop", "say again")
WORD = ("clipboard",)
TWO = ("lunch", "box")


def sentences(grammar: object) -> set[str]:
    return {" ".join(words) for words in grammar.sentences()}  # type: ignore[attr-defined]


@pytest.mark.parametrize("word", [WORD, TWO])
def test_called_is_the_word_before_every_sentence_or_alone(word: tuple[str, ...]) -> None:
    made = called(GRAMMAR, word, ("stop",))
    before = " ".join(word)
    assert sentences(made) == {
        before,
        "stop",
        *(f"{before} {sentence}" for sentence in sentences(GRAMMAR)),
    }
    assert made.can_go_on(word)
    assert not made.can_go_on(["stop"])


def test_only_commands_of_the_grammar_go_without_the_word() -> None:
    assert sentences(called(GRAMMAR, WORD, ("listen", "stop"))) - {"stop"} == {
        "clipboard",
        *(f"clipboard {sentence}" for sentence in sentences(GRAMMAR)),
    }


@pytest.mark.parametrize("word", [WORD, TWO])
def test_called_or_not_holds_both(word: tuple[str, ...]) -> None:
    before = " ".join(word)
    assert sentences(called_or_not(GRAMMAR, word)) == {
        before,
        *sentences(GRAMMAR),
        *(f"{before} {sentence}" for sentence in sentences(GRAMMAR)),
    }


def test_a_word_that_begins_a_sentence_is_then_wanted() -> None:
    """It can't be told whether it was the call: so only what is surely called counts."""
    made = called_or_not(GRAMMAR, ("say",))
    assert not made.accepts(["say", "again"])
    assert made.accepts(["say", "say", "again"])
    assert called(GRAMMAR, ("stop",), ("stop",)).accepts(["stop", "stop"])


def test_no_word_is_no_call() -> None:
    with pytest.raises(ValueError, match="no word"):
        called(GRAMMAR, ())


def test_only_is_what_it_says() -> None:
    assert sentences(only(GRAMMAR, ("stop", "listen"))) == {"stop"}
    assert sentences(only(automaton_of("yes"), ("stop",))) == set()


def test_the_whole_book_can_be_called() -> None:
    book = load_book()
    grammar = compile_grammar(book, book.expected())
    made = called(grammar, WORD, ("stop",))
    assert made.sentence_count == grammar.sentence_count + 2
    rng = random.Random(1)
    for _ in range(50):
        words = grammar.sample(rng)
        assert made.accepts((*WORD, *words))
        assert not made.accepts(words) or words == ("stop",)
    ids = {grammar.id, made.id, called(grammar, TWO).id, called_or_not(grammar, WORD).id}
    assert len(ids) == 4, "what differs has another id"
