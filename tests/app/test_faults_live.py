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
from tests.devices.displays import needs_a_display

ROOT = Path(__file__).resolve().parents[2]
TOOLS = ("pulseaudio", "pactl", "paplay", "parec")
NOTICED = 4.0
"""Seconds: two that the program has, and two for the lines of a busy machine to come through."""


needs_sound = pytest.mark.skipif(
    any(shutil.which(tool) is None for tool in TOOLS),
    reason="no PulseAudio here to make up a sound card: apt-get install pulseaudio",
)


def run_with_sound(script: str, tmp_path: Path) -> tuple[dict[str, float], str, Path]:
    """What `script` found, what was printed, and the journal."""
    (tmp_path / "settings.toml").write_text("rate = 260\n", encoding="utf-8")
    journal = tmp_path / "journal.sqlite"
    done = subprocess.run(
        [str(ROOT / "scripts" / "virtual_sound"), sys.executable, "-m", f"tests.app.{script}",
         str(journal), str(tmp_path)],
        cwd=ROOT, capture_output=True, text=True, timeout=400, check=False,
        env=dict(os.environ, PYTHONPATH=str(ROOT)),
    )  # fmt: skip
    printed = done.stdout[-6000:] + done.stderr[-1000:]
    found = {
        what: float(value)
        for what, value in re.findall(r"^FOUND (.+): (\S+)$", done.stdout, re.MULTILINE)
    }
    return found, printed, journal


def step_of(journal: Path) -> int:
    """The place of the step at hand in the one job of a journal."""
    kept = open_journal(journal)
    (job,) = kept.jobs()
    state = replay(kept.read(job.id))
    kept.close()
    return state.plan.index(state.step_id)


@needs_sound
def test_cards_and_sound_server_come_and_go_under_a_live_job(tmp_path: Path) -> None:
    found, printed, journal = run_with_sound("live_faults", tmp_path)
    assert found["begun"] >= 0, printed
    for what in ("microphone noticed", "speaker noticed", "server noticed"):
        assert 0 <= found[what] < NOTICED, f"{what}: {printed}"
    for what in ("microphone back", "heard again", "speaker back"):
        assert found[what] >= 0, f"{what}: {printed}"
    assert found["alive"] == 1, printed
    assert "Traceback" not in printed, printed
    # "checked" was heard once after the microphone was back, and nothing else moved the job
    assert step_of(journal) == 1, printed


@needs_sound
@needs_a_display
def test_the_job_goes_on_by_voice_when_the_display_is_killed(tmp_path: Path) -> None:
    found, printed, journal = run_with_sound("live_display", tmp_path)
    assert found["begun"] >= 0, printed
    assert found["window"] == 1, printed
    assert 0 <= found["display noticed"] < NOTICED, printed
    assert found["alive"] == 1, printed
    for what in ("heard without", "display back", "heard with"):
        assert found[what] >= 0, f"{what}: {printed}"
    assert found["window again"] == 1, printed
    assert "Traceback" not in printed, printed
    assert step_of(journal) == 2, printed
