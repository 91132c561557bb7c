"""What every ear must do, whichever engine stands behind it.

A new ear joins by one entry in `EARS`: what makes it, a grammar within its words, and a recording
of one sentence of it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.devices.ear import ScriptedEar
from assistant.devices.moonshine import MoonshineEar
from assistant.devices.vosk import Hold, VoskEar, read_model_folder
from assistant.ports import RATE, Recogniser, Samples
from assistant.spoken import Heard, WordAutomaton
from tests.automata import automaton_of

CLIPS = Path(__file__).parents[1] / "audio" / "clips"
VOSK_MODEL = Path(__file__).parents[2] / "voice_models" / "wheelcall-en-small"


@dataclass(frozen=True)
class Ear:
    """One engine and what to try it with."""

    make: Callable[[], Recogniser]
    grammar: WordAutomaton
    other: WordAutomaton
    """A grammar without the sentence."""
    clip: Path
    words: str

    @property
    def sound(self) -> Samples:
        samples, rate = soundfile.read(self.clip, dtype="float32")
        assert rate == RATE
        return samples


GRAMMAR = automaton_of("touched", "that's through", "cut forty thou", "cut forty thou this pass")
OTHER = automaton_of("yes", "no")

EARS: dict[str, Callable[[], Ear]] = {
    "scripted": lambda: Ear(
        lambda: ScriptedEar(["cut forty thou this pass"] * 9),
        GRAMMAR, OTHER, CLIPS / "cut_forty_thou_this_pass.flac", "cut forty thou this pass",
    ),
    "moonshine": lambda: Ear(
        MoonshineEar,
        GRAMMAR, OTHER, CLIPS / "cut_forty_thou_this_pass.flac", "cut forty thou this pass",
    ),
    "vosk": lambda: Ear(
        lambda: VoskEar(VOSK_MODEL),
        GRAMMAR, OTHER, CLIPS / "cut_forty_thou_this_pass.flac", "cut forty thou this pass",
    ),
    "vosk, told phrases": lambda: Ear(
        lambda: VoskEar(replace(read_model_folder(VOSK_MODEL), hold=Hold.PHRASES)),
        GRAMMAR, OTHER, CLIPS / "thats_through.flac", "that's through",
    ),
}  # fmt: skip


@pytest.fixture(scope="module", params=EARS)
def ear(request: pytest.FixtureRequest) -> Ear:
    return EARS[request.param]()


@pytest.fixture(scope="module")
def recogniser(ear: Ear) -> Iterator[Recogniser]:
    recogniser = ear.make()
    recogniser.prepare([ear.grammar, ear.other])
    yield recogniser
    recogniser.close()


def say(recogniser: Recogniser, grammar: WordAutomaton, samples: Samples) -> Heard:
    recogniser.begin(grammar)
    for start in range(0, samples.size, 320):
        recogniser.feed(samples[start : start + 320])
    return recogniser.finish()


def test_it_is_a_recogniser(recogniser: Recogniser) -> None:
    assert isinstance(recogniser, Recogniser)
    assert recogniser.name


def test_it_hears_a_sentence_and_says_how(ear: Ear, recogniser: Recogniser) -> None:
    heard = say(recogniser, ear.grammar, ear.sound)
    assert heard.words == ear.words
    assert heard.confidence > 0.5
    assert heard.grammar == ear.grammar.id
    assert heard.engine == recogniser.name


def test_it_hears_the_same_again(ear: Ear, recogniser: Recogniser) -> None:
    first, second = (say(recogniser, ear.grammar, ear.sound) for _ in range(2))
    assert first == second


def test_it_is_held_to_the_grammar(ear: Ear, recogniser: Recogniser) -> None:
    heard = say(recogniser, ear.other, ear.sound)
    assert heard.grammar == ear.other.id
    assert not heard.words or ear.other.accepts(heard.words.split())
    assert heard.confidence < 0.5


def test_what_was_begun_and_not_finished_is_forgotten(ear: Ear, recogniser: Recogniser) -> None:
    recogniser.begin(ear.other)
    recogniser.feed(ear.sound[: ear.sound.size // 2])
    assert say(recogniser, ear.grammar, ear.sound).words == ear.words


def test_partial_words_begin_a_sentence(ear: Ear, recogniser: Recogniser) -> None:
    recogniser.begin(ear.grammar)
    sound = ear.sound
    for start in range(0, sound.size, 1600):
        words = recogniser.feed(sound[start : start + 1600])
        assert ear.grammar.walk(words.split()) is not None
    recogniser.finish()


def test_it_finds_no_word_deaf_that_it_heard(ear: Ear, recogniser: Recogniser) -> None:
    assert not set(ear.words.split()) & set(recogniser.prepare([ear.grammar]))


def test_finishing_without_beginning_is_an_error(ear: Ear) -> None:
    fresh = ear.make()
    with pytest.raises(RuntimeError):
        fresh.finish()
    fresh.close()


@pytest.mark.parametrize("seconds", [0.0, 0.05, 1.0, 12.0])
def test_silence_is_no_command(ear: Ear, recogniser: Recogniser, seconds: float) -> None:
    if recogniser.name == "scripted":
        pytest.skip("the scripted ear listens to no sound")
    heard = say(recogniser, ear.grammar, np.zeros(round(seconds * RATE), np.float32))
    assert heard.confidence < 0.5
