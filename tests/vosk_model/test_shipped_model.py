"""The shipped model in the real engine, with voices that are in no training.

Each clip is named `voice-what_was_said.flac`; the voices are `heart` of the package hibari-tts and
`rms` of flite, both free to pass on.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.devices.vosk.ear import VoskEar
from assistant.phrases.book import load_book
from assistant.phrases.compiler import compile_grammar
from assistant.spoken import Heard, WordAutomaton

CLIPS = sorted((Path(__file__).parent / "clips").glob("*.flac"))
MEASURING = ("measured", "over_under", "say_again", "how_much_left", "stop", "yes", "no")
WORKING = ("dial_reads", "paper", "speed_is", "say_again", "how_much_left", "stop", "through")
LIMIT = 6_000_000
"""Bytes that the model may take in a clone."""


def grammar(*names: str) -> WordAutomaton:
    book = load_book()
    known = {expected.intent: expected for expected in book.expected()}
    return compile_grammar(book, [known[name] for name in names])


@pytest.fixture(scope="module")
def ear(model: Path) -> Iterator[VoskEar]:
    vosk_ear = VoskEar(model)
    yield vosk_ear
    vosk_ear.close()


def said(clip: Path) -> str:
    return clip.stem.split("-", 1)[1].replace("_", " ")


def hear(ear: VoskEar, clip: Path, held_to: WordAutomaton) -> Heard:
    samples, rate = soundfile.read(clip, dtype="float32")
    assert rate == 16_000
    ear.begin(held_to)
    for at in range(0, samples.size, 480):
        ear.feed(np.asarray(samples[at : at + 480]))
    return ear.finish()


def test_its_checksums_hold(model: Path) -> None:
    lines = (model / "SHA256SUMS").read_text().splitlines()
    listed = {name: digest for digest, name in (line.split(maxsplit=1) for line in lines)}
    assert "am/final.mdl" in listed
    for name, digest in listed.items():
        assert hashlib.sha256((model / name).read_bytes()).hexdigest() == digest, name


def test_it_is_small(model: Path) -> None:
    assert sum(file.stat().st_size for file in model.rglob("*") if file.is_file()) < LIMIT


def test_there_are_clips() -> None:
    assert len(CLIPS) > 5


@pytest.mark.parametrize("clip", CLIPS, ids=lambda clip: clip.stem)
def test_it_hears_voices_it_never_trained_on(ear: VoskEar, clip: Path) -> None:
    words = said(clip)
    measuring, working = grammar(*MEASURING), grammar(*WORKING)
    held_to = measuring if measuring.accepts(words.split()) else working
    heard = hear(ear, clip, held_to)
    assert heard.words == words
    assert heard.confidence > 0.3
    assert heard.grammar == held_to.id


ALIKE = {"three under": "three hundred"}
"""All but the same in sound, where only the second is allowed; the model's card names it."""


@pytest.mark.parametrize("clip", CLIPS, ids=lambda clip: clip.stem)
def test_what_the_step_does_not_allow_is_not_heard_as_what_it_does(
    ear: VoskEar, clip: Path
) -> None:
    words = said(clip)
    for names in (MEASURING, WORKING):
        held_to = grammar(*names)
        if not held_to.accepts(words.split()):
            heard = hear(ear, clip, held_to)
            if heard.words != ALIKE.get(words):
                assert not heard.words or heard.confidence < 0.5


def test_silence_and_hiss_are_no_command(ear: VoskEar) -> None:
    rng = np.random.default_rng(3)
    for level in (0.0, 0.003, 0.05):
        ear.begin(grammar(*MEASURING))
        ear.feed(rng.normal(0, level, 48_000).astype(np.float32))
        assert ear.finish().words == ""


def test_it_hears_every_word_of_the_phrase_book(model: Path) -> None:
    book = load_book()
    whole = compile_grammar(book, book.expected())
    fresh = VoskEar(model)
    assert fresh.prepare([whole]) == ()
    fresh.close()
