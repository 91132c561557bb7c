"""Ears whose process dies: in the demo, and at the microphone."""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Sequence
from functools import partial

import numpy as np
import pytest

from assistant.app.demo_ear import DemoEar
from assistant.devices.ear import EarApart, EarProcess, ScriptedEar
from assistant.devices.ear.events import EarState
from assistant.errors import DeviceFailed, DeviceMissing
from assistant.ports import Recogniser, Samples
from assistant.spoken import Heard, WordAutomaton

GRAMMAR = WordAutomaton("yes", ({"yes": 1}, {}), frozenset({1}))
SOUND = np.zeros(1600, np.float32)
KILLED = f"exit code {-signal.SIGSEGV}"


def stillborn() -> Recogniser:
    """A native library that dies while it is loaded."""
    os.kill(os.getpid(), signal.SIGSEGV)
    raise AssertionError


class Mortal:
    """Dies of its second utterance."""

    name = "mortal"

    def __init__(self) -> None:
        self._heard = 0

    def prepare(self, grammars: Sequence[WordAutomaton]) -> tuple[str, ...]:
        return ("deaf",) if grammars else ()

    def begin(self, grammar: WordAutomaton) -> None:
        if self._heard:
            os.kill(os.getpid(), signal.SIGSEGV)

    def feed(self, samples: Samples) -> str:
        return "so far"

    def finish(self) -> Heard:
        self._heard += 1
        return Heard("yes", 1.0, engine=self.name)

    def close(self) -> None:
        pass


def missing() -> Recogniser:
    raise DeviceMissing("built-in ear", "a file is missing", "it can't listen")


def said(ear: DemoEar) -> Heard:
    ear.begin(GRAMMAR)
    ear.feed(SOUND)
    ear.feed(SOUND)
    return ear.finish()


def test_an_ear_apart_answers_as_the_ear_itself() -> None:
    ear = EarApart(Mortal)
    assert ear.name == "mortal"
    assert ear.prepare([GRAMMAR]) == ("deaf",)
    ear.begin(GRAMMAR)
    assert ear.feed(SOUND) == "so far"
    assert ear.finish() == Heard("yes", 1.0, engine="mortal")
    with pytest.raises(DeviceFailed, match=KILLED):
        ear.begin(GRAMMAR)
    with pytest.raises(DeviceFailed, match="its process stopped"):
        ear.finish()
    ear.close()


def test_one_that_can_not_be_made_says_why() -> None:
    with pytest.raises(DeviceFailed, match=KILLED):
        EarApart(stillborn)
    with pytest.raises(DeviceFailed, match="a file is missing"):
        EarApart(missing)


def test_the_other_ear_goes_on_with_the_same_utterance() -> None:
    lines: list[str] = []
    ear = DemoEar([stillborn, Mortal, partial(ScriptedEar, ["yes", "yes"])], lines.append)
    assert said(ear).engine == "mortal"
    assert said(ear).words == "yes", "heard by the third"
    assert said(ear).words == "yes"
    ear.close()
    assert lines == [f"The ear failed: its process stopped ({KILLED}). The other ear goes on."] * 2


def test_without_an_ear_left_it_fails_in_words() -> None:
    lines: list[str] = []
    ear = DemoEar([stillborn, missing], lines.append)
    with pytest.raises(DeviceFailed, match="a file is missing"):
        said(ear)
    with pytest.raises(DeviceFailed):
        said(ear)
    ear.close()
    assert len(lines) == 1


def test_at_the_microphone_the_other_ear_takes_over_where_the_first_never_starts() -> None:
    ear = EarProcess(stillborn, instead=partial(ScriptedEar, ["yes"]))
    ear.start()
    states: list[EarState] = []
    end = time.monotonic() + 60
    while not ear.ready and time.monotonic() < end:
        states += [event for event in ear.poll() if isinstance(event, EarState)]
        time.sleep(0.01)
    assert ear.ready
    ear.close()
    told = [state.why for state in states if state.doing == "trouble"]
    assert [why.endswith("The other ear is started instead.") for why in told] == [
        False,
        False,
        True,
    ]
