"""Levels of sound, against values worked by hand."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.audio.levels import (
    FLOOR_DB,
    AutomaticGain,
    active_speech_level,
    amplify,
    measure,
)
from assistant.ports import RATE, Samples


def tone(seconds: float, amplitude: float) -> Samples:
    time = np.arange(round(seconds * RATE)) / RATE
    return (amplitude * np.sin(2 * np.pi * 400 * time)).astype(np.float32)


def test_a_full_scale_sine_is_3_db_down() -> None:
    level = measure(tone(1, 1.0))
    # the effective value of a sine is its peak by the square root of 2: 3.01 dB
    assert level.rms_db == pytest.approx(-3.01, abs=0.01)
    assert level.peak_db == pytest.approx(0, abs=0.01)
    assert level.clipped > 0.05


def test_silence_has_a_floor_and_no_sound_is_silence() -> None:
    assert measure(np.zeros(100, np.float32)).rms_db == FLOOR_DB
    assert measure(np.zeros(0, np.float32)).rms_db == FLOOR_DB
    assert measure(np.zeros(0, np.float32)).bar == 0


def test_the_bar_runs_from_minus_60_db_to_full_scale() -> None:
    square = np.ones(100, np.float32)
    assert measure(square).bar == pytest.approx(1)
    assert measure(square * 10 ** (-30 / 20)).bar == pytest.approx(0.5)
    assert measure(square * 10 ** (-70 / 20)).bar == 0


def test_the_speech_level_does_not_fall_with_the_pauses() -> None:
    """ITU-T P.56: unlike the mean power, the active level is that of the speech alone."""
    said = tone(2, 0.1)
    level, activity = active_speech_level(said)
    assert level == pytest.approx(-23.0, abs=0.1)
    assert activity == pytest.approx(1, abs=0.02)
    with_pauses = np.concatenate([np.zeros(4 * RATE, np.float32), said, np.zeros_like(said)])
    paused_level, paused_activity = active_speech_level(with_pauses)
    assert paused_level == pytest.approx(level, abs=0.7)  # the hangover of 0.2 s counts as speech
    assert paused_activity == pytest.approx(2 / 8, abs=0.05)
    assert measure(with_pauses).rms_db == pytest.approx(-23.0 - 6.0, abs=0.1)


def test_the_level_of_nothing_is_the_floor() -> None:
    assert active_speech_level(np.zeros(RATE, np.float32)) == (FLOOR_DB, 0.0)


@pytest.mark.parametrize("amplitude", [0.004, 0.5])
def test_the_gain_brings_near_and_far_to_one_level(amplitude: float) -> None:
    gain = AutomaticGain(target_db=-26)
    for frame in tone(10, amplitude).reshape(-1, 320):
        gain.hear(frame, speech=0.9)
    assert measure(amplify(tone(1, amplitude), gain.gain_db)).rms_db == pytest.approx(-26, abs=1)


def test_the_gain_learns_nothing_from_noise_and_never_clips_over() -> None:
    gain = AutomaticGain()
    for _ in range(500):
        gain.hear(tone(0.02, 0.01), speech=0.1)
    assert gain.gain_db == 0
    for _ in range(500):
        gain.hear(tone(0.02, 0.001), speech=0.9)
    assert gain.gain_db > 20
    assert np.abs(amplify(tone(1, 1.0), gain.gain_db)).max() <= 1
