"""Sentences to sound: a speech engine in a child process, watched, with what it said kept."""

from __future__ import annotations

import importlib
import re
import time
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from math import inf
from pathlib import Path
from typing import Any, Literal, Protocol

import numpy as np
import soundfile
from numpy.typing import NDArray

from assistant.child import Child, ChildLost
from assistant.errors import DeviceFailed, DeviceMissing
from assistant.scratch import Scratch

DEVICE = "voice"
COST = "sentences are only written, not spoken"
CHILD = "assistant.devices.voice.child"

Kind = Literal["clear", "system"]
Asked = dict[str, Any]
Answer = tuple[Literal["done", "refused", "failed"], str]
"""How a request went, and why."""

START_SECONDS = 5.0
LOADING_SECONDS = 30.0
"""An engine that isn't ready by then hangs."""
ANSWER_SECONDS = 1.5
"""An engine makes a sentence in 0.01 s (the system's) or 0.03 s (the clear one), four times that
on a busy computer; one that takes this long hangs."""
TICK = 0.01
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
        load: Callable[[], Callable[[Asked], None]] | None = None,
        answer_seconds: float = ANSWER_SECONDS,
        kept_bytes: int = KEPT_BYTES,
    ) -> None:
        """`voice` is the system engine's own name of a voice, None its usual one; `network` a file
        for the clear one, in place of its package's. `load`, importable, is another engine."""
        self.voice = voice
        self._engine = (load or kind, str(network or "") if kind == "clear" else "")
        self._patience = answer_seconds
        self._loading = LOADING_SECONDS if kind == "clear" else START_SECONDS
        self._room = kept_bytes
        self._kept: OrderedDict[tuple[str, int, float], Sound] = OrderedDict()
        self._scratch = Scratch("voice")
        self._child: Child[Asked, Answer] | None = None
        self._begun = 0.0
        self._count = 0

    def start(self) -> None:
        """Start the engine, so that the first sentence does not wait for it.

        Raises `DeviceMissing` where there is no speech engine.
        """
        self.ready(inf)

    def ready(self, patience: float = 0.0) -> bool:
        """Start the engine if it isn't started, and wait `patience` seconds for it to be ready.

        Raises `DeviceMissing` where it ends or says that it can't.
        """
        child = self._child
        if child is None or (child.ready and not child.pid):
            # a neighbour, which nothing else here may know; it alone is loaded there
            work = importlib.import_module(CHILD).work
            self._begun = time.monotonic()
            self._child = child = Child("voice", work, *self._engine, begin_seconds=self._loading)
        until = time.monotonic() + patience
        try:
            while not child.ready:
                child.look()
                if time.monotonic() >= until:
                    break
                time.sleep(TICK)
        except ChildLost as lost:
            self._child = None
            raise DeviceMissing(DEVICE, _why(lost), COST) from None
        if not child.ready and time.monotonic() > self._begun + LOADING_SECONDS:
            self._kill()  # looked at so seldom, its silence says nothing
            why = f"the speech engine gave no answer in {LOADING_SECONDS:g} s"
            raise DeviceMissing(DEVICE, why, COST)
        return child.ready

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
            self._ask(asked)
            samples, its_rate = soundfile.read(file, dtype="float32", always_2d=True)
        except (OSError, soundfile.SoundFileError) as error:
            self._kill()
            raise DeviceFailed(DEVICE, str(error)) from error
        finally:
            file.unlink(missing_ok=True)
        sound = Sound(trimmed(samples[:, 0], its_rate), its_rate)
        if sound.seconds < shortest(text, rate):
            self._kill()
            raise DeviceFailed(DEVICE, f"the speech engine broke off in {text!r}")
        return sound

    def _ask(self, asked: Asked) -> None:
        child = self._child
        if child is None:
            raise DeviceFailed(DEVICE, "the speech engine was closed")
        try:
            how, why = child.ask(asked, self._patience)
        except ChildLost as lost:
            self._child = None
            raise DeviceFailed(DEVICE, _why(lost)) from None
        if how == "refused":
            raise TextRefused(DEVICE, f"the speech engine can't say this: {why}")
        if how == "failed":
            self._kill()
            raise DeviceFailed(DEVICE, f"the speech engine says {why}")

    def _kill(self) -> None:
        child, self._child = self._child, None
        if child is not None:
            child.kill()


def _why(lost: ChildLost) -> str:
    return lost.why if lost.how == "refused" else f"the speech engine {lost.what}"
