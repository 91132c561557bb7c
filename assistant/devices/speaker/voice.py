"""Sentences to sound: the speech engine in a child process, watched, with what it said kept."""

from __future__ import annotations

import json
import queue
import re
import subprocess
import sys
import threading
from collections import OrderedDict
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import soundfile
from numpy.typing import NDArray

from assistant.errors import DeviceFailed, DeviceMissing
from assistant.scratch import Scratch

DEVICE = "voice"
COST = "sentences are only written, not spoken"
CHILD = Path(__file__).with_name("child.py")

START_SECONDS = 5.0
ANSWER_SECONDS = 1.5
"""The engine makes a sentence in about 0.01 s; one that takes this long hangs."""
SILENCE = 0.002
TAIL_SECONDS = 0.1
KEPT_BYTES = 16 * 1024 * 1024
"""About three minutes of sentences: most of a job's are said again and again."""


@dataclass(frozen=True, slots=True)
class Sound:
    """One sentence as sound, mono."""

    samples: NDArray[np.float32]
    rate: int

    @property
    def seconds(self) -> float:
        """How long it lasts."""
        return self.samples.size / self.rate


def shortest(text: str, rate: int) -> float:
    """Less than these seconds can't be all of `text` at `rate` words a minute.

    A fifth of the usual time: half a number, spoken, would be a wrong number.
    """
    words = len(re.findall(r"[^\W_]+", text))
    return 0.2 * words * 60 / rate


def trimmed(samples: NDArray[np.float32], rate: int) -> NDArray[np.float32]:
    """`samples` with at most 0.1 s of silence after the last sound.

    The engine ends each sentence with 0.24 s, in which the operator could not be heard yet.
    """
    loud = np.flatnonzero(np.abs(samples) > SILENCE)
    end = loud[-1] + round(TAIL_SECONDS * rate) if loud.size else samples.size
    return np.ascontiguousarray(samples[:end])


class Voice:
    """The speech engine. Used from one thread; `close` may come from another."""

    def __init__(
        self,
        voice: str | None = None,
        *,
        command: Sequence[str] = (sys.executable, str(CHILD)),
        answer_seconds: float = ANSWER_SECONDS,
        kept_bytes: int = KEPT_BYTES,
    ) -> None:
        """`voice` is the engine's own name of a voice, None its usual one."""
        self.voice = voice
        self._command = list(command)
        self._patience = answer_seconds
        self._room = kept_bytes
        self._kept: OrderedDict[tuple[str, int], Sound] = OrderedDict()
        self._scratch = Scratch("voice")
        self._process: subprocess.Popen[str] | None = None
        self._answers: queue.Queue[str] = queue.Queue()
        self._count = 0

    def start(self) -> None:
        """Start the engine, so that the first sentence does not wait for it.

        Raises `DeviceMissing` where there is no speech engine.
        """
        if self._process is not None and self._process.poll() is None:
            return
        self._answers = queue.Queue()
        self._process = subprocess.Popen(
            self._command,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
            encoding="utf-8",
        )
        threading.Thread(
            target=_pass_on, args=(self._process, self._answers), name="voice", daemon=True
        ).start()
        try:
            self._await(START_SECONDS)
        except DeviceFailed as failed:
            self._kill()
            raise DeviceMissing(DEVICE, failed.why, COST) from failed

    def sound(self, text: str, rate: int) -> Sound:
        """`text` as sound at `rate` words a minute.

        Raises `DeviceFailed` where the engine hangs, crashes or refuses: the next call starts it
        anew.
        """
        key = (text, rate)
        kept = self._kept.get(key)
        if kept is not None:
            self._kept.move_to_end(key)
            return kept
        sound = self._make(text, rate)
        self._kept[key] = sound
        while sum(one.samples.nbytes for one in self._kept.values()) > self._room:
            self._kept.popitem(last=False)
        return sound

    def close(self) -> None:
        """End the engine."""
        self._kill()
        self._scratch.close()

    def _make(self, text: str, rate: int) -> Sound:
        try:
            self.start()
        except DeviceMissing as missing:
            raise DeviceFailed(DEVICE, missing.why) from missing
        self._count += 1
        file = self._scratch.path / f"{self._count}.wav"
        asked = {"text": text, "rate": rate, "voice": self.voice, "file": str(file)}
        try:
            self._tell(asked)
            self._await(self._patience)
            samples, its_rate = soundfile.read(file, dtype="float32", always_2d=True)
        except (DeviceFailed, OSError, soundfile.SoundFileError) as error:
            self._kill()
            why = error.why if isinstance(error, DeviceFailed) else str(error)
            raise DeviceFailed(DEVICE, why) from error
        finally:
            file.unlink(missing_ok=True)
        sound = Sound(trimmed(samples[:, 0], its_rate), its_rate)
        if sound.seconds < shortest(text, rate):
            self._kill()
            raise DeviceFailed(DEVICE, f"the speech engine broke off in {text!r}")
        return sound

    def _tell(self, asked: dict[str, Any]) -> None:
        process = self._process
        if process is None or process.stdin is None:
            raise DeviceFailed(DEVICE, "the speech engine was closed")
        process.stdin.write(json.dumps(asked) + "\n")
        process.stdin.flush()

    def _await(self, seconds: float) -> None:
        try:
            line = self._answers.get(timeout=seconds)
        except queue.Empty:
            raise DeviceFailed(
                DEVICE, f"the speech engine gave no answer in {seconds:g} s"
            ) from None
        if not line:
            raise DeviceFailed(DEVICE, "the speech engine ended")
        try:
            answer = json.loads(line)
            why = "" if answer["ok"] else str(answer["error"])
        except (ValueError, KeyError, TypeError):
            why = f"something unreadable: {line.strip()[:60]!r}"
        if why:
            raise DeviceFailed(DEVICE, f"the speech engine says {why}")

    def _kill(self) -> None:
        process, self._process = self._process, None
        if process is None:
            return
        process.kill()
        process.wait()
        for pipe in (process.stdin, process.stdout):
            if pipe is not None:
                with suppress(OSError):
                    pipe.close()


def _pass_on(process: subprocess.Popen[str], answers: queue.Queue[str]) -> None:
    # Its own thread, since a pipe can't be read with a limit on the time everywhere.
    with suppress(ValueError, OSError):
        for line in process.stdout or ():
            answers.put(line)
    answers.put("")
