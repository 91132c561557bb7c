"""The built-in ear on real sound. Each clip is named after what is said; `oov_` is no command."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.devices.ear import hear
from assistant.devices.moonshine import MoonshineEar
from assistant.devices.moonshine.confidence import Evidence, confidence, syllables
from assistant.devices.moonshine.looks import Look, agreed, wants_another
from assistant.devices.moonshine.nearness import nearness
from assistant.devices.moonshine.spellings import load_spellings
from assistant.devices.moonshine.written import written
from assistant.phrases.book import load_book
from assistant.phrases.compiler import compile_grammar
from assistant.ports import RATE, Samples
from assistant.spoken import WordAutomaton
from tests.automata import automaton_of

CLIPS = Path(__file__).parents[1] / "audio" / "clips"
NAMES = sorted(path.stem for path in CLIPS.glob("*.flac"))


@pytest.fixture(scope="module")
def ear() -> Iterator[MoonshineEar]:
    ear = MoonshineEar()
    yield ear
    ear.close()


@pytest.fixture(scope="module")
def book_grammar() -> WordAutomaton:
    book = load_book()
    return compile_grammar(book, book.expected())


def clip(name: str) -> Samples:
    samples, _ = soundfile.read(CLIPS / f"{name}.flac", dtype="float32")
    return samples


@pytest.mark.parametrize("name", [name for name in NAMES if not name.startswith("oov_")])
def test_commands_are_heard_among_all_of_the_book(
    ear: MoonshineEar, book_grammar: WordAutomaton, name: str
) -> None:
    heard = hear(ear, clip(name), book_grammar)
    assert heard.words.replace("'", "").replace(" ", "_") == name
    assert heard.confidence >= 0.6


@pytest.mark.parametrize("name", [name for name in NAMES if name.startswith("oov_")])
def test_other_talk_is_not_taken(ear: MoonshineEar, book_grammar: WordAutomaton, name: str) -> None:
    assert hear(ear, clip(name), book_grammar).confidence < 0.5


def test_the_runner_up_is_reported(ear: MoonshineEar) -> None:
    grammar = automaton_of("measured one point one oh nine", "measured one point one nine")
    heard = hear(ear, clip("measured_one_point_one_oh_nine"), grammar)
    assert heard.words == "measured one point one oh nine"
    assert [words for words, _ in heard.others] == ["measured one point one nine"]
    assert 0 < heard.others[0][1] < heard.confidence
    assert heard.free


def test_two_sentences_of_one_gist_make_nobody_unsure(ear: MoonshineEar) -> None:
    grammar = automaton_of("touched", "touching", "it's touched", "yes")
    heard = hear(ear, clip("touched"), grammar)
    assert heard.words == "touched"
    assert heard.confidence > 0.6
    assert all(words not in ("touching", "it's touched") for words, _ in heard.others)


def test_sound_that_is_too_long_is_cut_and_not_trusted(ear: MoonshineEar) -> None:
    grammar = automaton_of("touched")
    silence = np.zeros(RATE * 10, np.float32)
    ear.begin(grammar)
    ear.feed(np.concatenate([clip("touched"), silence]))
    assert ear.finish().confidence <= 0.2


def test_a_peek_changes_nothing(ear: MoonshineEar) -> None:
    grammar = automaton_of("touched", "yes")
    sound = clip("touched")
    ear.begin(grammar)
    ear.feed(sound[:12_000])
    ear.peek()
    ear.feed(sound[12_000:])
    first = ear.peek()
    assert ear.finish() == first
    ear.begin(grammar)
    ear.feed(sound)
    assert ear.finish().words == first.words == "touched"


def test_loud_and_quiet_are_heard_alike(ear: MoonshineEar, book_grammar: WordAutomaton) -> None:
    sound = clip("dial_reads_two_turns_and_eleven")
    for gain in (0.02, 0.3, 2.5):
        heard = hear(ear, np.clip(sound * np.float32(gain), -1, 1), book_grammar)
        assert heard.words == "dial reads two turns and eleven"


@pytest.mark.parametrize(
    ("text", "same"),
    [
        ("one twenty", "120"),
        ("One, two, oh.", "1 2 0"),
        ("one two zero", "1-20"),
        ("twenty five", "25"),
        ("two six eight four four one eight", "268-4418"),
        ("one point one oh nine", "1.109"),
        ("cut forty thou", "Cut 40 thou."),
    ],
)
def test_numbers_compare_however_they_are_written(text: str, same: str) -> None:
    assert written(text) == written(same)


@pytest.mark.parametrize(
    ("one", "other"),
    [("one twenty", "one twelve"), ("forty", "fourteen"), ("one oh", "one"), ("two", "to")],
)
def test_numbers_that_differ_stay_apart(one: str, other: str) -> None:
    assert written(one) != written(other)


def test_nearness_is_of_sound() -> None:
    assert nearness("cut forty thou", "Cut 40 though.") > 0.9
    assert nearness("measured one point six", "Measured 1.6") == 1
    assert nearness("touched", "The weather will be fine.") < 0.5
    assert nearness("touched", "") == 0


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("measured six twenty five", "measure six two five", True),
        ("it's touched", "touching", True),
        ("two over", "two under", False),
        ("left wall five", "right wall five", False),
        ("yes", "no", False),
        ("one and a half", "one and a quarter", False),
        ("three thou", "three tenths", False),
        ("i'm on forty", "forty", False),
    ],
)
def test_a_gist_keeps_all_that_matters(one: str, other: str, same: bool) -> None:
    _, gist = load_spellings()
    assert (gist(one) == gist(other)) is same


@pytest.mark.parametrize(
    ("words", "count"),
    [("touched", 1), ("what should the dial read", 5), ("measured one point one oh nine", 7),
     ("inches", 2), ("seventeen", 3), ("rubbing", 2)],
)  # fmt: skip
def test_syllables(words: str, count: int) -> None:
    assert syllables(words) == count


def test_confidence_falls_with_every_doubt() -> None:
    good = Evidence("cut forty thou", "Cut forty though.", lead=6, shortfall=0, seconds=1.4)
    assert confidence(good) > 0.9
    doubts = [
        Evidence("cut forty thou", "Cut forty though.", lead=0, shortfall=0, seconds=1.4),
        Evidence("cut forty thou", "Cut forty though.", lead=6, shortfall=15, seconds=1.4),
        Evidence("cut forty thou", "What a nice day.", lead=6, shortfall=0, seconds=1.4),
        Evidence("cut forty thou", "Cut forty though.", lead=6, shortfall=0, seconds=6),
        Evidence("cut forty thou", "Cut 14 though.", lead=6, shortfall=0, seconds=1.4),
    ]
    assert all(confidence(doubt) < confidence(good) for doubt in doubts)


def look(words: str, shortfall: float = -1.0, *others: tuple[str, float]) -> Look:
    """A look at two seconds of sound that heard `words`."""
    free = words if shortfall < 0 else "Something else."
    return Look(Evidence(words, free, lead=6.0, shortfall=shortfall, seconds=2.0), others)


def test_two_looks_that_agree_are_as_sure_as_one() -> None:
    _, gist = load_spellings()
    one, two = look("measured six twenty five"), look("measure six two five")
    (words, sure), *_ = agreed([one, two], gist)
    assert words == "measured six twenty five"
    assert sure == pytest.approx(one.chances()[0][1], abs=0.02)


@pytest.mark.parametrize("other", [look("measured six twenty nine"), look("bare", 15.0), None])
def test_what_two_looks_differ_in_is_doubted(other: Look | None) -> None:
    _, gist = load_spellings()
    _, sure = agreed([look("measured six twenty five"), other], gist)[0]
    assert 0.2 <= sure <= 0.5


def test_a_runner_up_wins_that_the_other_look_is_sure_of() -> None:
    _, gist = load_spellings()
    one = look("measured six fifteen", -1.0, ("measured six fifty", 0.2))
    words, _ = agreed([one, look("measured six fifty")], gist)[0]
    assert words == "measured six fifty"


def test_doubtful_numbers_and_short_words_are_looked_at_twice(
    ear: MoonshineEar, book_grammar: WordAutomaton
) -> None:
    for name in NAMES:
        heard = hear(ear, clip(name), book_grammar)
        if name in ("touched", "thats_through"):
            assert len(ear.looks) == 2
        if name.startswith("oov_"):
            assert len(ear.looks) < 2
        assert bool(ear.looks) == bool(heard.words)


@pytest.mark.parametrize(
    ("words", "shortfall", "again"),
    [
        ("measured six twenty five", -1.0, False),
        ("measured six twenty five", 3.0, True),
        ("measured six twenty five", 20.0, False),
        ("yes", -1.0, True),
        ("what should the dial read", -1.0, False),
    ],
)
def test_what_is_certain_or_hopeless_needs_no_second_look(
    words: str, shortfall: float, again: bool
) -> None:
    assert wants_another(look(words, shortfall)) is again
