"""The second ear beside the first: it is asked, it is in time, and its failing harms nothing."""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path

import numpy as np
import psutil
import pytest
import soundfile

from assistant.demo import clip_path
from assistant.devices.ear import (
    EarProcess,
    EarState,
    HeardEvent,
    Hearing,
    Helpless,
    ScriptedEar,
    hear,
)
from assistant.devices.moonshine import MoonshineEar
from assistant.devices.opinion import Helper, SecondOpinion, with_second_opinion
from assistant.devices.opinion.strange import StrangeWords
from assistant.devices.vosk import VoskEar
from assistant.errors import DeviceMissing
from assistant.phrases.held import called
from assistant.ports import RATE, Recogniser, Samples
from assistant.spoken import Heard
from tests.automata import automaton_of
from tests.devices.test_ear_process import CLIPS, say, until, words

MODEL = Path(__file__).resolve().parents[2] / "voice_models" / "wheelcall-en-small"
GRAMMAR = automaton_of("measured one point one oh nine", "measured one point one nine", "touched")
PATIENCE = 30.0


class HangingEar(ScriptedEar):
    """Never comes back from an utterance."""

    def feed(self, samples: Samples) -> str:
        time.sleep(3600)
        return ""


class DyingEar(ScriptedEar):
    """Takes the process with it, as a crash in native code would."""

    def feed(self, samples: Samples) -> str:
        os._exit(3)


class DyingOnce(ScriptedEar):
    """Dies at its first utterance ever, told by a file."""

    def __init__(self, mark: str) -> None:
        super().__init__(["measured one point one nine"] * 9999)
        self._mark = Path(mark)

    def feed(self, samples: Samples) -> str:
        if not self._mark.exists():
            self._mark.touch()
            os._exit(3)
        return super().feed(samples)


class RaisingEar(ScriptedEar):
    """Fails in a way that nobody foresaw."""

    def feed(self, samples: Samples) -> str:
        raise ArithmeticError("no such thing")


def missing_ear() -> Recogniser:
    raise DeviceMissing("Vosk ear", "the model is not there")


def clip(name: str) -> Samples:
    samples, _ = soundfile.read(CLIPS / f"{name}.flac", dtype="float32")
    return np.concatenate([samples, np.zeros(RATE, np.float32)])


SOUND = clip("measured_one_point_one_oh_nine")


@contextmanager
def both(make: Callable[[], Recogniser], **options: float) -> Iterator[SecondOpinion]:
    """A first ear that hears 1.109 every time, and a second one in its process."""
    helper = Helper(make, **options)
    ear = SecondOpinion(ScriptedEar(["measured one point one oh nine"] * 999), helper, wait=0.05)
    try:
        ear.prepare([GRAMMAR])
        yield ear
    finally:
        ear.close()


def heard_until(ear: SecondOpinion, enough: Callable[[Heard], bool]) -> Heard:
    """The first hearing that is enough; the process may have to start first."""
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end:
        heard = hear(ear, SOUND, GRAMMAR)
        assert heard.words == "measured one point one oh nine", "the first ear is not disturbed"
        if enough(heard):
            return heard
        time.sleep(0.05)
    raise AssertionError(f"never came: {ear.trouble}")


def test_what_the_second_ear_heard_comes_with_what_the_first_did() -> None:
    with both(partial(ScriptedEar, ["measured one point one nine"] * 999)) as ear:
        heard = heard_until(ear, lambda heard: heard.opinion is not None)
        assert heard.opinion is not None
        assert heard.opinion.words == "measured one point one nine"
        assert heard.opinion.engine == "scripted"
        assert ear.name == "scripted"
        assert ear.trouble == ""


def test_a_second_ear_that_hangs_costs_no_more_than_the_wait_and_is_ended() -> None:
    with both(HangingEar, answer_seconds=0.5) as ear:
        slowest = 0.0
        end = time.monotonic() + PATIENCE
        while not ear.trouble:
            assert time.monotonic() < end
            began = time.monotonic()
            assert hear(ear, clip("touched")[:RATE], GRAMMAR).opinion is None
            slowest = max(slowest, time.monotonic() - began)
        assert "second ear" in ear.trouble
        assert slowest < 2.0, "the work of a loaded machine, and never the hang"


@pytest.mark.parametrize("make", [DyingEar, RaisingEar])
def test_a_second_ear_that_dies_is_given_up_after_a_few_starts_and_that_is_said(
    make: Callable[[], Recogniser], capfd: pytest.CaptureFixture[str]
) -> None:
    with both(make) as ear:
        heard_until(ear, lambda heard: "can't be used" in ear.trouble)
        assert "one ear alone" in ear.trouble
        assert heard_until(ear, lambda _: True).opinion is None
    assert "Traceback" not in capfd.readouterr().err


def test_a_second_ear_that_died_once_is_there_again(tmp_path: Path) -> None:
    with both(partial(DyingOnce, str(tmp_path / "died"))) as ear:
        heard = heard_until(ear, lambda heard: heard.opinion is not None)
        assert (tmp_path / "died").exists()
        assert heard.opinion is not None
        assert heard.opinion.words == "measured one point one nine"
        assert ear.trouble == ""


def test_it_has_no_opinion_of_words_that_it_cannot_hear() -> None:
    """As of an attention word: what it makes of the rest would be made up."""
    grammar = automaton_of("measured one point one oh nine", "clipboard touched", "touched")
    first = ScriptedEar(["clipboard touched"] * 999)
    ear = SecondOpinion(first, Helper(partial(VoskEar, MODEL)), better=True)
    try:
        ear.prepare([grammar])
        end = time.monotonic() + PATIENCE
        while not ear._second.deaf:
            assert time.monotonic() < end
            time.sleep(0.05)
        assert ear._second.deaf == {"clipboard"}
        assert hear(ear, SOUND, grammar).opinion is None
        ear._first = ScriptedEar(["touched"] * 999)
        opinion = None
        while opinion is None:
            assert time.monotonic() < end
            opinion = hear(ear, SOUND, grammar).opinion
        assert grammar.accepts(opinion.words.split())
        assert opinion.better
    finally:
        ear.close()


@pytest.mark.parametrize("call", ["clipboard", "coffee cup"])
def test_an_attention_word_that_it_does_not_know_is_stood_in_for(call: str) -> None:
    strange = StrangeWords(call, "[unk]")
    made = called(GRAMMAR, call.split(), ("touched",))
    told = strange.grammar(made)
    stood_in = " ".join("[unk]" for _ in call.split())
    assert told.accepts([*stood_in.split(), "touched"])
    assert told.accepts(["touched"])
    assert not told.vocabulary & set(call.split())
    assert told.id != made.id
    assert told is strange.grammar(made)
    assert strange.grammar(GRAMMAR) is GRAMMAR
    assert strange.words(f"{stood_in} touched") == f"{call} touched"
    assert strange.words(stood_in) == call
    assert strange.words("touched") == "touched"


@pytest.mark.parametrize("voice", ["rms", "awb"])
def test_the_real_second_ear_hears_what_follows_the_attention_word(voice: str) -> None:
    """The model knows no "clipboard"."""
    made = called(GRAMMAR, ["clipboard"], ())
    first = ScriptedEar(["clipboard touched"] * 999)
    helper = Helper(partial(VoskEar, MODEL))
    ear = SecondOpinion(first, helper, strange=StrangeWords("clipboard", "[unk]"), wait=2.0)
    samples, _ = soundfile.read(
        CLIPS.parent / "called" / f"clipboard_touched-{voice}.flac", dtype="float32"
    )
    try:
        ear.prepare([made])
        end = time.monotonic() + PATIENCE
        opinion = None
        while opinion is None:
            assert time.monotonic() < end
            opinion = hear(ear, np.pad(samples, 8000), made).opinion
        assert opinion.words == "clipboard touched"
        assert opinion.confidence > 0.5
        assert not helper.deaf
    finally:
        ear.close()


def test_a_second_ear_that_is_missing_is_not_tried_again() -> None:
    with both(missing_ear) as ear:
        heard_until(ear, lambda heard: "can't be used" in ear.trouble)


def test_an_older_answer_is_none_to_a_newer_question() -> None:
    helper = Helper(partial(ScriptedEar, ["touched"] * 999))
    try:
        helper.prepare([GRAMMAR])
        first = helper.ask(GRAMMAR, SOUND)
        end = time.monotonic() + PATIENCE
        while helper.told(first, 0.1) is None:
            assert time.monotonic() < end
        assert helper.told(first + 1, 0.01) is None
    finally:
        helper.close()


def test_what_was_said_after_a_pause_is_asked_about_anew() -> None:
    """The opinion is about the whole sentence, not about its beginning."""

    class Counting(Helper):
        asked: list[int]

        def __init__(self) -> None:
            self.asked = []
            super().__init__(missing_ear)

        def ask(self, grammar: object, sound: Samples) -> int:
            self.asked.append(sound.size)
            return len(self.asked)

    helper = Counting()
    ear = SecondOpinion(ScriptedEar(["touched"]), helper, wait=0.0)
    try:
        hearing = Hearing(ear)
        hearing.listen_for(GRAMMAR)
        part = clip("touched")[: -RATE // 2]
        gap = np.zeros(round(0.35 * RATE), np.float32)
        quiet = np.zeros(RATE, np.float32)
        sound = np.concatenate([part, gap, clip("measured_one_point_one_oh_nine"), quiet])
        found = [
            event
            for start in range(0, sound.size, 320)
            for event in hearing.feed(sound[start : start + 320])
        ]
        assert len([event for event in found if isinstance(event, HeardEvent)]) >= 1
        assert len(helper.asked) >= 2
        assert helper.asked[-1] > helper.asked[0]
    finally:
        ear.close()


def test_the_real_ears_agree_on_a_clear_size_in_the_ear_s_own_process() -> None:
    said = "measured one point six seven two"
    grammar = automaton_of(said, "measured one point seven two", "touched")
    samples, _ = soundfile.read(clip_path("keyseat-inch", said), dtype="float32")
    sound = np.pad(samples, RATE)
    make = partial(with_second_opinion, MoonshineEar, partial(VoskEar, MODEL))
    ear = EarProcess(make)
    try:
        ear.start()
        ear.prepare([grammar])
        ear.listen_for(grammar)
        ear.wait_ready(60)
        end = time.monotonic() + 120
        told: list[Heard] = []
        while not told:
            assert time.monotonic() < end
            say(ear, sound)
            found = until(ear, lambda found: bool(words(found)))
            every = [event.heard for event in found if isinstance(event, HeardEvent)]
            told = [heard for heard in every if heard.opinion is not None]
        heard, opinion = told[0], told[0].opinion
        assert opinion is not None
        assert heard.engine == "moonshine"
        assert heard.words == opinion.words == said
        assert opinion.engine == "vosk"
    finally:
        ear.close()


def test_the_second_ear_s_words_are_shown_while_the_first_is_silent() -> None:
    said = "measured one point six seven two"
    grammar = automaton_of(said, "measured one point seven two", "touched")
    samples, _ = soundfile.read(clip_path("keyseat-inch", said), dtype="float32")
    with both(partial(VoskEar, MODEL)) as ear:

        def follow(sound: Samples, enough: Callable[[str], bool]) -> str:
            """The words that are shown by and by, while nothing more is said."""
            words = [ear.feed(part) for part in np.array_split(sound, 40)][-1]
            end = time.monotonic() + PATIENCE
            while not enough(words) and time.monotonic() < end:
                time.sleep(0.02)
                words = ear.feed(np.zeros(320, np.float32))
            return words

        ear.begin(grammar)
        half = samples.size // 2
        begun = follow(samples[:half], bool)
        assert begun.startswith("measured")
        assert begun != said
        ear.pause()
        # the pause had it hear all and end it; it follows the whole sentence anew
        assert follow(samples[half:], said.__eq__) == said
        ear.finish()
        ear.begin(grammar)
        assert ear.feed(samples[:320]) == "", "nothing of the sentence before"


def test_the_ear_s_process_reports_that_its_helper_is_gone_and_goes_on() -> None:
    first = partial(ScriptedEar, ["touched"] * 99)
    ear = EarProcess(partial(with_second_opinion, first, missing_ear))
    try:
        ear.start()
        ear.listen_for(GRAMMAR)
        ear.wait_ready(60)
        found = []
        end = time.monotonic() + 60
        while not any(isinstance(event, Helpless) for event in found):
            assert time.monotonic() < end
            say(ear, clip("touched"))
            found = until(ear, lambda found: bool(words(found)))
        assert "one ear alone" in next(e.why for e in found if isinstance(e, Helpless))
        assert not any(isinstance(e, EarState) and e.doing == "trouble" for e in found)
    finally:
        ear.close()


def test_the_second_ear_s_process_ends_with_the_first_ear_s() -> None:
    """Also where that is killed: nothing is left behind."""
    ear = EarProcess(partial(with_second_opinion, partial(ScriptedEar, []), ScriptedEar))
    try:
        ear.start()
        ear.prepare([GRAMMAR])
        ear.wait_ready(60)
        assert ear._child is not None
        first = psutil.Process(ear._child.pid)
        end = time.monotonic() + 60
        while not (second := first.children()):
            assert time.monotonic() < end
            time.sleep(0.05)
        first.kill()
        gone, left = psutil.wait_procs(second, timeout=20)
        assert gone
        assert not left
    finally:
        ear.close()


def test_a_first_ear_that_is_missing_is_missing() -> None:
    with pytest.raises(DeviceMissing):
        with_second_opinion(missing_ear, partial(ScriptedEar, []))
