"""The three ways to listen: what the ear is held to, and for how long."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from assistant.app.attention import check_attention
from assistant.app.listening import ANSWER_SECONDS, HELD_SECONDS, Listening, Mode
from assistant.app.run_live import Live
from assistant.app.turn import NO_COMMAND
from assistant.devices.ear import EarEvent, HeardEvent, Helpless, hear
from assistant.devices.moonshine import MoonshineEar
from assistant.devices.wav import SoundFile
from assistant.errors import BadInput
from assistant.phrases.book import load_book
from assistant.present.glance import Ear
from assistant.spoken import Heard, Opinion, WordAutomaton
from tests.automata import automaton_of
from tests.factories import Job

GRAMMAR = automaton_of("touched", "stop", "three thou")
CALLED = Listening(Mode.CALLED, "Clipboard")


def heard(words: str, **more: object) -> Heard:
    return Heard(words, 0.9, engine="moonshine", **more)  # type: ignore[arg-type]


def accepts(listening: Listening, words: str, now: float) -> bool:
    return listening.held(GRAMMAR, now).accepts(words.split())


class TestOpen:
    def test_it_changes_nothing(self) -> None:
        listening = Listening()
        assert listening.held(GRAMMAR, 0) is GRAMMAR
        assert listening.ahead(GRAMMAR) == (GRAMMAR,)
        assert listening.take(heard("touched"), 0) == heard("touched")
        assert not listening.key("f9", 0)
        assert listening.waits_for(0) == ""


class TestCalled:
    def test_only_what_is_called_is_heard_and_stop(self) -> None:
        listening = Listening(Mode.CALLED, "clipboard")
        assert accepts(listening, "clipboard touched", 5)
        assert accepts(listening, "clipboard", 5)
        assert accepts(listening, "stop", 5)
        assert not accepts(listening, "touched", 5)
        assert "clipboard" in listening.waits_for(5)

    def test_in_one_breath_the_word_is_taken_off(self) -> None:
        listening = Listening(Mode.CALLED, "clipboard")
        said = heard(
            "clipboard three thou",
            others=(("clipboard touched", 0.2), ("clipboard", 0.1)),
            opinion=Opinion("clipboard three thou", 0.8, "vosk"),
        )
        taken = listening.take(said, 5)
        assert taken is not None
        assert taken.words == "three thou"
        assert taken.others == (("touched", 0.2),)
        assert taken.opinion == Opinion("three thou", 0.8, "vosk")
        assert not listening.awake(5)

    def test_after_the_word_alone_one_command_goes_without_it(self) -> None:
        listening = Listening(Mode.CALLED, "clipboard")
        assert listening.take(heard("clipboard"), 100) is None
        assert accepts(listening, "touched", 101)
        assert accepts(listening, "clipboard touched", 101)
        assert listening.waits_for(101) == ""
        assert listening.take(heard(""), 102) == heard("")
        assert listening.awake(102), "a cough closes nothing"
        assert listening.take(heard("touched"), 103) == heard("touched")
        assert not accepts(listening, "touched", 103)

    def test_sound_that_is_hardly_a_command_wakes_and_closes_nothing(self) -> None:
        listening = Listening(Mode.CALLED, "clipboard")
        noise = Heard("clipboard", 0.05, engine="moonshine")
        assert listening.take(noise, 100) == noise
        assert not listening.awake(100)
        listening.take(heard("clipboard"), 100)
        listening.take(Heard("touched", 0.05, engine="moonshine"), 101)
        assert listening.awake(101)

    def test_the_word_lapses(self) -> None:
        listening = Listening(Mode.CALLED, "clipboard")
        listening.take(heard("clipboard"), 100)
        assert listening.awake(100 + ANSWER_SECONDS - 0.1)
        assert not listening.awake(100 + ANSWER_SECONDS + 0.1)

    def test_its_own_question_is_answered_without_the_word(self) -> None:
        listening = Listening(Mode.CALLED, "clipboard")
        listening.asks(100)
        assert accepts(listening, "touched", 105)
        assert not accepts(listening, "touched", 100 + ANSWER_SECONDS + 1)
        listening.asks(200)
        listening.answered()
        assert not listening.awake(200)

    def test_it_needs_a_word(self) -> None:
        with pytest.raises(ValueError, match="no word"):
            Listening(Mode.CALLED)


class TestPedal:
    def listening(self) -> Listening:
        return Listening(Mode.PEDAL, pedal="f9")

    def test_without_it_only_stop_is_heard(self) -> None:
        listening = self.listening()
        assert accepts(listening, "stop", 1)
        assert not accepts(listening, "touched", 1)
        assert "f9" in listening.waits_for(1)

    def test_held_it_listens_until_it_is_let_go(self) -> None:
        listening = self.listening()
        assert listening.key("f9", 10)
        listening.take(heard("touched"), 12)
        assert accepts(listening, "three thou", 13), "a second sentence under one press"
        assert listening.key("f9 released", 14)
        assert not listening.awake(14)

    def test_tapped_it_listens_for_one_sentence(self) -> None:
        listening = self.listening()
        listening.key("f9", 10)
        listening.key("f9 released", 10.2)
        assert listening.awake(15)
        listening.take(heard("touched"), 15)
        assert not listening.awake(15)
        listening.key("f9", 20)
        listening.key("f9 released", 20.2)
        assert not listening.awake(20.3 + ANSWER_SECONDS)

    def test_a_release_that_was_lost_does_not_listen_for_ever(self) -> None:
        listening = self.listening()
        listening.key("f9", 10)
        assert not listening.awake(10 + HELD_SECONDS + 1)

    def test_other_keys_are_not_its_own(self) -> None:
        listening = self.listening()
        assert not listening.key("escape", 1)
        assert not listening.key("page up", 1)
        assert not listening.key("enter released", 1)
        assert listening.key("f9 released", 1), "its release alone is swallowed"
        assert not listening.awake(1)


class WaitingEar:
    """An ear that is told what to report, and keeps what it is held to."""

    ready = True
    waiting = 0.0
    hanging = False

    def __init__(self) -> None:
        self.held: list[WordAutomaton] = []
        self.events: list[EarEvent] = []

    def listen_for(self, grammar: WordAutomaton) -> None:
        self.held.append(grammar)

    def prepare(self, grammars: object) -> None:
        """Nothing to prepare."""

    def poll(self) -> list[EarEvent]:
        events, self.events = self.events, []
        return events


class AtWork:
    """A live job with such an ear."""

    def __init__(self, listening: Listening) -> None:
        self.job = Job()
        self.ear = WaitingEar()
        self.live = Live(
            self.job.assistant,
            self.ear,  # type: ignore[arg-type]
            listening=listening,
            clock=self.job.clock.monotonic,
        )
        self.job.clock.advance(1)
        self.live.step()

    def hears(self, words: str, sure: float = 0.95) -> None:
        self.job.clock.advance(1)
        now = self.job.clock.monotonic()
        grammar = self.ear.held[-1]
        assert grammar.accepts(words.split()), f"{words!r} may not be heard"
        self.ear.events = [HeardEvent(Heard(words, sure, now - 0.5, now, grammar.id, "moonshine"))]
        self.live.step()
        self.live.step()

    def may_hear(self, words: str) -> bool:
        return self.ear.held[-1].accepts(words.split())

    @property
    def place(self) -> str:
        return self.job.state.step_id


def test_a_job_is_called_by_its_word():
    at = AtWork(Listening(Mode.CALLED, "clipboard"))
    first = at.place
    assert not at.may_hear("checked")
    assert at.job.assistant.ear is Ear.WAITING
    assert "clipboard" in at.job.glance.waits_for
    at.hears("clipboard checked")
    assert at.place != first
    assert not at.may_hear("checked")
    second = at.place
    at.hears("clipboard")
    assert at.place == second
    assert at.may_hear("checked")
    assert at.job.assistant.ear is Ear.LISTENING
    assert at.job.glance.waits_for == ""
    at.hears("checked")
    assert at.place != second
    assert not at.may_hear("checked")


def test_what_it_asks_back_is_answered_without_the_word():
    at = AtWork(Listening(Mode.CALLED, "clipboard"))
    at.hears("clipboard checked", sure=0.3)
    assert at.job.state.question is not None
    assert at.may_hear("yes")
    first = at.place
    at.hears("yes")
    assert at.place != first
    assert not at.may_hear("what now")
    assert at.may_hear("clipboard what now")


def test_quit_listening_leaves_listen_and_stop():
    for listening, before in (
        (Listening(), ""),
        (Listening(Mode.CALLED, "clipboard"), "clipboard "),
    ):
        at = AtWork(listening)
        at.hears(f"{before}quit listening")
        assert at.job.glance.ear is Ear.NOT_LISTENING
        assert not at.may_hear(f"{before}checked")
        assert not at.may_hear("checked")
        assert at.may_hear("stop")
        at.hears(f"{before}listen")
        assert at.may_hear(f"{before}checked")


def test_a_second_ear_that_fails_is_told_and_the_job_goes_on():
    at = AtWork(Listening())
    at.ear.events = [
        Helpless("The second ear can't be used. Numbers are checked by one ear alone.")
    ]
    at.live.step()
    assert any("one ear alone" in line for line in at.job.glance.trouble)
    assert "Second ear trouble." in at.job.speaker.texts
    assert at.job.assistant.ear is Ear.LISTENING
    at.ear.events = [Helpless("")]
    at.live.step()
    assert at.job.glance.trouble == ()


def test_the_pedal_opens_the_ear():
    at = AtWork(Listening(Mode.PEDAL, pedal="f9"))
    first = at.place
    assert not at.may_hear("checked")
    assert at.may_hear("stop")
    assert at.job.assistant.ear is Ear.WAITING
    at.job.screen.pressed.append("f9")
    at.live.step()
    at.live.step()
    assert at.job.assistant.ear is Ear.LISTENING
    at.hears("checked")
    assert at.place != first
    at.job.screen.pressed.append("f9 released")
    at.live.step()
    at.live.step()
    assert not at.may_hear("checked")


@pytest.mark.parametrize("listening", [CALLED, Listening(Mode.PEDAL, pedal="f9")])
def test_stop_is_heard_in_every_mode_and_escape_works(listening: Listening):
    at = AtWork(listening)
    at.hears("stop")
    assert at.job.state.stopped
    before = at.job.speaker.hushed
    at.job.screen.pressed.append("escape")
    at.live.step()
    assert at.job.speaker.hushed == before + 1


CALLS = Path(__file__).parents[1] / "audio" / "called"
"""Said by two voices of flite (Carnegie Mellon University, free with its notice)."""


@pytest.fixture(scope="module")
def ear() -> Iterator[MoonshineEar]:
    made = MoonshineEar()
    yield made
    made.close()


@pytest.mark.parametrize("voice", ["rms", "awb"])
def test_the_real_ear_hears_what_is_called_and_nothing_else(ear: MoonshineEar, voice: str):
    """On the grammar of a real step, through the way that a live job takes."""

    def hears(name: str) -> Heard:
        sound = np.concatenate(list(SoundFile(CALLS / f"{name}-{voice}.flac").chunks()))
        return hear(ear, np.pad(sound, 8000), at.ear.held[-1])

    listening = Listening(Mode.CALLED, "clipboard")
    at = AtWork(listening)
    at.job.to_step("touch-side")
    at.live.step()
    said = hears("clipboard_touched")
    assert said.words == "clipboard touched"
    assert said.confidence >= 0.6
    taken = listening.take(said, at.job.clock.monotonic())
    assert taken is not None
    assert taken.words == "touched"
    said = hears("touched")
    assert said.words == "" or said.confidence < NO_COMMAND, "without the word it is no command"
    said = hears("stop")
    assert said.words == "stop"
    assert said.confidence >= 0.5
    said = hears("clipboard")
    assert said.words == "clipboard"
    assert listening.take(said, at.job.clock.monotonic()) is None
    at.live.step()
    said = hears("touched")
    assert said.words == "touched"
    assert said.confidence >= 0.5


BOOK = load_book()


@pytest.mark.parametrize("word", ["clipboard", "Teapot", "coffee cup", "paprika"])
def test_words_that_can_be_told_apart_will_do(word: str) -> None:
    assert check_attention(word, BOOK) == word.lower()


@pytest.mark.parametrize(
    ("word", "why"),
    [
        ("", "letters"),
        ("r2", "letters"),
        ("hey clipboard", "greeting"),
        ("bob", "too short"),
        ("number", "said in commands"),
        ("sixty", "said in commands"),
        ("pepper", "'paper'"),
        ("turnip", "'turn"),
        ("one two three", "2 words"),
    ],
)
def test_words_that_would_be_mistaken_are_refused(word: str, why: str) -> None:
    with pytest.raises(BadInput, match="good ones are") as raised:
        check_attention(word, BOOK)
    assert why in str(raised.value)
