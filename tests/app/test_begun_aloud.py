"""A keyseat begun through a real sound card: the clear voice asks, the operator's answers go into
the microphone, and the job runs at once."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from assistant.demo import clip_name
from assistant.devices.wav import SoundFile
from assistant.errors import DeviceMissing
from assistant.ports import Samples
from tests.devices.virtual_sound import VirtualSound, sound, sound_server
from tests.devices.voices import engine
from tests.filling.talking import KEYSEAT

__all__ = ["sound", "sound_server"]

ROOT = Path(__file__).resolve().parents[2]
CLIPS = ROOT / "tests" / "filling" / "clips" / "heart"


def said(phrase: str) -> Samples:
    quiet = np.zeros(4000, np.float32)
    return np.concatenate([quiet, *SoundFile(CLIPS / clip_name(phrase)).chunks(), quiet])


def test_a_keyseat_is_asked_for_aloud_answered_and_run(sound: VirtualSound, tmp_path: Path):
    try:
        engine().close()
    except DeviceMissing as missing:
        pytest.skip(str(missing))
    sound.let_hear_itself()
    own = dict(os.environ, XDG_CONFIG_HOME=str(tmp_path), XDG_DATA_HOME=str(tmp_path),
               SDL_VIDEODRIVER="dummy")  # fmt: skip
    process = subprocess.Popen(
        [sys.executable, "-u", "-m", "assistant", "new", "--out", str(tmp_path / "out"),
         "--journal", str(tmp_path / "journal.sqlite")],
        stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
        cwd=ROOT, env=own,
    )  # fmt: skip
    assert process.stdout is not None
    answers = iter((*KEYSEAT, "yes"))
    lines: list[str] = []
    try:
        for line in process.stdout:
            lines.append(line)
            if line.startswith("says") and "Eyes covered?" in line:
                break  # the first check of the job
            if not line.startswith("says"):
                continue
            assert sound.wait_until_said(), line
            answer = next(answers, None)
            if answer is None:
                break
            sound.play(said(answer))
    finally:
        process.kill()
        process.wait(10)
    transcript = "".join(lines)
    assert (tmp_path / "wheelcall" / "jobs" / "keyseat-1.toml").is_file(), transcript
    assert "Eyes covered?" in transcript, transcript
