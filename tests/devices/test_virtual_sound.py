"""Microphone and speaker on a sound card of software: the whole path, plugs and all."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from assistant.audio import cards
from assistant.devices.microphone import Microphone, find_microphone
from assistant.devices.speaker import CardPlayer, QueuedSpeaker, Voice, find_speaker
from assistant.errors import DeviceFailed, DeviceMissing, WheelcallError
from assistant.ports import RATE, Samples
from assistant.spoken import Sentence
from tests.devices.virtual_sound import (
    VirtualSound,
    pactl,
    plug_in_microphone,
    plug_in_speaker,
    sound,
    sound_server,
    wait_until,
)
from tests.devices.voices import Reports

__all__ = ["sound", "sound_server"]

SENTENCE = "Saddle in, four turns and one-forty."


def tone(pitch: float, seconds: float = 1.0) -> Samples:
    """A tone that swells and fades: a hard edge would ring in the resampling."""
    t = np.arange(round(RATE * seconds)) / RATE
    return (0.4 * np.sin(2 * np.pi * pitch * t) * np.hanning(t.size)).astype(np.float32)


def loudness(sound_: Samples) -> Samples:
    """RMS of each 10 ms."""
    whole = sound_[: sound_.size // 160 * 160].reshape(-1, 160)
    return np.sqrt((whole**2).mean(axis=1))


class Listening:
    """A microphone that is read in a thread, and what came of it."""

    def __init__(self, microphone: Microphone) -> None:
        self.microphone = microphone
        self.chunks: list[Samples] = []
        self.failures: list[tuple[float, WheelcallError]] = []
        self.thread = threading.Thread(target=self._read)
        self.thread.start()

    def _read(self) -> None:
        while True:
            try:
                for chunk in self.microphone.chunks():
                    self.chunks.append(chunk)
            except WheelcallError as error:
                self.failures.append((time.monotonic(), error))
            else:
                return

    @property
    def sound(self) -> Samples:
        return np.concatenate(self.chunks) if self.chunks else np.zeros(0, np.float32)

    def close(self) -> None:
        self.microphone.close()
        self.thread.join(timeout=5)
        assert not self.thread.is_alive()


@pytest.fixture
def listening(sound: VirtualSound) -> Iterator[Listening]:
    made = Listening(Microphone())
    assert wait_until(lambda: len(made.chunks) > 5)
    yield made
    made.close()


def pitch_of(samples: Samples) -> float:
    spectrum = np.abs(np.fft.rfft(samples))
    return float(np.argmax(spectrum) * RATE / samples.size)


def test_what_is_played_arrives_at_the_microphone(
    sound: VirtualSound, listening: Listening
) -> None:
    sound.play(tone(1000))
    assert wait_until(lambda: loudness(listening.sound).max() > 0.25)
    time.sleep(0.2)
    assert pitch_of(listening.sound) == pytest.approx(1000, abs=2)
    assert float(np.abs(listening.sound).max()) == pytest.approx(0.4, abs=0.02)
    assert all(160 <= chunk.size <= 800 for chunk in listening.chunks)
    assert listening.failures == []
    assert listening.microphone.live


def test_the_microphone_unplugged_is_noticed_and_found_again(
    sound: VirtualSound, listening: Listening
) -> None:
    unplugged = time.monotonic()
    sound.unplug_microphone()
    assert wait_until(lambda: bool(listening.failures))
    noticed, error = listening.failures[0]
    assert isinstance(error, DeviceFailed)
    # The server hands out the speaker's own sound in its place: that is no microphone.
    assert "the speaker's own" in str(error)
    assert noticed - unplugged < 2.0
    assert wait_until(lambda: len(listening.failures) > 1), "and it is looked for again"
    plug_in_microphone()
    before = len(listening.chunks)
    assert wait_until(lambda: len(listening.chunks) > before + 5)
    sound.play(tone(700))
    assert wait_until(lambda: loudness(listening.sound).max() > 0.2)


def test_no_microphone_is_said_with_its_cost(sound: VirtualSound) -> None:
    assert find_microphone().name == "microphone (default)"
    with pytest.raises(DeviceMissing, match=r"named like 'headset'; there is .*default"):
        find_microphone("headset")
    sound.unplug_microphone()
    with pytest.raises(DeviceMissing, match=r"speaker_out\.monitor") as raised:
        find_microphone()
    assert "typed" in raised.value.cost


def test_listing_the_cards_anew_interrupts_the_microphone_for_a_moment_only(
    listening: Listening,
) -> None:
    before = len(listening.chunks)
    cards.rescan()
    assert wait_until(lambda: len(listening.chunks) > before + 10)
    assert listening.failures == []


def test_unread_sound_is_thrown_away_the_oldest_first(
    sound: VirtualSound, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("assistant.devices.microphone.QUEUE_SECONDS", 0.5)
    microphone = Microphone()
    chunks = microphone.chunks()
    next(chunks)
    time.sleep(1.5)
    next(chunks)
    assert microphone.lost_seconds > 0.5
    microphone.close()
    assert len(list(chunks)) <= 2


@pytest.fixture
def reports() -> Reports:
    return Reports()


@pytest.fixture
def speaker(sound: VirtualSound, reports: Reports, tmp_path: Path) -> Iterator[QueuedSpeaker]:
    try:
        Voice().close()
        made = find_speaker(tmp_path / "spoken", mode="card", report=reports)
    except DeviceMissing as missing:
        pytest.skip(str(missing))
    assert isinstance(made, QueuedSpeaker)
    assert made.notices == ()
    yield made
    made.close()


def test_what_is_said_comes_out_of_the_speaker_whole(
    sound: VirtualSound, speaker: QueuedSpeaker
) -> None:
    expected = speaker._voice.sound(SENTENCE, 190)
    with sound.recording() as recorded:
        speaker.say([Sentence(SENTENCE)])
        assert speaker.wait(15)
        time.sleep(0.3)
    heard = np.flatnonzero(np.abs(recorded[0]) > 0.01)
    assert heard.size, "nothing came out"
    spoken = np.flatnonzero(np.abs(expected.samples) > 0.01)
    length = (heard[-1] - heard[0]) / RATE
    assert length == pytest.approx((spoken[-1] - spoken[0]) / expected.rate, abs=0.08)
    assert float(np.abs(recorded[0]).max()) == pytest.approx(
        float(np.abs(expected.samples).max()), rel=0.15
    )


def test_waiting_ends_when_the_sound_does(sound: VirtualSound, speaker: QueuedSpeaker) -> None:
    speaker.say([Sentence("Lock it.")])
    assert speaker.wait(15)  # the server is awake from here on
    begun = time.monotonic()
    speaker.say([Sentence(SENTENCE)])
    assert speaker.wait(15)
    took = time.monotonic() - begun
    lasts = speaker._voice.sound(SENTENCE, 190).seconds
    assert lasts - 0.4 < took < lasts + 3  # the end of the sound, however long the card sleeps


def test_hush_is_silence_at_once(sound: VirtualSound, speaker: QueuedSpeaker) -> None:
    with sound.recording() as recorded:
        speaker.say([Sentence("Lock it.")])
        assert speaker.wait(15)
        time.sleep(0.5)
        speaker.say([Sentence(SENTENCE), Sentence(SENTENCE)])
        assert wait_until(lambda: played(speaker) > 1000)
        time.sleep(0.5)
        speaker.hush()
        assert speaker.wait(2)
        time.sleep(3)
    # A card of software sleeps for up to two seconds at a stretch, so when it was silent can't be
    # told to a tenth (scripts/bench_devices does, at a card that is kept awake): how much was
    # heard can. Without the hush it would be two whole sentences more.
    heard = np.count_nonzero(loudness(recorded[0]) > 0.01) * 0.01
    said = speaker._voice.sound("Lock it.", 190).seconds
    queued = 2 * speaker._voice.sound(SENTENCE, 190).seconds
    assert queued > 4
    assert heard < said + 1.5


def played(speaker: QueuedSpeaker) -> float:
    """How far the sentence at hand has come, in samples; 0 between sentences."""
    now = speaker._player._now  # type: ignore[attr-defined]
    return 0.0 if now is None else float(now.at)


def test_volume_is_the_card_s(sound: VirtualSound, speaker: QueuedSpeaker) -> None:
    peaks = []
    for volume in (1.0, 0.25):
        speaker.adjust(volume=volume)
        with sound.recording() as recorded:
            speaker.say([Sentence("Zero the saddle.")])
            assert speaker.wait(15)
            time.sleep(0.3)
        peaks.append(float(np.abs(recorded[0]).max()))
    assert peaks[1] == pytest.approx(peaks[0] / 4, rel=0.1)


def test_a_killed_sound_server_is_noticed_and_taken_up_again(
    sound: VirtualSound, speaker: QueuedSpeaker, reports: Reports
) -> None:
    speaker.say([Sentence("Lock it.")])
    assert speaker.wait(15)
    killed = time.monotonic()
    pactl("exit")
    assert wait_until(lambda: bool(speaker.trouble), 5)
    assert time.monotonic() - killed < 2.5
    assert reports.all[0][0]
    assert not speaker.speaking


def test_a_speaker_that_plays_to_nobody_is_noticed_and_taken_up_again(
    sound: VirtualSound, speaker: QueuedSpeaker, reports: Reports
) -> None:
    speaker.say([Sentence("Lock it.")])
    assert speaker.wait(15)
    pactl("load-module", "module-null-sink", "sink_name=auto_null")
    pactl("set-default-sink", "auto_null")
    unplugged = time.monotonic()
    sound.unplug_speaker()
    assert wait_until(lambda: bool(speaker.trouble), 5)
    assert time.monotonic() - unplugged < 2.5
    assert "played to nobody" in speaker.trouble
    speaker.say([Sentence("Up six.")])
    assert ("the sound server has none: what it is given is played to nobody", ["Up six."]) in (
        reports.all
    )
    plug_in_speaker()
    assert wait_until(lambda: not speaker.trouble, 15)
    with sound.recording() as recorded:
        speaker.say([Sentence("Lock it.")])
        assert speaker.wait(15)
        time.sleep(0.3)
    assert float(np.abs(recorded[0]).max()) > 0.05


def test_a_named_card_is_found_by_a_part_of_its_name(sound: VirtualSound) -> None:
    names = {card.name for card in cards.cards("output")}
    assert "default" in names
    assert cards.find_card("output", "DEFAU", "speaker", "").name == "default"
    player = CardPlayer("defau")
    player.open()
    player.close()
    assert "defau" in player.name
