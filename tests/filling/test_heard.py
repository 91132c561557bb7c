"""A keyseat begun and a machine told by voice: sound files of two open voices through the real
ears."""

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
from assistant.filling.shop import DEMO, NEW, OPEN
from assistant.filling.talk import Talk, expected, of_a_machine
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


WALK = (
    "drill press", "inches", "yes", "yes", "half an inch", "one hundred", "five thou", "down",
    "skip it", "settable", "measure it", "six thou", "four ninety six", "five inches", "belts",
    "sixty", "ninety five", "one forty", "two ten", "that's all", "none", "no",
)  # fmt: skip
"""A drill press told at the machine."""


def machine() -> Talk:
    return of_a_machine(begun().shop)


@pytest.mark.parametrize("voice", VOICES)
def test_a_machine_by_voice_with_its_backlash_and_its_plate(ear: Recogniser, voice: str):
    talk, asked_back = machine(), []
    for words in WALK:
        talk = heard(ear, talk, voice, words)
        if talk.doubt is not None:  # what it may have misheard it names; nothing else is taken
            asked_back.append(question(talk)[-1])
            talk = heard(ear, talk, voice, "yes")
    assert talk.sheet.text == after(WALK, machine()).sheet.text
    assert len(asked_back) <= 2, asked_back
    assert 'backlash = "0.01 in"' in talk.sheet.text
    assert "speeds = [60, 95, 140, 210]" in talk.sheet.text


@pytest.mark.parametrize("voice", VOICES)
def test_a_reading_that_may_be_another_is_not_simply_taken(ear: Recogniser, voice: str):
    talk = heard(ear, after(WALK[:11], machine()), voice, "four thou")
    taken = talk.sheet.told.get("?quill.first")
    assert taken == "0.004 in" or (taken is None and talk.doubt is not None), question(talk)


@pytest.mark.parametrize("voice", VOICES)
def test_off_the_plain_way_by_voice(ear: Recogniser, voice: str):
    talk = after((*WALK[:4], "0.4 in", "100", "5 thou"), machine())
    assert asked(heard(ear, talk, voice, "the travel")).startswith("By its dial a turn is a half")
    plate = after(WALK[:16], machine())
    assert heard(ear, plate, voice, "back").sheet.row == ()
    begin = begun(**{"new job": "question by question", "new machine": "of yours"})
    assert heard(ear, begin, voice, "new machine").end == "new machine"


@pytest.mark.parametrize("voice", VOICES)
def test_two_numbers_in_one_breath_by_voice_are_no_third_one(ear: Recogniser, voice: str):
    talk = heard(ear, after(WALK[:15], machine()), voice, "sixty ninety five")
    assert talk.sheet.row == ()
    if talk.doubt is not None:
        assert heard(ear, talk, voice, "yes").sheet.row in ((60, 95), (6095,))


@pytest.mark.parametrize("voice", VOICES)
def test_where_nothing_was_named_the_open_job_is_gone_on_with_by_voice(ear: Recogniser, voice: str):
    begin = {OPEN: "Pond pump layshaft, left Monday 09:00", NEW: "question by question",
             DEMO: "a recorded operator works a job (invented)"}  # fmt: skip
    assert heard(ear, begun(**begin), voice, "go on").end == OPEN
    new = heard(ear, begun(**begin), voice, "new job")
    assert asked(new) == asked(begun()), "what kind of work"
