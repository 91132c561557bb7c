"""The clear voice in its process, and the system's that stands in for it sentence by sentence."""

from __future__ import annotations

import os
import signal
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import pytest

from assistant.devices.speaker import (
    QueuedSpeaker,
    Sound,
    SteadyVoice,
    TextRefused,
    Voice,
    find_speaker,
    voice_of,
)
from assistant.devices.speaker import steady_voice as steady_module
from assistant.errors import DeviceFailed, DeviceMissing
from assistant.spoken import Sentence
from tests.devices.engines import Write, ends_at_once, has_no_engine, loads_slowly, obeys
from tests.devices.voices import Reports, ScriptedPlayer, ScriptedVoice


class Second(Voice):
    """Stands in; keeps what it was asked."""

    def __init__(self) -> None:
        super().__init__(load=ends_at_once)
        self.asked: list[str] = []
        self.missing = False

    def start(self) -> None:
        if self.missing:
            raise DeviceMissing("voice", "no libespeak", "")

    def sound(self, text: str, rate: int, shape: float = 1.0) -> Sound:
        if self.missing:
            raise DeviceFailed("voice", "no libespeak")
        self.asked.append(text)
        return Sound(np.zeros(220, np.float32), 22_050)


@pytest.fixture
def second() -> Second:
    return Second()


def steady(load: Callable[[], Write], second: Second) -> SteadyVoice:
    first = Voice(load=load, answer_seconds=0.5)
    return SteadyVoice(first, second)


def until_first_speaks(voice: SteadyVoice, text: str) -> Sound:
    """The first voice's sound of `text`, once it is loaded again."""
    end = time.monotonic() + 30
    while (sound := voice.sound(text, 190)).rate != 24_000:
        assert time.monotonic() < end
        time.sleep(0.02)
    return sound


@pytest.mark.parametrize("trouble", ["refuse", "hang", "crash"])
def test_the_second_says_what_the_first_cannot_and_then_the_first_again(
    trouble: str, second: Second
) -> None:
    voice = steady(obeys, second)
    voice.start()
    until_first_speaks(voice, "Lock it.")
    second.asked.clear()
    assert voice.sound(f"Now {trouble}.", 190).rate == 22_050
    assert second.asked == [f"Now {trouble}."]
    assert bool(voice.standing_in) == (trouble != "refuse")
    until_first_speaks(voice, "Spindle off.")
    assert voice.standing_in == ""
    voice.close()


def test_a_refused_text_leaves_the_engine_running(second: Second) -> None:
    voice = steady(obeys, second)
    voice.start()
    until_first_speaks(voice, "Lock it.")
    child = voice._first._child
    assert child is not None
    voice.sound("refuse", 190)
    assert child.pid
    assert voice._first._child is child
    voice.close()


def test_one_that_does_not_start_is_told_and_given_up(second: Second) -> None:
    voice = steady(has_no_engine, second)
    voice.start()
    assert "no libespeak" in voice.standing_in
    end = time.monotonic() + 30
    while voice._failures < steady_module.MOST_FAILURES:
        assert time.monotonic() < end
        assert voice.sound("Knee up three.", 190).rate == 22_050
        time.sleep(0.01)
    assert voice._first._child is None, "no more tries"
    assert voice.sound("Knee up four.", 190).rate == 22_050
    assert voice._first._child is None
    voice.close()


def test_one_that_is_long_in_loading_is_waited_for_by_nobody(
    second: Second, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(steady_module, "PATIENCE_SECONDS", 0.05)
    voice = steady(loads_slowly, second)
    voice.start()
    assert voice.sound("Lock it.", 190).rate == 22_050
    assert voice.standing_in == "", "nothing is wrong with it"
    until_first_speaks(voice, "Lock it.")
    voice.close()


def test_without_either_there_is_no_voice(second: Second) -> None:
    second.missing = True
    voice = steady(ends_at_once, second)
    with pytest.raises(DeviceMissing, match="no libespeak"):
        voice.start()
    voice.close()


def test_a_text_that_neither_can_say_is_told_once_and_the_next_is_said(second: Second) -> None:
    second.missing = True
    reports = Reports()
    player = ScriptedPlayer()
    voice = steady(obeys, second)
    assert voice._first.ready(30)
    speaker = QueuedSpeaker(voice, player, report=reports)
    speaker.say([Sentence("refuse"), Sentence("Lock it.")])
    assert speaker.wait(10)
    assert player.played == ["Lock it."]
    assert reports.all[0][1] == ["refuse"]
    assert speaker.trouble == ""
    speaker.close()


# -- the real one ---------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def clear() -> Iterator[Voice]:
    voice = Voice(kind="clear")
    voice.start()
    yield voice
    voice.close()


def test_the_clear_voice_speaks_and_refuses(clear: Voice) -> None:
    sound = clear.sound("Then saddle in, four turns and one forty and a half.", 190)
    assert sound.rate == 24_000
    assert 2 < sound.seconds < 5
    assert 0.3 < float(np.abs(sound.samples).max()) <= 0.96
    with pytest.raises(TextRefused, match="can't say this"):
        clear.sound("Вал.", 190)
    plain = clear.sound("Then saddle in, four turns and one forty and a half.", 190, 0.0)
    assert not np.array_equal(plain.samples[:9600], sound.samples[:9600])
    assert clear.sound("Lock it.", 100).seconds > 1.3 * clear.sound("Lock it.", 190).seconds


def test_a_killed_clear_voice_comes_back() -> None:
    voice = voice_of(None)
    assert isinstance(voice, SteadyVoice)
    assert voice._first.ready(30)
    assert voice._first._child is not None
    os.kill(voice._first._child.pid, signal.SIGKILL)
    try:
        assert voice.sound("Knee up three.", 190).seconds > 0.4
    except DeviceFailed as failed:
        pytest.skip(f"no system voice to stand in: {failed}")
    until_first_speaks(voice, "Knee up three, then lock it.")
    voice.close()


@pytest.mark.parametrize(("name", "kind"), [("clear", SteadyVoice), ("system", Voice)])
def test_the_voice_is_chosen_by_name(name: str, kind: type) -> None:
    voice = voice_of(name)
    assert type(voice) is kind
    voice.close()


def test_another_name_is_one_of_the_system_s() -> None:
    voice = voice_of("english-us")
    assert isinstance(voice, Voice)
    assert voice.voice == "english-us"
    voice.close()


def test_a_voice_that_stands_in_is_a_notice(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, second: Second
) -> None:
    from assistant.devices.speaker import find as find_module

    def made(_name: str | None, _network: Path | None = None) -> SteadyVoice:
        return steady(ends_at_once, second)

    monkeypatch.setattr(find_module, "voice_of", made)
    speaker = find_speaker(tmp_path, mode="files", tell=lambda _line: None)
    assert any("understood less in noise" in line for line in speaker.notices)
    speaker.close()


# -- ahead of need --------------------------------------------------------------------------------


class Slow(ScriptedVoice):
    """Tells what it has made, and waits for leave before each."""

    def __init__(self) -> None:
        super().__init__()
        self.leave = threading.Semaphore(0)

    def sound(self, text: str, rate: int, shape: float = 1.0) -> Sound:
        made = super().sound(text, rate, shape)
        assert self.leave.acquire(timeout=10)
        return made


def asked_soon(voice: ScriptedVoice, count: int) -> list[str]:
    end = time.monotonic() + 10
    while len(voice.asked) < count:
        assert time.monotonic() < end
        time.sleep(0.005)
    return [text for text, _ in voice.asked]


def test_what_is_foreseen_is_made_while_nothing_is_said() -> None:
    voice = ScriptedVoice()
    speaker = QueuedSpeaker(voice, ScriptedPlayer())
    speaker.foresee(["Knee up three.", " ", "Lock it."])
    assert asked_soon(voice, 2) == ["Knee up three.", "Lock it."]
    assert not speaker.speaking
    speaker.close()


def test_a_change_of_step_throws_the_rest_away_and_words_come_first() -> None:
    voice, player = Slow(), ScriptedPlayer()
    speaker = QueuedSpeaker(voice, player)
    speaker.foresee(["One.", "Two.", "Three."])
    assert asked_soon(voice, 1) == ["One."]
    speaker.say([Sentence("Spindle off.")])
    speaker.foresee(["Four."])
    for _ in range(3):
        voice.leave.release()
    assert asked_soon(voice, 3) == ["One.", "Spindle off.", "Four."]
    assert speaker.wait(5)
    assert player.played == ["Spindle off."]
    speaker.close()


def test_a_failure_ahead_is_no_trouble_yet() -> None:
    voice, player, reports = ScriptedVoice(), ScriptedPlayer(), Reports()
    speaker = QueuedSpeaker(voice, player, report=reports)
    voice.failing = "hangs"
    speaker.foresee(["One."])
    asked_soon(voice, 1)
    voice.failing = ""
    speaker.say([Sentence("Lock it.")])
    assert speaker.wait(5)
    assert reports.all == []
    speaker.close()
