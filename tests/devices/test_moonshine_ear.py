"""The built-in ear on real sound. Each clip is named after what is said; `oov_` is no command."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.devices.ear import hear
from assistant.devices.moonshine import MoonshineEar
from assistant.devices.moonshine.clarity import clarity
from assistant.devices.moonshine.confidence import (
    HARDLY,
    LIKELY,
    Evidence,
    cautious,
    confidence,
    syllables,
    twins,
)
from assistant.devices.moonshine.nearness import nearness
from assistant.devices.moonshine.recogniser import Look
from assistant.devices.moonshine.versions import MOST, SLOWER, slower, versions
from assistant.phrases.book import load_book
from assistant.phrases.compiler import compile_grammar
from assistant.ports import RATE, Samples
from assistant.spoken import WordAutomaton
from assistant.spoken.written import has_number
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


def test_nearness_is_of_sound() -> None:
    assert nearness("cut forty thou", "Cut 40 though.") > 0.9
    assert nearness("measured one point six", "Measured 1.6") == 1
    assert nearness("touched", "The weather will be fine.") < 0.5
    assert nearness("touched", "") == 0


@pytest.mark.parametrize(
    ("words", "count"),
    [("touched", 1), ("what should the dial read", 5), ("measured one point one oh nine", 7),
     ("inches", 2), ("seventeen", 3), ("rubbing", 2)],
)  # fmt: skip
def test_syllables(words: str, count: int) -> None:
    assert syllables(words) == count


def evidence(
    words: str = "cut forty thou",
    free: tuple[str, str] = ("Cut forty though.", "Cut 40 though."),
    *,
    lead: float = 6.0,
    shortfalls: tuple[float, float] = (0.0, 0.0),
    seconds: float = 1.4,
    clarity: float = 20.0,
) -> Evidence:
    """What speaks for a sentence that both versions were sure of, but for what is told."""
    return Evidence(words, free, lead, shortfalls, seconds, clarity)


@pytest.mark.parametrize(
    "doubtful",
    [
        evidence(lead=0.0),
        evidence(shortfalls=(15.0, 14.0)),
        evidence(shortfalls=(0.0, 15.0)),
        evidence(free=("What a nice day.", "What a nice tie.")),
        evidence(free=("Cut forty though.", "Cut 14 though.")),
        evidence(seconds=6.0),
        evidence(clarity=6.0),
    ],
)
def test_confidence_falls_with_every_doubt(doubtful: Evidence) -> None:
    assert confidence(evidence()) > 0.9
    assert confidence(doubtful) < confidence(evidence())


@pytest.mark.parametrize("muddy", [20.0, 7.5, 6.0])
def test_a_number_is_taken_with_more_caution_but_never_hushed_up_for_it(muddy: float) -> None:
    odds = np.linspace(-8, 8, 161)
    held = np.array([cautious(float(each), muddy) for each in odds])
    assert (held <= odds).all()
    assert (np.diff(held) > 0).all()
    assert ((held >= HARDLY) == (odds >= HARDLY)).all()
    assert cautious(LIKELY, muddy) < LIKELY
    assert cautious(4.0, muddy) <= cautious(4.0, muddy + 1)


def test_a_command_without_a_number_needs_no_clear_sound() -> None:
    clear, muddy = (
        confidence(evidence("touched", ("Touched.", "Touched."), seconds=0.9, clarity=each))
        for each in (20.0, 6.0)
    )
    assert clear == muddy > 0.6


def test_noise_and_a_room_take_clarity() -> None:
    speech = clip("cut_forty_thou_this_pass")
    hiss = np.random.default_rng(1).standard_normal(speech.size).astype(np.float32)
    # An echo that dies away by 60 dB in 0.6 s.
    echo = np.random.default_rng(2).standard_normal(round(0.6 * RATE)) * 10 ** (
        -3 * np.arange(round(0.6 * RATE)) / round(0.6 * RATE)
    )
    room = np.convolve(speech, echo)[: speech.size].astype(np.float32)
    level = float(np.sqrt(np.mean(speech**2)))
    assert clarity(speech) > 12
    assert 6 < clarity(speech + hiss * np.float32(level / 10)) < clarity(speech)
    assert clarity(room) < 8.5
    assert clarity(speech) == pytest.approx(clarity(speech * np.float32(0.5)), abs=1)
    assert clarity(np.zeros(300, np.float32)) > 100


@pytest.mark.parametrize(
    ("words", "count"),
    [("sixteen", 1), ("sixty", 1), ("sixty five", 0), ("measured six sixteen and fifty", 2),
     ("cut ten thou", 0), ("twelve", 0)],
)  # fmt: skip
def test_numbers_that_have_a_twin_in_sound(words: str, count: int) -> None:
    assert twins(words) == count


def test_runners_up_are_less_likely_by_how_far_they_are_behind() -> None:
    (best, sure), (other, less) = Look(evidence(), (("cut fourteen thou", 2.0),)).chances()
    assert (best, other) == ("cut forty thou", "cut fourteen thou")
    assert less == pytest.approx(sure * np.exp(-2.0))


def test_a_sound_is_heard_as_it_came_and_slower() -> None:
    sound = clip("touched")
    plain, slow = versions(sound)
    assert plain.size == slow.size
    start = round(0.2 * RATE)
    assert np.array_equal(plain[start : start + sound.size], sound)
    assert slower(sound).size == pytest.approx(sound.size * SLOWER, abs=2)


def test_a_long_sound_is_heard_as_it_came_alone(ear: MoonshineEar) -> None:
    long = np.pad(clip("touched"), (0, MOST))[:MOST]
    (only,) = versions(long)
    assert only.size <= 9.2 * RATE
    assert hear(ear, long, automaton_of("touched")).words == "touched"


@pytest.mark.parametrize(
    ("words", "is_size"),
    [
        ("measured sixteen", True),
        ("measured 16", True),
        ("it measures a thou", True),
        ("half a tenth", True),
        ("touched", False),
        ("thought about it", False),
    ],
)
def test_every_size_is_met_with_the_caution_of_numbers(words: str, is_size: bool) -> None:
    assert has_number(words) == is_size
