"""A keyseat begun by voice: sound files of two open voices through the real ears."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
import soundfile

from assistant.app.settings import load_settings
from assistant.app.turn import understand
from assistant.app.wiring import choose_ear, with_second
from assistant.demo import clip_name
from assistant.devices.opinion import SecondOpinion
from assistant.devices.wav import SoundFile
from assistant.filling.hear import hear
from assistant.filling.talk import Talk, expected
from assistant.filling.words import question
from assistant.phrases.compiler import compile_grammar
from assistant.ports import Recogniser
from assistant.present.for_the_ear import seconds
from tests.filling.talking import KEYSEAT, after, asked, begun, book

CLIPS = Path(__file__).with_name("clips")
VOICES = ("heart", "rms")
TAIL = 1.0
"""Seconds from the end of an answer to the begin of the next question, and back: silence that ends
an utterance, the ear's work, the room's echo. Roughly, as `scripts/bench` has it."""


@pytest.fixture(scope="module")
def ear() -> Iterator[Recogniser]:
    settings = load_settings()
    make, _ = with_second(settings, choose_ear(settings)[0])
    made = make()
    if isinstance(made, SecondOpinion):
        made.wait = 20.0  # sound files are faster than any speech
    yield made
    made.close()


def heard(ear: Recogniser, talk: Talk, voice: str, words: str) -> Talk:
    allowed = expected(talk)
    grammar = compile_grammar(book(), allowed)
    ear.prepare([grammar])
    ear.begin(grammar)
    for chunk in SoundFile(CLIPS / voice / clip_name(words)).chunks():
        ear.feed(chunk)
    return hear(book(), talk, understand(book(), allowed, ear.finish()))


@pytest.mark.parametrize("voice", VOICES)
def test_a_keyseat_by_voice_in_eight_answers_and_ninety_seconds(ear: Recogniser, voice: str):
    talk, took = begun(), 0.0
    for words in KEYSEAT:
        took += sum(map(seconds, (*talk.answer, *question(talk))))
        talk = heard(ear, talk, voice, words)
        took += soundfile.info(CLIPS / voice / clip_name(words)).duration + TAIL
        assert talk.doubt is None, (words, question(talk))
    assert talk.sheet.text == after(KEYSEAT).sheet.text
    assert talk.answers == 8
    assert took < 90, "it is said aloud, and answered, in so many seconds"


@pytest.mark.parametrize("voice", VOICES)
def test_back_by_voice(ear: Recogniser, voice: str):
    talk = heard(ear, after(KEYSEAT[:3]), voice, "back")
    assert asked(talk) == "What diameter is the shaft?"


@pytest.mark.parametrize("voice", VOICES)
def test_the_same_as_last_time_by_voice(ear: Recogniser, voice: str):
    said = "same as last time but one and a quarter inches"
    talk = heard(ear, begun("keyseat-inch"), voice, said)
    assert talk.sheet.told["shaft.diameter"] == "1-1/4 in"
