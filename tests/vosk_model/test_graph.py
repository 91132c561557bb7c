"""A step's grammar as the model's own grammar file."""

from __future__ import annotations

import struct
from pathlib import Path

import pytest

from assistant.devices.vosk.fst_file import FST_MAGIC, Arc, WordGraph, write_const
from assistant.devices.vosk.graph import (
    COSTS,
    UNKNOWN,
    grammar_folder,
    missing_words,
    model_words,
    takes_grammars,
    word_grammar,
)
from assistant.spoken import WordAutomaton

YES_NO = WordAutomaton(
    "yes-no", ({"yes": 1, "say": 2}, {}, {"again": 1}), frozenset((1,))
)  # fmt: skip
WORDS = {"<eps>": 0, "again": 1, "say": 2, "yes": 3, UNKNOWN: 4}


def sentences(graph: WordGraph, longest: int = 4) -> set[tuple[int, ...]]:
    found: set[tuple[int, ...]] = set()

    def go(state: int, said: tuple[int, ...]) -> None:
        if state in graph.finals:
            found.add(said)
        for arc in graph.arcs[state] if len(said) < longest else ():
            go(arc.following, (*said, arc.word))

    go(graph.start, ())
    return found


def test_a_grammar_holds_its_sentences_the_unknown_and_nothing_else() -> None:
    graph = word_grammar(YES_NO, WORDS, COSTS)
    assert sentences(graph, 2) == {(), (3,), (2, 1), (4,), (4, 4)}


def test_a_word_that_the_model_lacks_takes_its_sentences_along() -> None:
    known = {word: number for word, number in WORDS.items() if word != "again"}
    assert sentences(word_grammar(YES_NO, known, COSTS), 2) == {(), (3,), (4,), (4, 4)}


def test_silence_and_the_unknown_cost_what_they_are_given() -> None:
    graph = word_grammar(YES_NO, WORDS, COSTS)
    assert graph.finals[0] == COSTS.nothing
    assert {arc.cost for arc in graph.arcs[0] if arc.word == 4} == {COSTS.unknown}


def test_a_grammar_file_is_sorted_by_what_is_heard(tmp_path: Path) -> None:
    graph = WordGraph()
    start, end = graph.state(), graph.state()
    graph.arcs[start] = [Arc(3, 3, 0.0, end), Arc(1, 1, 0.5, end)]
    graph.finals[end] = 0.0
    write_const(graph, tmp_path / "Gr.fst")
    data = (tmp_path / "Gr.fst").read_bytes()
    assert struct.unpack_from("<i", data)[0] == FST_MAGIC
    arcs = [struct.unpack_from("<iifi", data, len(data) - 16 * n) for n in (2, 1)]
    assert arcs == [(1, 1, 0.5, 1), (3, 3, 0.0, 1)]


def test_the_shipped_model_takes_grammars(model: Path) -> None:
    assert takes_grammars(model)


def test_words_that_nobody_can_hear_are_named(model: Path) -> None:
    strange = WordAutomaton("x", ({"yes": 1, "qwertz": 1, "abacus": 1}, {}), frozenset((1,)))
    assert missing_words(model, strange) == ("abacus", "qwertz")


def test_a_folder_is_made_once_for_the_same_content(model: Path, tmp_path: Path) -> None:
    first = grammar_folder(model, YES_NO, tmp_path)
    made = (first / "graph" / "Gr.fst").stat().st_mtime_ns
    again = WordAutomaton(YES_NO.id, YES_NO.arcs, YES_NO.finals)
    assert grammar_folder(model, again, tmp_path) == first
    assert (first / "graph" / "Gr.fst").stat().st_mtime_ns == made
    other = WordAutomaton("other", ({"no": 1}, {}), frozenset((1,)))
    assert grammar_folder(model, other, tmp_path) != first
    assert sorted(tmp_path.iterdir()) == sorted(
        {first, grammar_folder(model, other, tmp_path)}
    )  # nothing half made is left


def test_where_links_are_not_allowed_the_files_are_copied(
    model: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> None:
        raise OSError("no links here")

    monkeypatch.setattr("os.symlink", refuse)
    folder = grammar_folder(model, YES_NO, tmp_path)
    assert not (folder / "am" / "final.mdl").is_symlink()
    assert (folder / "am" / "final.mdl").read_bytes() == (model / "am" / "final.mdl").read_bytes()


def test_the_model_knows_the_words_of_numbers(model: Path) -> None:
    assert {"oh", "nine", "fifteen", "fifty", "thou", "eighths"} <= model_words(model).keys()
