"""Whole jobs by sound files through Vosk, with the model that the project ships.

It knows the words and voices it was trained on, and is no default ear (its card has the figures):
a job without sizes to tell has to come to its end, each command in the grammar of its step.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.devices.vosk import VoskEar
from tests.app.spoken_job import work
from tests.app.test_spoken_jobs import reference

MODEL = Path(__file__).resolve().parents[2] / "voice_models" / "wheelcall-en-small"


@pytest.mark.parametrize("name", ["divide-ratchet", "tap-through"])
def test_a_whole_job_through_vosk(name, tmp_path):
    ear = VoskEar(MODEL)
    worked = work(name, ear, tmp_path / "journal.sqlite")
    ear.close()
    assert worked.finished, worked.operator.gave_up
    # what it was unsure of it asked back; all else came to what the built-in ear comes to
    if not worked.asked_back:
        assert worked.lines == reference(name)
    assert worked.asked_back <= 6
