"""Free moves by voice: sound files of two open voices through the real ears."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from assistant.app.settings import load_settings
from assistant.app.turn import understand
from assistant.app.wiring import choose_ear, with_second
from assistant.demo import clip_name
from assistant.devices.opinion import SecondOpinion
from assistant.devices.wav import SoundFile
from assistant.free.book import expected
from assistant.free.hear import hear
from assistant.free.talk import Talk
from assistant.phrases.compiler import compile_grammar
from assistant.ports import Recogniser
from tests.free.talking import ZEROED, after, begun, book, said

CLIPS = Path(__file__).with_name("clips")
VOICES = ("heart", "rms")


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


SESSION = (
    "zero the table", "right", "two and three eighths left", "i'm there", "half of that", "back",
    "i'm there", "mark this one", "table to zero", "i'm there", "go to alpha", "i'm there",
    "where am i", "zero the saddle", "in", "forty millimeters right then saddle in ten thou",
    "i went past", "i'm there", "i'm there", "scratch that", "bolt circle of six on three inches",
)  # fmt: skip


@pytest.mark.parametrize("voice", VOICES)
def test_a_session_by_voice_is_that_of_the_keyboard(ear: Recogniser, voice: str):
    """Where a number is asked back, its yes is said: the ear may doubt, but never take another."""
    spoken, typed, asked = begun(), begun(), 0
    for words in SESSION:
        spoken, typed = heard(ear, spoken, voice, words), after([words], typed)
        if spoken.doubt is not None and typed.doubt is None:
            spoken, asked = heard(ear, spoken, voice, "yes"), asked + 1
        assert spoken.places == typed.places, (words, said(spoken), said(typed))
        assert (spoken.ask, spoken.doubt) == (typed.ask, typed.doubt), words
    assert asked <= 3, "seldom"


@pytest.mark.parametrize("voice", VOICES)
def test_a_dial_by_voice_after_a_break(ear: Recogniser, voice: str):
    from assistant.free.trouble import resumed

    talk = resumed(after(ZEROED))
    talk = after(["table to zero"], talk)
    talk = heard(ear, talk, voice, "table reads eleven turns and twenty five")
    if talk.doubt is not None:
        talk = heard(ear, talk, voice, "yes")
    assert "Right of zero, or left?" in said(talk)
    talk = heard(ear, talk, voice, "left of zero")
    assert "Table right, eleven turns" in said(talk)


@pytest.mark.parametrize("voice", VOICES)
def test_the_end_by_voice_is_asked_for(ear: Recogniser, voice: str):
    talk = heard(ear, after(ZEROED), voice, "that's all")
    assert not talk.over
    assert heard(ear, talk, voice, "yes").over
