"""The grammar side of the built-in ear: pieces, spellings, tries, readings."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.devices.moonshine.assets import TOKENIZER, model_folder
from assistant.devices.moonshine.readings import START, Reader
from assistant.devices.moonshine.spellings import Mode, Spellings, load_spellings
from assistant.devices.moonshine.tokenizer import SPACE, Tokenizer
from assistant.devices.moonshine.tries import Tries
from assistant.phrases.book import load_book
from assistant.phrases.compiler import compile_grammar
from assistant.spoken import WordAutomaton
from assistant.spoken.gist import load_gist
from tests.automata import automaton_of


@pytest.fixture(scope="module")
def tokenizer() -> Tokenizer:
    return Tokenizer(model_folder() / TOKENIZER)


def read(tokenizer: Tokenizer, grammar: WordAutomaton, text: str) -> set[str]:
    """The sentences that `text`, as the model may write it, can be read as."""
    reader = Reader(Tries(grammar, tokenizer, load_spellings()), tokenizer)
    readings = [START]
    for piece in tokenizer.encode(SPACE + text.replace(" ", SPACE)):
        readings = reader.follow(readings).get(piece, [])
    return {" ".join(reading.words) for reading in reader.sentences(readings)}


@pytest.mark.parametrize(
    "text", ["a", "Touched", "I'm set", "One, two.", "twenty-five", "thow", "Measured 1.109"]
)
def test_text_comes_back_from_its_pieces(tokenizer: Tokenizer, text: str) -> None:
    assert tokenizer.decode(tokenizer.encode(SPACE + text.replace(" ", SPACE))) == text


def test_one_letter_pieces_are_not_the_single_bytes(tokenizer: Tokenizer) -> None:
    """The entry of the byte `t` reads like the piece `t`, but the model never writes it."""
    assert all(piece >= 259 for piece in tokenizer.encode("▁t-x'.,9"))


def test_a_character_without_a_piece_is_an_error(tokenizer: Tokenizer) -> None:
    missing = chr(0x1F527)
    assert not tokenizer.can_write(missing)
    with pytest.raises(ValueError, match="no piece"):
        tokenizer.encode(SPACE + missing)


GRAMMAR = automaton_of(
    "cut forty thou", "twenty five", "one two", "i'm set", "five eighths", "what now"
)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Cut forty thou", "cut forty thou"),
        ("Cut forty though", "cut forty thou"),
        ("Cut, forty now", "cut forty thou"),
        ("Twenty-five", "twenty five"),
        ("Twenty five", "twenty five"),
        ("One. Two", "one two"),
        ("One, two", "one two"),
        ("I'm set", "i'm set"),
        ("Five eights", "five eighths"),
        ("What now", "what now"),
        # not of this grammar, or not written so
        ("Cut forty", ""),
        ("Cut forty thou this pass", ""),
        ("One,, two", ""),
        ("I'm-set", ""),
        ("twenty five", ""),
        ("", ""),
    ],
)
def test_what_is_written_is_read(tokenizer: Tokenizer, text: str, words: str) -> None:
    assert read(tokenizer, GRAMMAR, text) == ({words} if words else set())


@pytest.fixture(scope="module")
def book_grammar() -> WordAutomaton:
    book = load_book()
    return compile_grammar(book, book.expected())


@settings(max_examples=60, deadline=None)
@given(seed=st.integers(0, 10**9), comma=st.integers(1, 6))
def test_every_sentence_of_the_book_can_be_written(
    tokenizer: Tokenizer, book_grammar: WordAutomaton, seed: int, comma: int
) -> None:
    words = book_grammar.sample(random.Random(seed))
    text = " ".join(
        word + ("," if number % comma == 0 and number < len(words) else "")
        for number, word in enumerate(words, 1)
    )
    # "oh" and "zero" are written alike: of many in a row not every mixture is kept
    gist = load_gist()
    readings = {gist(each) for each in read(tokenizer, book_grammar, text[0].upper() + text[1:])}
    assert gist(" ".join(words)) in readings


def test_forms_follow_what_came_before() -> None:
    spellings = Spellings({"thou": ["though"], "that's through": ["that's true"]}, {"five"})

    def texts(word: str, mode: Mode) -> set[str]:
        return {form.text for form in spellings.starts(word, mode)}

    assert texts("thou", Mode.START) == {"▁Thou", "▁Though"}
    assert texts("thou", Mode.WORD) == {"▁thou", "▁though"}
    assert texts("thou", Mode.STOP) == {"▁thou", "▁though", "▁Thou", "▁Though"}
    assert texts("five", Mode.NUMBER) == {"▁five", "-five"}
    assert texts("five", Mode.WORD) == {"▁five"}
    assert texts("that's", Mode.WORD) == {"▁that's", "▁that's▁true"}
