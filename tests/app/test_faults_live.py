"""Real sound cards (of software) taken from the live program, and given back."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from assistant.devices.journal import open_journal
from assistant.session.reduce import replay

ROOT = Path(__file__).resolve().parents[2]
TOOLS = ("pulseaudio", "pactl", "paplay", "parec")
NOTICED = 4.0
"""Seconds: two that the program has, and two for the lines of a busy machine to come through."""


@pytest.mark.skipif(
    any(shutil.which(tool) is None for tool in TOOLS),
    reason="no PulseAudio here to make up a sound card: apt-get install pulseaudio",
)
def test_cards_and_sound_server_come_and_go_under_a_live_job(tmp_path: Path) -> None:
    (tmp_path / "settings.toml").write_text("rate = 260\n", encoding="utf-8")
    journal = tmp_path / "journal.sqlite"
    done = subprocess.run(
        [str(ROOT / "scripts" / "virtual_sound"), sys.executable, "-m", "tests.app.live_faults",
         str(journal), str(tmp_path)],
        cwd=ROOT, capture_output=True, text=True, timeout=400, check=False,
        env=dict(os.environ, PYTHONPATH=str(ROOT)),
    )  # fmt: skip
    printed = done.stdout[-6000:] + done.stderr[-1000:]
    found = {
        what: float(value)
        for what, value in re.findall(r"^FOUND (.+): (\S+)$", done.stdout, re.MULTILINE)
    }
    assert found["begun"] >= 0, printed
    for what in ("microphone noticed", "speaker noticed", "server noticed"):
        assert 0 <= found[what] < NOTICED, f"{what}: {printed}"
    for what in ("microphone back", "heard again", "speaker back"):
        assert found[what] >= 0, f"{what}: {printed}"
    assert found["alive"] == 1, printed
    assert "Traceback" not in printed, printed
    kept = open_journal(journal)
    (job,) = kept.jobs()
    state = replay(kept.read(job.id))
    kept.close()
    # "checked" was heard once after the microphone was back, and nothing else moved the job
    assert state.plan is not None
    assert state.plan.index(state.step_id) == 1, printed
