"""The live program through real sound paths: commands into the microphone, speech out of the
loudspeaker, both on a sound card made of software; and what it spoke heard back."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
import soundfile

from assistant.devices.journal import open_journal
from assistant.devices.moonshine import MoonshineEar
from tests.app.decoding import any_of, decode, spoken_parts, words_of
from tests.factories import Job

ROOT = Path(__file__).resolve().parents[2]
TOOLS = ("pulseaudio", "pactl", "paplay", "parec")

SURE = 0.3
"""Confidence of a decoded sentence: two that run together are heard as neither."""

SAID = (
    "That's your side.", "Paper, or bare?", "Three thou.", "Zero the saddle.",
    "Don't back it off.", "Then saddle in, four turns and one forty and a half.", "Lock it.",
    "Half the shaft, seven fifty.", "Half the cutter, one eighty-seven and a half.",
    "Paper, three.", "Read it again: one forty and a half?",
)  # fmt: skip
OTHERS = (
    "Before we go on.", "Spindle on.", "Cutter down to the centre line of the shaft.",
    "Touch where the shaft stands clear of the jaws, or against a square.",
    "Saddle in, till it just touches the paper.", "Drop the knee ten turns.",
    "Now touch the top: knee up, gently, from below.",
    # never said: what a slip would have sounded like
    "Then saddle in, four turns and one fourteen and a half.",
    "Then saddle in, five turns and one forty and a half.",
    "Then saddle out, four turns and one forty and a half.",
    "Half the shaft, seven fifteen.", "Half the cutter, one eighteen and a half.",
    "Read it again: one fourteen and a half?", "Zero the knee.", "Three over.", "Paper, free.",
)  # fmt: skip


@pytest.mark.skipif(
    any(shutil.which(tool) is None for tool in TOOLS),
    reason="no PulseAudio here to make up a sound card: apt-get install pulseaudio",
)
def test_a_touch_off_by_microphone_and_loudspeaker(tmp_path):
    # a journal of a job that stands before the first touch, as if the program had been killed
    job = Job()
    job.to_step("touch-side")
    journal = tmp_path / "journal.sqlite"
    kept = open_journal(journal)
    kept.append(job.assistant.job_id, job.journal.read(job.assistant.job_id))
    kept.close()
    (tmp_path / "settings.toml").write_text("rate = 230\n", encoding="utf-8")
    recording = tmp_path / "spoken.wav"
    command = [
        str(ROOT / "scripts" / "virtual_sound"), sys.executable, "-m", "tests.app.live_job",
        str(journal), str(recording), "11", "16",
    ]  # fmt: skip
    done = subprocess.run(
        command, cwd=ROOT, capture_output=True, text=True, timeout=300, check=False,
        env=dict(os.environ, PYTHONPATH=str(ROOT)),
    )  # fmt: skip
    assert done.returncode == 0, done.stdout[-3000:] + done.stderr[-1000:]
    assert "taking it up where it was left" in done.stdout
    assert "0.9405 in  saddle in" in done.stdout
    sound, rate = soundfile.read(recording, dtype="float32")
    assert rate == 16_000
    ear = MoonshineEar()
    grammar = any_of((*SAID, *OTHERS))
    decoded = [decode(ear, part, grammar) for part in spoken_parts(sound)]
    heard = {one.words for one in decoded if one.confidence > SURE}
    ear.close()
    missing = [text for text in SAID if " ".join(words_of(text)) not in heard]
    # the voice of the speech engine is hard for any ear: one short sentence may be lost
    assert len(missing) <= 1, missing
    assert "then saddle in four turns and one forty and a half" in heard
