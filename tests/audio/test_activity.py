"""The activity detector: what it takes for speech, in whatever pieces the sound comes."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.audio.activity import FRAME, FRAME_SECONDS, SpeechDetector
from assistant.ports import RATE, Samples

CLIPS = sorted((Path(__file__).parent / "clips").glob("*.flac"))[:3]


@pytest.fixture(scope="module")
def speech() -> Samples:
    """Three recordings with a second of quiet around each."""
    sounds = [soundfile.read(path, dtype="float32")[0] for path in CLIPS]
    return np.concatenate([np.pad(sound, RATE) for sound in sounds]).astype(np.float32)


def found(sound: Samples) -> list[float]:
    detector = SpeechDetector()
    return [probability for _, probability in detector.feed(sound)]


@pytest.mark.parametrize("noise", [0.0, 0.02])
def test_speech_is_found_in_hiss_and_the_quiet_around_it_is_not(
    speech: Samples, noise: float
) -> None:
    hiss = np.random.default_rng(1).standard_normal(speech.size) * noise
    told = found((speech + hiss).astype(np.float32))
    before = told[: round(0.8 / FRAME_SECONDS)]
    assert max(told) > 0.9
    assert max(before) < 0.3


def test_silence_and_a_hum_are_no_speech() -> None:
    hum = 0.1 * np.sin(2 * np.pi * 100 * np.arange(2 * RATE) / RATE).astype(np.float32)
    for sound in (np.zeros(2 * RATE, np.float32), hum):
        assert max(found(sound)) < 0.3


def test_the_pieces_fed_make_no_difference(speech: Samples) -> None:
    detector = SpeechDetector()
    pieces = [speech[at : at + 700] for at in range(0, speech.size, 700)]
    whole = [found_ for piece in pieces for _, found_ in detector.feed(piece)]
    assert whole == found(speech)
    assert FRAME_SECONDS == FRAME / RATE
