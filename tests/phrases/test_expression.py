"""One tree, two uses: the automaton built from it accepts exactly what the tree reads."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.phrases.acyclic import StateStore
from assistant.phrases.expression import (
    Blank,
    Choice,
    Meaning,
    Node,
    Rest,
    Run,
    Sentence,
    Word,
    bind,
    blanks,
    maybe,
    run,
)
from assistant.spoken import WordAutomaton

WORDS = ("a", "b", "c")


def sentences(node: Node) -> set[tuple[str, ...]]:
    """The language of a tree, spelled out: what an automaton must accept, worked out simply."""
    match node:
        case Word(text, _):
            return {(text,)}
        case Run(parts):
            return {
                tuple(itertools.chain(*said))
                for said in itertools.product(*(sentences(part) for part in parts))
            }
        case Choice(options):
            return set().union(*(sentences(option) for option in options))
        case Meaning(body, _):
            return sentences(body)
    raise TypeError(node)


trees = st.recursive(
    st.sampled_from(WORDS).map(Word),
    lambda inner: (
        st.lists(inner, max_size=3).map(lambda parts: Run(tuple(parts)))
        | st.lists(inner, min_size=1, max_size=3).map(lambda options: Choice(tuple(options)))
        | inner.map(maybe)
        | inner.map(lambda body: Meaning(body, lambda *values: values))
    ),
    max_leaves=8,
)


def automaton(node: Node) -> WordAutomaton:
    store = StateStore()
    return store.automaton(store.build(node, store.end))


@given(trees)
def test_the_automaton_accepts_what_the_tree_says(tree: Node) -> None:
    said = sentences(tree)
    built = automaton(tree)
    assert set(built.sentences()) == said
    assert built.sentence_count == len(said)


@given(trees)
def test_the_automaton_is_minimal(tree: Node) -> None:
    built = automaton(tree)

    def below(state: int) -> frozenset[tuple[str, ...]]:
        """All that may still be said from a state."""
        ends = {()} if state in built.finals else set()
        return frozenset(ends).union(
            (word, *rest) for word, to in built.arcs[state].items() for rest in below(to)
        )

    languages = [below(state) for state in range(len(built.arcs))]
    assert len(set(languages)) == len(languages)


@given(trees, st.lists(st.sampled_from(WORDS), max_size=6))
def test_the_tree_reads_what_the_automaton_accepts(tree: Node, words: list[str]) -> None:
    read = any(end == len(words) for end, _ in tree.read(Sentence(words), 0))
    assert read == automaton(tree).accepts(words)


@given(trees)
def test_first_words_and_blanks(tree: Node) -> None:
    said = sentences(tree)
    assert tree.blank == (() in said)
    assert tree.first >= {sentence[0] for sentence in said if sentence}


@given(trees, trees)
def test_equal_languages_are_one_state(one: Node, other: Node) -> None:
    store = StateStore()
    same = store.build(one, store.end) == store.build(other, store.end)
    assert same == (sentences(one) == sentences(other))


@given(trees, trees)
def test_content_decides_the_id(one: Node, other: Node) -> None:
    same = automaton(one).id == automaton(other).id
    assert same == (sentences(one) == sentences(other))


def test_values_come_in_the_order_of_the_words() -> None:
    tree = run(Word("a", (1,)), maybe(Word("b", (2,))), Meaning(Word("c", (3,)), lambda n: n * 10))
    assert tree.read(Sentence("abc"), 0) == [(3, (1, 2, 30))]
    assert tree.read(Sentence("ac"), 0) == [(2, (1, 30))]


def test_every_reading_of_ambiguous_words_comes_in_the_order_of_the_options() -> None:
    tree = Choice((Word("a", ("first",)), Word("a", ("second",))))
    assert [values for _, values in tree.read(Sentence("a"), 0)] == [("first",), ("second",)]


def test_binding_fills_slots_and_drops_what_has_no_filling() -> None:
    tree = run(Word("a"), maybe(Blank("x", "x")), Blank("y", "list"))
    assert blanks(tree) == {("x", "x"), ("y", "list")}
    full = bind(tree, lambda blank: Word(blank.slot))
    part = bind(tree, lambda blank: Word("y") if blank.slot == "y" else None)
    assert full is not None
    assert part is not None
    assert sentences(full) == {("a", "x", "y"), ("a", "y")}
    assert sentences(part) == {("a", "y")}
    assert bind(tree, lambda blank: Word("x") if blank.slot == "x" else None) is None


def test_free_text_is_never_in_a_grammar() -> None:
    store = StateStore()
    assert store.build(run(Word("note"), Rest()), store.end) == store.dead
    assert run(Word("note"), Rest()).read(Sentence(("note", "a", "b")), 0) == [(3, (1,))]
    assert run(Word("note"), Rest()).read(Sentence(("note",)), 0) == []


def test_an_open_slot_can_neither_be_built_nor_read() -> None:
    store = StateStore()
    with pytest.raises(TypeError):
        store.build(Blank("size", "size"), store.end)
    with pytest.raises(NotImplementedError):
        Blank("size", "size").read(Sentence("a"), 0)
