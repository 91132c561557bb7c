"""Sentences to sound: a speech engine in a child process, watched, with what it said kept."""

from __future__ import annotations

import json
import os
import queue
import re
import subprocess
import sys
import threading
import time
from collections import OrderedDict
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal, Protocol

import numpy as np
import soundfile
from numpy.typing import NDArray

from assistant.errors import DeviceFailed, DeviceMissing
from assistant.scratch import Scratch

DEVICE = "voice"
COST = "sentences are only written, not spoken"
CHILD = "assistant.devices.voice.child"

Kind = Literal["clear", "system"]

START_SECONDS = 5.0
LOADING_SECONDS = 30.0
"""An engine that isn't ready by then hangs."""
ANSWER_SECONDS = 1.5
"""An engine makes a sentence in 0.01 s (the system's) or 0.03 s (the clear one), four times that
on a busy computer; one that takes this long hangs."""
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


class TextRefused(DeviceFailed):
    """The engine can't say this text; it is well otherwise."""


class Engine(Protocol):
    """Makes sound of text. Used from one thread; `close` may come from another."""

    def start(self) -> None:
        """Be ready. Raises `DeviceMissing` where there is no speech engine."""

    def sound(self, text: str, rate: int, shape: float = 1.0) -> Sound:
        """`text` as sound at `rate` words a minute, shaped for noise by `shape` (0 to 1.5).

        Raises `TextRefused` for this text, `DeviceFailed` where the engine fails.
        """

    def close(self) -> None:
        """End it."""


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
    """One speech engine. Used from one thread; `close` may come from another."""

    def __init__(
        self,
        voice: str | None = None,
        *,
        kind: Kind = "system",
        network: Path | None = None,
        command: Sequence[str] = (),
        answer_seconds: float = ANSWER_SECONDS,
        kept_bytes: int = KEPT_BYTES,
    ) -> None:
        """`voice` is the system engine's own name of a voice, None its usual one; `network` a file
        for the clear one, in place of its package's. `command` is another process to ask."""
        self.voice = voice
        named = [str(network)] if network is not None and kind == "clear" else []
        # -P: a file of that name where the program was started is no module of ours
        self._command = list(command or (sys.executable, "-P", "-m", CHILD, kind, *named))
        self._patience = answer_seconds
        self._loading = LOADING_SECONDS if kind == "clear" else START_SECONDS
        self._room = kept_bytes
        self._kept: OrderedDict[tuple[str, int, float], Sound] = OrderedDict()
        self._scratch = Scratch("voice")
        self._process: subprocess.Popen[str] | None = None
        self._answers: queue.Queue[str] = queue.Queue()
        self._is_ready = False
        self._begun = 0.0
        self._count = 0

    def start(self) -> None:
        """Start the engine, so that the first sentence does not wait for it.

        Raises `DeviceMissing` where there is no speech engine.
        """
        if not self.ready(self._loading):
            self._kill()
            raise DeviceMissing(
                DEVICE, f"the speech engine gave no answer in {self._loading:g} s", COST
            )

    def ready(self, patience: float = 0.0) -> bool:
        """Start the engine if it isn't started, and wait `patience` seconds for it to be ready.

        Raises `DeviceMissing` where it ends or says that it can't.
        """
        self._begin()
        if self._is_ready:
            return True
        until = time.monotonic() + patience
        try:
            line = self._answers.get(timeout=max(0.001, until - time.monotonic()))
        except queue.Empty:
            if time.monotonic() - self._begun < LOADING_SECONDS:
                return False
            line = ""
        try:
            self._read(line)
        except DeviceFailed as failed:
            self._kill()
            raise DeviceMissing(DEVICE, failed.why, COST) from failed
        self._is_ready = True
        return True

    def _begin(self) -> None:
        process = self._process
        # one that ended while it was loading has left word why
        if process is not None and (not self._is_ready or process.poll() is None):
            return
        self._kill()
        self._answers = queue.Queue()
        self._begun = time.monotonic()
        self._process = subprocess.Popen(
            self._command,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
            encoding="utf-8",
            env=dict(os.environ, PYTHONPATH=os.pathsep.join(filter(None, sys.path))),
        )
        threading.Thread(
            target=_pass_on, args=(self._process, self._answers), name="voice", daemon=True
        ).start()

    def sound(self, text: str, rate: int, shape: float = 1.0) -> Sound:
        """`text` as sound at `rate` words a minute, shaped for noise by `shape` (0 to 1.5; the
        system's voice comes as it is).

        Raises `TextRefused` for a text that the engine can't say, `DeviceFailed` where it hangs
        or crashes: the next call starts it anew.
        """
        key = (text, rate, shape)
        kept = self._kept.get(key)
        if kept is not None:
            self._kept.move_to_end(key)
            return kept
        sound = self._make(text, rate, shape)
        self._kept[key] = sound
        while sum(one.samples.nbytes for one in self._kept.values()) > self._room:
            self._kept.popitem(last=False)
        return sound

    def close(self) -> None:
        """End the engine."""
        self._kill()
        self._scratch.close()

    def _make(self, text: str, rate: int, shape: float) -> Sound:
        try:
            self.start()
        except DeviceMissing as missing:
            raise DeviceFailed(DEVICE, missing.why) from missing
        self._count += 1
        file = self._scratch.path / f"{self._count}.wav"
        asked = {
            "text": text, "rate": rate, "voice": self.voice, "shape": shape, "file": str(file)
        }  # fmt: skip
        try:
            self._tell(asked)
            self._read(self._await())
            samples, its_rate = soundfile.read(file, dtype="float32", always_2d=True)
        except TextRefused:
            raise
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

    def _await(self) -> str:
        try:
            return self._answers.get(timeout=self._patience)
        except queue.Empty:
            raise DeviceFailed(
                DEVICE, f"the speech engine gave no answer in {self._patience:g} s"
            ) from None

    def _read(self, line: str) -> None:
        """Raises `DeviceFailed` for an answer that isn't well, `TextRefused` for a refusal."""
        if not line:
            raise DeviceFailed(DEVICE, "the speech engine ended")
        try:
            answer = json.loads(line)
            if answer["ok"]:
                return
            refused = answer.get("refused")
            why = str(refused if refused is not None else answer["error"])
        except (ValueError, KeyError, TypeError, AttributeError):
            refused, why = None, f"something unreadable: {line.strip()[:60]!r}"
        if refused is not None:
            raise TextRefused(DEVICE, f"the speech engine can't say this: {why}")
        raise DeviceFailed(DEVICE, f"the speech engine says {why}")

    def _kill(self) -> None:
        process, self._process = self._process, None
        self._is_ready = False
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
