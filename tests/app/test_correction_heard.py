"""What was misheard is put right in one breath: by the real ear, on the grammar of the step."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import numpy as np
import pytest

from assistant.devices.ear import hear
from assistant.devices.moonshine import MoonshineEar
from assistant.devices.wav import SoundFile
from assistant.spoken import Heard, Opinion, Refused, Understood
from assistant.units import magnitude
from tests.factories import Job, answer

ROOT = Path(__file__).resolve().parents[2]
CLIPS = ROOT / "tests" / "audio" / "corrections"
DEMO = ROOT / "assistant" / "demo" / "keyseat-inch"


@pytest.fixture(scope="module")
def ear() -> Iterator[MoonshineEar]:
    made = MoonshineEar()
    yield made
    made.close()


@pytest.fixture
def job() -> Job:
    """A job that asks for the shaft's diameter, 1-1/2 in."""
    made = Job()
    made.to_step("measure-shaft")
    return made


def hears(job: Job, ear: MoonshineEar, path: Path) -> Heard:
    """As a live job does: held to what may be said now."""
    sound = np.concatenate(list(SoundFile(path).chunks()))
    heard = hear(ear, np.pad(sound, 8000), job.assistant.ways.grammar)
    now = job.clock.monotonic()
    return replace(heard, started=now, ended=now)


@pytest.mark.parametrize("voice", ["rms", "awb"])
def test_no_and_the_right_value_answers_the_question(job: Job, ear: MoonshineEar, voice: str):
    misheard = hears(job, ear, DEMO / "measured_three_seventy_five.flac")
    outcome = job.assistant.hear(misheard)
    assert isinstance(outcome.said, Refused), "0.375 can't be the shaft"
    assert job.state.question is not None
    assert "Yes or no" in answer(outcome)
    corrected = hears(job, ear, CLIPS / f"no_one_point_five-{voice}.flac")
    assert corrected.words == "no one point five"
    outcome = job.assistant.hear(corrected)
    assert isinstance(outcome.said, Understood)
    assert outcome.said.intent.name == "correct"
    assert job.state.question is None
    assert magnitude(job.state.facts["shaft.diameter"], "inch") == Decimal("1.5")


def test_what_the_second_ear_doubts_is_asked_back_and_put_right(job: Job, ear: MoonshineEar):
    heard = hears(job, ear, DEMO / "measured_one_point_five.flac")
    doubted = replace(
        heard, confidence=0.7, opinion=Opinion("measured one point nine", 0.9, "vosk")
    )
    outcome = job.assistant.hear(doubted)
    assert isinstance(outcome.said, Refused)
    assert "one point nine" in outcome.said.detail
    assert "shaft.diameter" not in job.state.facts
    job.assistant.hear(hears(job, ear, CLIPS / "no_one_point_five-rms.flac"))
    assert magnitude(job.state.facts["shaft.diameter"], "inch") == Decimal("1.5")


def test_of_an_implausible_size_the_plausible_runner_up_is_asked_and_taken_by_yes(job: Job):
    now = job.clock.monotonic()
    heard = Heard(
        "measured nine point five", 0.8, now, now, "", "moonshine",
        others=(("measured one point five", 0.2),),
    )  # fmt: skip
    outcome = job.assistant.hear(heard)
    assert "One point five" in answer(outcome) or "One five hundred" in answer(outcome)
    job.say("yes")
    assert magnitude(job.state.facts["shaft.diameter"], "inch") == Decimal("1.5")
