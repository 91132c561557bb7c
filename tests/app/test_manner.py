"""What the settings and a session make of the voice, and what is made ready ahead."""

from __future__ import annotations

import pytest

from assistant.app.forward import foreseen
from assistant.app.manner import Manner
from assistant.devices.speaker import SilentSpeaker
from tests.factories import BOOK, NOW, Job, answer


def settings_after(manner: Manner, *words: str) -> dict[str, float]:
    job = Job()
    job.says(*words)
    speaker = SilentSpeaker()
    manner.adjust(speaker, job.state)
    return speaker.settings


@pytest.mark.parametrize(
    ("words", "volume", "shape"),
    [
        ((), 0.6, 1.0),
        (("softer",), 0.48, 1.0),
        (("louder",), 0.6, 1.25),
        (("louder", "louder"), 1.0, 1.5),
        (("louder", "softer"), 0.6, 1.0),
    ],
)
def test_louder_shapes_first_and_then_raises_the_level(
    words: tuple[str, ...], volume: float, shape: float
) -> None:
    got = settings_after(Manner(volume=0.6), *words)
    assert got["volume"] == pytest.approx(volume)
    assert got["shape"] == pytest.approx(shape)


def test_it_says_when_there_is_no_louder() -> None:
    job = Job()
    job.says("louder", "louder")
    assert "as loud as I go" in job.says("louder")


def test_the_pace_of_the_settings_is_kept_in_a_job() -> None:
    assert settings_after(Manner(rate=150))["rate"] == 150
    assert settings_after(Manner(rate=150), "slower")["rate"] == pytest.approx(130, abs=1)
    assert settings_after(Manner(rate=80), "slower")["rate"] == 80


def test_what_comes_next_is_foreseen_word_for_word() -> None:
    job = Job()
    job.to_step("roughing-2-set")
    coming, _ = foreseen(BOOK, job.state, NOW)
    assert answer(coming) == job.says("i'm set")


def test_the_speaker_is_told_at_every_step() -> None:
    job = Job()
    speaker = job.assistant.devices.speaker
    assert isinstance(speaker, SilentSpeaker)
    first = speaker.foreseen
    assert first
    job.says("checked")
    assert speaker.foreseen
    assert speaker.foreseen != first
