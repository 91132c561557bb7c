"""scripts/virtual_sound: a sound card of software, through PortAudio as the program uses it."""

from __future__ import annotations

import shutil
import subprocess
import sys
import textwrap
from pathlib import Path

import pytest


@pytest.fixture
def command(root: Path) -> Path:
    """The script, where the sound server that it starts is installed."""
    if not shutil.which("pulseaudio"):
        pytest.skip("pulseaudio is not installed; scripts/test installs it")
    return root / "scripts" / "virtual_sound"


def test_what_is_played_to_the_microphone_is_heard(command: Path, tmp_path: Path) -> None:
    listen = """
        import subprocess, sys, time
        import numpy as np, soundfile, sounddevice

        # It swells and fades: a hard edge would ring in the resampling.
        tone = 0.25 * np.sin(2 * np.pi * 1000 * np.arange(16_000) / 16_000) * np.hanning(16_000)
        soundfile.write(sys.argv[1], tone, 16_000)
        heard = []
        def keep(block, frames, when, status):
            heard.append(block[:, 0].copy())
        with sounddevice.InputStream(samplerate=16_000, channels=1, callback=keep):
            time.sleep(0.2)
            subprocess.run(["paplay", "--device=mic_in", sys.argv[1]], check=True)
            time.sleep(0.3)
        sound = np.concatenate(heard)
        spectrum = np.abs(np.fft.rfft(sound))
        print(round(np.argmax(spectrum) * 16_000 / len(sound)), round(float(abs(sound).max()), 2))
    """
    done = subprocess.run(
        [command, sys.executable, "-c", textwrap.dedent(listen), tmp_path / "tone.wav"],
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert done.returncode == 0, done.stderr
    pitch, peak = done.stdout.split()
    assert abs(int(pitch) - 1000) <= 2
    assert float(peak) == pytest.approx(0.25, abs=0.01)


def test_its_status_is_the_command_s_and_nothing_stays_behind(command: Path) -> None:
    done = subprocess.run(
        [command, "bash", "-c", 'echo "$XDG_RUNTIME_DIR"; exit 5'],
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert done.returncode == 5
    assert not Path(done.stdout.strip()).exists()


def test_without_a_command_it_explains_itself(root: Path) -> None:
    done = subprocess.run([root / "scripts" / "virtual_sound"], capture_output=True, text=True)
    assert done.returncode == 2
    assert "paplay --device=mic_in" in done.stdout
