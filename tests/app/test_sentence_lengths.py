"""No sentence lasts over four seconds: what the voice is given, said by the voice itself.

Every demo at every step is too long for each change: `scripts/bench_voice --lengths`. Here the
longest of some, by the estimate that parts them, which `walk_to_end` holds for all demos.
"""

from __future__ import annotations

import pytest
from voicebench.lengths import sentences

from assistant.devices.voice.clear import ClearVoice
from assistant.devices.voice.shaped import RATE
from assistant.present.for_the_ear import seconds
from assistant.present.move_words import LONGEST


@pytest.fixture(scope="module")
def voice() -> ClearVoice:
    return ClearVoice()


@pytest.mark.parametrize("job", ["tailstock-hole", "holes-circle", "knurl-knob"])
def test_the_longest_sentences_of_a_job_last_four_seconds(voice: ClearVoice, job: str) -> None:
    texts = sorted((text for _, text in sentences(job)), key=seconds, reverse=True)
    assert seconds(texts[0]) > 0.9 * LONGEST, "else the longest were not found"
    lasting = {text: voice.sound(text).size / RATE for text in texts[:30]}
    assert {text: long for text, long in lasting.items() if long > LONGEST} == {}
