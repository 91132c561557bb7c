"""What a shop says besides, by the real ear: "OK" isn't drawn to a word that carries the job on."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest

from assistant.devices.ear import hear
from assistant.devices.moonshine import MoonshineEar
from assistant.devices.voice.clear import ClearVoice
from assistant.devices.voice.shaped import RATE
from assistant.spoken import Understood
from tests.factories import Job

SAID = {
    "okay": "which_word", "done": "which_word", "next": "which_word", "ready": "which_word",
    "go on": "which_word", "hang on": "hang_on", "wait": "hang_on", "not you": "not_you",
    "it's stuck": "tool_stuck", "tool hit the shoulder": "hit_shoulder",
    "that's through": "through",
}  # fmt: skip
HEARD_AT = 16000
"""Samples a second of the ear."""


@pytest.fixture(scope="module")
def ear() -> Iterator[MoonshineEar]:
    made = MoonshineEar()
    yield made
    made.close()


@pytest.fixture(scope="module")
def voice() -> ClearVoice:
    return ClearVoice()


@pytest.mark.parametrize("words", SAID)
def test_in_a_cut_it_is_heard_as_what_it_is(
    ear: MoonshineEar, voice: ClearVoice, words: str
) -> None:
    job = Job()
    job.to_step("roughing-2-cut")
    said = np.asarray(voice.sound(f"{words}.", 170), dtype=np.float32)
    at = np.linspace(0, said.size - 1, said.size * HEARD_AT // RATE)
    sound = np.interp(at, np.arange(said.size), said).astype(np.float32)
    heard = hear(ear, np.pad(sound, HEARD_AT // 2), job.assistant.ways.grammar)
    outcome = job.assistant.hear(heard)
    assert isinstance(outcome.said, Understood), (heard.words, heard.confidence)
    assert outcome.said.intent.name == SAID[words]
    plan = job.state.plan
    carried_on = plan.index(job.state.step_id) > plan.index("roughing-2-cut")
    assert carried_on == (words == "that's through")
