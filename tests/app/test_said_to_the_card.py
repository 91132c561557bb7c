"""`check` and `check --ear` by a real microphone: what is asked for is said into the card."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from assistant.demo import clip_path
from assistant.devices.wav import SoundFile
from assistant.errors import DeviceMissing
from assistant.ports import Samples
from tests.devices.virtual_sound import VirtualSound, sound, sound_server
from tests.devices.voices import engine

__all__ = ["sound", "sound_server"]

ROOT = Path(__file__).resolve().parents[2]


def spoken(phrase: str) -> Samples:
    chunks = list(SoundFile(clip_path("keyseat-inch", phrase)).chunks())
    quiet = np.zeros(4000, np.float32)
    return np.concatenate([quiet, *chunks, quiet])


def test_every_phrase_that_is_asked_for_is_recorded_and_tried(sound: VirtualSound, tmp_path: Path):
    try:
        engine().close()
    except DeviceMissing as missing:
        pytest.skip(str(missing))
    sound.let_hear_itself()
    own = dict(os.environ, XDG_CONFIG_HOME=str(tmp_path), XDG_DATA_HOME=str(tmp_path))
    process = subprocess.Popen(
        [sys.executable, "-u", "-m", "assistant", "check", "--ear", "--json", "--dry-run"],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=ROOT, env=own,
    )  # fmt: skip
    assert process.stderr is not None
    asked = []
    try:
        for line in process.stderr:
            found = re.search(r'Say: "(.+)"', line)
            if found is not None:
                asked.append(found[1])
                assert sound.wait_until_said(), "each is asked for aloud"
                sound.play(spoken(found[1]))
        printed, _ = process.communicate(timeout=300)
    finally:
        process.kill()
    assert process.returncode == 0
    # its own voice, which the microphone hears, is not taken for the operator's
    assert len(set(asked)) == 12
    told = {one["ear"]: one for one in json.loads(printed)}
    # a word may get lost where a busy machine drops sound
    assert told["moonshine"]["right"] >= 10
    assert told["moonshine"]["wrong"] == 0


def test_check_judges_what_it_hears(sound: VirtualSound, tmp_path: Path):
    process = subprocess.Popen(
        [sys.executable, "-u", "-m", "assistant", "check", "--json", "--seconds", "10",
         "--journal", str(tmp_path / "journal.sqlite")],
        stdout=subprocess.PIPE, text=True, cwd=ROOT,
    )  # fmt: skip
    try:
        while process.poll() is None:
            sound.play(spoken("cut seventy thou this pass"))
        assert process.stdout is not None
        told = {one["device"]: one for one in json.loads(process.stdout.read())}
    finally:
        process.kill()
    assert told["microphone"]["ok"] is True
    assert "speech is clear" in told["microphone"]["found"]
