"""Whatever rate, channels and loudness a microphone has, the ear hears the same words."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import soundfile
import soxr

from assistant.audio import cards
from assistant.audio.advice import Fault, advise
from assistant.demo import clip_path
from assistant.devices.ear import HeardEvent, Hearing, hear
from assistant.devices.microphone import Microphone
from assistant.devices.moonshine import MoonshineEar
from assistant.devices.wav import SoundFile
from assistant.errors import DeviceFailed
from assistant.ports import RATE, Samples
from tests.automata import automaton_of
from tests.devices.test_virtual_sound import Listening, loudness, pitch_of, tone
from tests.devices.virtual_sound import (
    VirtualSound,
    plug_in_microphone,
    sound,
    sound_server,
    wait_until,
)

__all__ = ["sound", "sound_server"]

SAID = "measured one point six seven two"
GRAMMAR = automaton_of(
    SAID, "measured one point six two", "measured one point seven two", "cut forty thou this pass"
)


def clip() -> Samples:
    samples, rate = soundfile.read(clip_path("keyseat-inch", SAID), dtype="float32")
    assert rate == RATE
    return np.asarray(samples, np.float32)


@pytest.fixture(scope="module")
def ear() -> Iterator[MoonshineEar]:
    made = MoonshineEar()
    yield made
    made.close()


@pytest.mark.parametrize("channels", [1, 2])
@pytest.mark.parametrize("rate", [8_000, 16_000, 44_100, 48_000])
def test_files_of_every_rate_are_heard_alike(
    ear: MoonshineEar, tmp_path: Path, rate: int, channels: int
) -> None:
    other = soxr.resample(clip(), RATE, rate)
    path = tmp_path / "said.wav"
    soundfile.write(path, np.repeat(other[:, None], channels, axis=1), rate)
    samples = np.concatenate(list(SoundFile(path).chunks()))
    heard = hear(ear, np.pad(samples, RATE // 2), GRAMMAR)
    assert heard.words == SAID
    assert heard.confidence >= 0.5


@pytest.mark.parametrize("level", [-34, -20, 0, 6])
def test_near_and_far_are_heard_alike(ear: MoonshineEar, level: int) -> None:
    """By the stream that a microphone gives, the first sentence and the second."""
    loud = np.clip(clip() * 10 ** (level / 20), -1, 1).astype(np.float32)
    hiss = np.random.default_rng(2).normal(0, 2e-5, 2 * RATE).astype(np.float32)
    stream = np.concatenate([hiss, loud, hiss, loud, hiss])
    hearing = Hearing(ear)
    hearing.listen_for(GRAMMAR)
    found = [
        event.heard
        for start in range(0, stream.size, 320)
        for event in hearing.feed(stream[start : start + 320])
        if isinstance(event, HeardEvent)
    ]
    assert [heard.words for heard in found] == [SAID, SAID]
    assert min(heard.confidence for heard in found) >= 0.5


@pytest.mark.parametrize("channels", [1, 2])
@pytest.mark.parametrize("rate", [8_000, 16_000, 44_100, 48_000])
def test_a_card_that_takes_one_rate_alone_is_used_at_that(
    sound: VirtualSound, monkeypatch: pytest.MonkeyPatch, rate: int, channels: int
) -> None:
    usual = Microphone._start
    taken: list[tuple[int, int]] = []

    def picky(self: Microphone, sd: object, index: int, asked: int, wanted: int) -> None:
        if (asked, wanted) != (rate, channels):
            raise sd.PortAudioError("Invalid sample rate")  # type: ignore[attr-defined]
        taken.append((asked, wanted))
        usual(self, sd, index, asked, wanted)

    monkeypatch.setattr(Microphone, "_start", picky)
    listening = Listening(Microphone())
    try:
        assert wait_until(lambda: len(listening.chunks) > 5)
        sound.play(tone(1000))
        assert wait_until(lambda: loudness(listening.sound).max() > 0.25)
        assert pitch_of(listening.sound) == pytest.approx(1000, abs=3)
        assert taken == [(rate, channels)]
    finally:
        listening.close()


def test_a_microphone_named_in_the_settings_is_found_again(sound: VirtualSound) -> None:
    """By its name, although the cards are listed anew and may be numbered anew."""
    name = next(card.name for card in cards.cards("input") if "default" in card.name)
    listening = Listening(Microphone(name.upper()))
    try:
        assert wait_until(lambda: len(listening.chunks) > 5)
        sound.unplug_microphone()
        assert wait_until(lambda: len(listening.failures) > 1)
        assert isinstance(listening.failures[0][1], DeviceFailed)
        plug_in_microphone()
        before = len(listening.chunks)
        assert wait_until(lambda: len(listening.chunks) > before + 5, 20)
        sound.play(tone(700))
        assert wait_until(lambda: loudness(listening.sound).max() > 0.2)
    finally:
        listening.close()


def test_what_a_card_delivers_is_judged(sound: VirtualSound) -> None:
    """A muted card, one that is too loud, and one that is right."""

    def judged(samples: Samples) -> list[Fault]:
        listening = Listening(Microphone())
        try:
            assert wait_until(lambda: len(listening.chunks) > 5)
            listening.chunks.clear()
            if samples.size:
                sound.play(samples)
            wait_until(lambda: listening.sound.size > 3 * RATE)
            return [one.fault for one in advise(listening.sound)]
        finally:
            listening.close()

    quiet = np.random.default_rng(3).normal(0, 1e-4, RATE).astype(np.float32)
    said = np.concatenate([quiet, clip(), quiet])
    assert judged(np.zeros(0, np.float32)) == [Fault.NO_SOUND]
    assert Fault.CLIPPING in judged(np.clip(said * 30, -1, 1))
    assert judged(said) == []
