"""Advice about a microphone, on made-up faults of real speech."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.audio.advice import Advice, Fault, advise, mains_hum
from assistant.ports import RATE, Samples

CLIPS = Path(__file__).parent / "clips"


def speech() -> Samples:
    """Clear speech with a pause before and after, at about -20 dB, over a faint hiss."""
    samples, rate = soundfile.read(CLIPS / "cut_forty_thou_this_pass.flac", dtype="float32")
    assert rate == RATE
    quiet = np.zeros(round(1.2 * RATE), np.float32)
    sound = np.concatenate([quiet, samples, quiet])
    return sound + hiss(sound.size, -75)


def hiss(size: int, level_db: float) -> Samples:
    noise = np.random.default_rng(5).normal(0, 10 ** (level_db / 20), size)
    return noise.astype(np.float32)


def hum(size: int, hertz: float, level_db: float) -> Samples:
    """As an earth loop gives: the mains and its odd harmonics."""
    t = np.arange(size) / RATE
    wave = sum(np.sin(2 * np.pi * hertz * k * t + k) / k for k in (1, 2, 3, 5))
    wave *= 10 ** (level_db / 20) / np.sqrt(np.mean(np.square(wave)))
    return np.asarray(wave, np.float32)


def louder(sound: Samples, by_db: float) -> Samples:
    return np.clip(sound * np.float32(10 ** (by_db / 20)), -1, 1).astype(np.float32)


def faults(sound: Samples) -> list[Fault]:
    return [advice.fault for advice in advise(sound)]


def test_clear_speech_needs_no_advice() -> None:
    assert advise(speech()) == ()


@pytest.mark.parametrize("value", [0.0, 1e-5])
def test_no_sound_at_all(value: float) -> None:
    (one,) = advise(np.full(3 * RATE, value, np.float32))
    assert one.fault is Fault.NO_SOUND
    assert one.serious
    assert "muted" in one.do


def test_too_quiet() -> None:
    (one,) = advise(louder(speech() - hiss(speech().size, -75), -35) + hiss(speech().size, -85))
    assert one.fault is Fault.QUIET
    assert one.serious
    assert "nearer" in one.do


def test_clipping() -> None:
    first, *_ = advise(louder(speech(), 30))
    assert first.fault is Fault.CLIPPING
    assert first.serious
    assert "% of the sound is clipped" in first.found


def test_near_clipping_is_only_a_hint() -> None:
    sound = speech()
    sound *= np.float32(0.9 / np.abs(sound).max())
    (one,) = advise(sound)
    assert one.fault is Fault.LOUD
    assert not one.serious


def test_nobody_spoke() -> None:
    assert faults(hiss(3 * RATE, -50)) == [Fault.NOBODY]


@pytest.mark.parametrize("hertz", [50, 60])
@pytest.mark.parametrize("level", [-35.0, -55.0])
def test_mains_hum_is_told_by_its_frequency(hertz: int, level: float) -> None:
    sound = speech()
    found = [one for one in advise(sound + hum(sound.size, hertz, level)) if one.fault is Fault.HUM]
    (one,) = found
    assert f"{hertz} Hz" in one.found
    assert not one.serious
    measured = mains_hum(sound + hum(sound.size, hertz, level))
    assert measured is not None
    assert measured[0] == hertz
    assert measured[1] == pytest.approx(level, abs=1.5)


@pytest.mark.parametrize("hertz", [29, 43.7, 440])
def test_a_machine_that_turns_is_no_mains(hertz: float) -> None:
    sound = speech()
    assert mains_hum(sound + hum(sound.size, hertz, -40)) is None


def test_hiss_and_speech_are_no_hum() -> None:
    assert mains_hum(hiss(4 * RATE, -30)) is None
    assert mains_hum(speech()) is None
    assert mains_hum(np.zeros(10, np.float32)) is None
    assert mains_hum(np.zeros(RATE, np.float32)) is None


def test_speech_that_hardly_stands_above_the_noise() -> None:
    sound = speech()
    assert Fault.NOISE in faults(sound + hiss(sound.size, -32))


def test_the_worst_comes_first() -> None:
    found: tuple[Advice, ...] = advise(louder(speech() + hum(speech().size, 50, -45), 30))
    assert [one.fault for one in found][:1] == [Fault.CLIPPING]
    assert Fault.HUM in [one.fault for one in found]
