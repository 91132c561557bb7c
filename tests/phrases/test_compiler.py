"""Grammars of steps: what they admit is always read, and nothing else is."""

from __future__ import annotations

import random

import pytest

from assistant.phrases.book import FREE_NUMBER, PhraseBook, load_book
from assistant.phrases.compiler import compile_grammar
from assistant.phrases.matcher import match
from assistant.spoken import Expected, Heard, Reason, Refused, Slot, SlotKind, Understood
from assistant.units import inches, mm

NUMBERS = [
    (SlotKind.LENGTH, "inch"), (SlotKind.LENGTH, "mm"), (SlotKind.DEVIATION, "inch"),
    (SlotKind.DEVIATION, "mm"), (SlotKind.READING, "inch"), (SlotKind.READING, "mm"),
    (SlotKind.TURNS, "turn"), (SlotKind.RATE, "rpm"), (SlotKind.RATE, "inch/minute"),
    (SlotKind.RATE, "mm/minute"), (SlotKind.RATE, "inch/turn"), (SlotKind.RATE, "mm/turn"),
    (SlotKind.RATE, "foot/minute"), (SlotKind.RATE, "m/minute"), (SlotKind.ANGLE, "degree"),
    (SlotKind.COUNT, ""), (SlotKind.COUNT, "free"),
]  # fmt: skip
ASKED_BACK = {Reason.IMPLAUSIBLE, Reason.AMBIGUOUS, Reason.SCALE}
SAMPLES = 300


def bare(kind: SlotKind, unit: str) -> list[Expected]:
    """A number alone, as a step may ask for it."""
    return [Expected("number", (Slot("number", kind, unit),))]


def check_samples(book: PhraseBook, allowed: list[Expected], seed: int) -> None:
    grammar = compile_grammar(book, allowed)
    rng = random.Random(seed)
    for _ in range(SAMPLES):
        words = " ".join(grammar.sample(rng))
        said = match(book, allowed, Heard(words, engine="moonshine", grammar=grammar.id))
        assert isinstance(said, Understood) or said.reason in ASKED_BACK, words
        if isinstance(said, Refused):
            assert said.candidate is not None


@pytest.mark.parametrize(("kind", "unit"), NUMBERS)
def test_every_number_that_may_be_heard_can_be_read(
    book: PhraseBook, kind: SlotKind, unit: str
) -> None:
    check_samples(book, bare(kind, unit), seed=4)


def test_every_sentence_of_the_book_can_be_read(book: PhraseBook) -> None:
    check_samples(book, list(book.expected()), seed=5)


@pytest.mark.parametrize("unit", ["inch", "mm"])
def test_every_sentence_of_each_intent_can_be_read(book: PhraseBook, unit: str) -> None:
    for expected in book.expected():
        slots = tuple(
            Slot(s.name, s.kind, unit, choices=s.choices)
            if s.kind in (SlotKind.LENGTH, SlotKind.DEVIATION, SlotKind.READING)
            else s
            for s in expected.slots
        )
        allowed = [Expected(expected.intent, slots)]
        grammar = compile_grammar(book, allowed)
        rng = random.Random(6)
        for _ in range(20 if grammar.sentence_count else 0):
            words = " ".join(grammar.sample(rng))
            said = match(book, allowed, Heard(words, engine="vosk"))
            assert isinstance(said, Understood) or said.reason in ASKED_BACK, words


STEP = [
    Expected("measured", (Slot("size", SlotKind.LENGTH, "inch", inches("1.4"), inches("1.9")),)),
    *(Expected(name) for name in ("yes", "no", "stop", "undo", "why", "what_now", "say_again")),
    Expected("over_under", (Slot("deviation", SlotKind.DEVIATION, "inch"),)),
    Expected("dial_reads", (Slot("reading", SlotKind.READING, "inch"),)),
]


def test_random_words_are_nothing_unless_the_grammar_has_them(book: PhraseBook) -> None:
    grammar = compile_grammar(book, STEP)
    vocabulary = sorted(compile_grammar(book, book.expected()).vocabulary)
    rng = random.Random(7)
    understood = 0
    for _ in range(20_000):
        words = rng.choices(vocabulary, k=rng.randint(1, 7))
        said = match(book, STEP, Heard(" ".join(words), engine="vosk"))
        taken = isinstance(said, Understood) or said.reason in ASKED_BACK
        if taken and "thousand" in words:
            continue  # a size in thousands is read, for its twin in sound, but no ear hears it
        assert taken == grammar.accepts(words), words
        understood += isinstance(said, Understood)
    assert understood > 0  # or the test shows nothing


def test_half_a_sentence_is_never_taken_for_a_whole_one(book: PhraseBook) -> None:
    grammar = compile_grammar(book, STEP)
    rng = random.Random(8)
    for _ in range(500):
        words = grammar.sample(rng)[:-1]
        said = match(book, STEP, Heard(" ".join(words), engine="vosk"))
        taken = isinstance(said, Understood) or said.reason in ASKED_BACK
        assert taken == grammar.accepts(words), words


def test_grammars_are_kept_by_content(book: PhraseBook) -> None:
    grammar = compile_grammar(book, STEP)
    other_band = Slot("size", SlotKind.LENGTH, "inch", inches(3), inches(4), inches("3.5"))
    assert compile_grammar(book, [Expected("measured", (other_band,)), *STEP[1:]]) is grammar
    in_mm = Slot("size", SlotKind.LENGTH, "mm", mm(3), mm(4))
    assert compile_grammar(book, [Expected("measured", (in_mm,)), *STEP[1:]]) is not grammar
    again = compile_grammar(load_book(), STEP)
    assert again is not grammar
    assert again.id == grammar.id


def test_a_value_out_of_its_band_can_still_be_said(book: PhraseBook) -> None:
    # it must be heard as what it is and asked back, not as another one that is plausible
    grammar = compile_grammar(book, STEP)
    for words in ("six twenty five", "two and a half inches", "forty thou", "ninety millimeters"):
        assert grammar.accepts(words.split())


@pytest.mark.parametrize(("kind", "unit"), NUMBERS)
def test_number_grammars_stay_small(book: PhraseBook, kind: SlotKind, unit: str) -> None:
    grammar = compile_grammar(book, bare(kind, unit))
    assert 0 < len(grammar.arcs) < 300
    assert grammar.sentence_count > 2000


def test_nothing_allowed_is_an_empty_grammar(book: PhraseBook) -> None:
    grammar = compile_grammar(book, [])
    assert grammar.sentence_count == 0
    assert not grammar.accepts(())


def test_no_dead_ends(book: PhraseBook) -> None:
    for allowed in (STEP, list(book.expected()), list(FREE_NUMBER)):
        grammar = compile_grammar(book, allowed)
        for state, arcs in enumerate(grammar.arcs):
            assert arcs or state in grammar.finals
