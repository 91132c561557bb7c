"""A sound card of software for one test: `scripts/virtual_sound` around this very process.

The script starts a private sound server; its settings are put into this process's environment and
PortAudio is started anew, so that the program's own microphone and speaker find the server.
"""

from __future__ import annotations

import shutil
import subprocess
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.audio import cards
from assistant.errors import DeviceMissing
from assistant.ports import RATE, Samples

SCRIPT = Path(__file__).parents[2] / "scripts" / "virtual_sound"
NAMES = ("PULSE_SERVER", "PULSE_RUNTIME_PATH", "PULSE_STATE_PATH", "XDG_RUNTIME_DIR",
         "ALSA_CONFIG_PATH", "WHEELCALL_VIRTUAL_SOUND")  # fmt: skip
UNSET = ("PULSE_SINK", "PULSE_SOURCE", "DBUS_SESSION_BUS_ADDRESS")


class VirtualSound:
    """The private sound server: plays into the microphone, records what the speaker says."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._count = 0

    def play(self, sound: Samples, *, wait: bool = True) -> subprocess.Popen[bytes]:
        """Play `sound` (16 kHz) into the microphone."""
        self._count += 1
        path = self._folder / f"played-{self._count}.wav"
        soundfile.write(path, sound, RATE)
        process = subprocess.Popen(["paplay", "--device=mic_in", str(path)])
        if wait:
            process.wait(timeout=30)
        return process

    @contextmanager
    def recording(self) -> Iterator[list[Samples]]:
        """What the speaker says meanwhile; the list is filled when it is over."""
        self._count += 1
        # Into a file: a pipe that nobody reads holds two seconds, and the rest is lost.
        path = self._folder / f"recorded-{self._count}.raw"
        command = ["parec", "--device=speaker_out.monitor", "--format=s16le", "--channels=1",
                   f"--rate={RATE}", "--latency-msec=20"]  # fmt: skip
        with path.open("wb") as file:
            process = subprocess.Popen(command, stdout=file)
        recorded: list[Samples] = []
        try:
            assert wait_until(lambda: path.stat().st_size > 0), "the recorder hears nothing"
            yield recorded
        finally:
            process.terminate()
            process.wait(timeout=10)
            data = path.read_bytes()
            samples = np.frombuffer(data[: len(data) // 2 * 2], "<i2").astype(np.float32)
            recorded.append(samples / np.float32(32768))

    def let_hear_itself(self) -> None:
        """From now on the microphone hears the loudspeaker, as in a room."""
        pactl("load-module", "module-loopback", "source=speaker_out.monitor", "sink=mic_in",
              "latency_msec=30")  # fmt: skip

    def wait_until_said(self, silence: float = 0.5, timeout: float = 15.0) -> bool:
        """Until the loudspeaker has said something and then been silent for so many seconds;
        False where that took too long."""
        command = ["parec", "--device=speaker_out.monitor", "--format=s16le", "--channels=1",
                   f"--rate={RATE}", "--latency-msec=20"]  # fmt: skip
        process = subprocess.Popen(command, stdout=subprocess.PIPE)
        assert process.stdout is not None
        quiet = -1.0  # nothing was said yet
        end = time.monotonic() + timeout
        try:
            while quiet < silence and time.monotonic() < end:
                block = np.frombuffer(process.stdout.read(RATE // 25), "<i2")
                if np.abs(block.astype(int)).max(initial=0) > 300:
                    quiet = 0.0
                elif quiet >= 0:
                    quiet += 0.02
            return quiet >= silence
        finally:
            process.kill()
            process.wait()

    def unplug_microphone(self) -> None:
        """Take the microphone away, and what feeds it."""
        self._unload("source_name=mic")
        self._unload("sink_name=mic_in")

    def unplug_speaker(self) -> None:
        """Take the loudspeaker away."""
        self._unload("sink_name=speaker_out")

    def _unload(self, what: str) -> None:
        for line in pactl("list", "short", "modules").splitlines():
            if what in line:
                pactl("unload-module", line.split()[0])


def plug_in_microphone() -> None:
    """Bring the microphone back, and what feeds it."""
    pactl("load-module", "module-null-sink", "sink_name=mic_in", "rate=48000")
    pactl("load-module", "module-remap-source", "master=mic_in.monitor", "source_name=mic")
    pactl("set-default-source", "mic")


def plug_in_speaker() -> None:
    """Bring the loudspeaker back."""
    pactl("load-module", "module-null-sink", "sink_name=speaker_out", "rate=48000")
    pactl("set-default-sink", "speaker_out")


def pactl(*arguments: str) -> str:
    """Talk to the sound server."""
    return subprocess.run(
        ["pactl", *arguments], check=True, capture_output=True, text=True, timeout=10
    ).stdout


class _Server:
    """The private server, for all tests of a module; started anew after a test that ended it."""

    def __init__(self) -> None:
        self.environment = pytest.MonkeyPatch()
        self._server: subprocess.Popen[bytes] | None = None
        self._awake: list[subprocess.Popen[bytes]] = []

    def start(self) -> None:
        """Skips by name where it can't be started."""
        self._server = server = subprocess.Popen(
            [str(SCRIPT), "bash", "-c", "env -0; echo; cat"],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        assert server.stdout is not None
        printed = server.stdout.readline().decode().split("\0")
        settings = dict(entry.split("=", 1) for entry in printed if "=" in entry)
        if not settings.get("PULSE_SERVER"):
            pytest.skip("the private sound server did not start: scripts/virtual_sound says why")
        for name in NAMES:
            self.environment.setenv(name, settings[name])
        for name in UNSET:
            self.environment.delenv(name, raising=False)
        cards.rescan()

    def plug_in_all(self) -> None:
        """Every card there, and awake."""
        try:
            modules = pactl("list", "short", "modules")
        except subprocess.CalledProcessError:
            self.stop()
            self.start()
            modules = pactl("list", "short", "modules")
        for line in modules.splitlines():
            if "sink_name=auto_null" in line or "module-loopback" in line:
                pactl("unload-module", line.split()[0])
        if "source_name=mic" not in modules:
            plug_in_microphone()
        if "sink_name=speaker_out" not in modules:
            plug_in_speaker()
        # A silent card sleeps up to two seconds at a stretch; a listener that is in a hurry keeps
        # it as wakeful as a real one.
        self._awake = [
            subprocess.Popen(
                ["parec", f"--device={name}.monitor", "--latency-msec=10"],
                stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
            )
            for name in ("mic_in", "speaker_out")
        ]  # fmt: skip

    def let_sleep(self) -> None:
        """End the listeners."""
        for listener in self._awake:
            listener.kill()
            listener.wait()

    def stop(self) -> None:
        """End the server; PortAudio sees this computer's own cards again."""
        if self._server is not None and self._server.stdin is not None:
            self._server.stdin.close()
            self._server.wait(timeout=10)
        self.environment.undo()
        cards.rescan()


@pytest.fixture(scope="module")
def sound_server() -> Iterator[_Server]:
    """The server, and this process pointed at it. Skips by name where it can't be started."""
    for tool in ("pulseaudio", "pactl", "paplay", "parec"):
        if shutil.which(tool) is None:
            pytest.skip(f"{tool} is not installed (Debian: pulseaudio pulseaudio-utils)")
    try:
        cards.portaudio()
    except DeviceMissing as missing:
        pytest.skip(str(missing))
    server = _Server()
    try:
        server.start()
        yield server
    finally:
        server.stop()


@pytest.fixture
def sound(sound_server: _Server, tmp_path: Path) -> Iterator[VirtualSound]:
    """The sound card of software, with everything plugged in."""
    sound_server.plug_in_all()
    yield VirtualSound(tmp_path)
    sound_server.let_sleep()


def wait_until(condition: Callable[[], bool], timeout: float = 10.0) -> bool:
    """Until `condition()` is true; False where that took too long."""
    end = time.monotonic() + timeout
    while time.monotonic() < end:
        if condition():
            return True
        time.sleep(0.01)
    return False
