"""The ear's process: it is fed, it is watched, it is started anew."""

from __future__ import annotations

import hashlib
import os
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from itertools import repeat
from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.devices.ear import EarEvent, EarProcess, EarState, HeardEvent, ScriptedEar
from assistant.devices.ear.heart import Progress
from assistant.devices.moonshine import MoonshineEar
from assistant.errors import DeviceFailed, DeviceMissing
from assistant.ports import RATE, Recogniser, Samples
from assistant.spoken import WordAutomaton
from tests.automata import automaton_of
from tests.killed import child_of_killed

CLIPS = Path(__file__).parents[1] / "audio" / "clips"
GRAMMAR = automaton_of("touched", "cut forty thou", "cut forty thou this pass", "yes")
PATIENCE = 60.0
"""Seconds that a loaded machine may need to start a process."""


class HangingEar(ScriptedEar):
    """Never comes back from an utterance."""

    def feed(self, samples: Samples) -> str:
        time.sleep(3600)
        return ""


class LoopingEar(ScriptedEar):
    """Goes round in circles in native code."""

    def feed(self, samples: Samples) -> str:
        sum(repeat(0.0))  # type: ignore[call-overload]
        return ""


class SlowEar(ScriptedEar):
    """Works on an utterance for three seconds, and gets on with it."""

    worked = False

    def feed(self, samples: Samples) -> str:
        end = time.thread_time() + (0 if self.worked else 3.0)
        self.worked = True
        while time.thread_time() < end:
            hashlib.blake2b(bytes(10_000_000))
        return ""


class DyingEar(ScriptedEar):
    """Takes the process with it, as a crash in native code would."""

    def feed(self, samples: Samples) -> str:
        os._exit(3)


class StillbornEar(ScriptedEar):
    """Can't even be made."""

    def __init__(self) -> None:
        os._exit(4)


def missing_ear() -> Recogniser:
    raise DeviceMissing("built-in ear", "the model is not there")


def clip(name: str) -> Samples:
    samples, _ = soundfile.read(CLIPS / f"{name}.flac", dtype="float32")
    return np.concatenate([samples, np.zeros(RATE, np.float32)])


@contextmanager
def started(
    make: Callable[[], Recogniser], grammar: WordAutomaton = GRAMMAR, **options: float
) -> Iterator[EarProcess]:
    ear = EarProcess(make, **options)
    try:
        ear.start()
        ear.prepare([grammar])
        ear.listen_for(grammar)
        ear.wait_ready(PATIENCE)
        yield ear
    finally:
        ear.close()


def until(
    ear: EarProcess, enough: Callable[[list[EarEvent]], bool], found: list[EarEvent] | None = None
) -> list[EarEvent]:
    """Events until `enough` of them."""
    found = [] if found is None else found
    end = time.monotonic() + PATIENCE
    while not enough(found):
        assert time.monotonic() < end, f"only got {found[-5:]}"
        found += ear.poll()
        time.sleep(0.01)
    return found


def say(ear: EarProcess, samples: Samples) -> None:
    for start in range(0, samples.size, 320):
        ear.feed(samples[start : start + 320])


def words(found: list[EarEvent]) -> list[str]:
    return [event.heard.words for event in found if isinstance(event, HeardEvent)]


def troubles(found: list[EarEvent]) -> list[str]:
    return [event.why for event in found if isinstance(event, EarState) and event.why]


def test_the_built_in_ear_hears_in_its_process() -> None:
    with started(MoonshineEar) as ear:
        say(ear, clip("cut_forty_thou_this_pass"))
        found = until(ear, lambda found: bool(words(found)))
        say(ear, clip("touched"))
        until(ear, lambda found: len(words(found)) == 2, found)
        assert words(found) == ["cut forty thou this pass", "touched"]
        assert not ear.deaf


def test_the_end_of_the_sound_is_reported() -> None:
    with started(partial(ScriptedEar, ["touched"])) as ear:
        say(ear, clip("touched")[: -RATE - RATE // 2])
        ear.flush()
        assert not ear.flushed
        found = until(ear, lambda _: ear.flushed)
        assert words(found) == ["touched"]


def test_times_are_those_of_the_parents_clock() -> None:
    with started(partial(ScriptedEar, ["touched"])) as ear:
        before = time.monotonic()
        say(ear, clip("touched"))
        found = until(ear, lambda found: bool(words(found)))
        (heard,) = [event.heard for event in found if isinstance(event, HeardEvent)]
        # all of it was queued at once, so it ended within the moment of queueing
        assert before - 3 < heard.started < heard.ended <= time.monotonic()


def test_what_was_interrupted_is_forgotten() -> None:
    with started(partial(ScriptedEar, ["cut forty thou", "touched"])) as ear:
        say(ear, clip("cut_forty_thou_this_pass")[: RATE * 3 // 2])
        ear.interrupt()
        say(ear, clip("touched"))
        assert words(until(ear, lambda found: bool(words(found)))) == ["touched"]


def test_feeding_never_waits() -> None:
    with started(HangingEar, sign_seconds=3600) as ear:
        for _ in range(40):
            say(ear, clip("touched"))


def test_an_ear_that_is_slow_and_gets_on_is_left_alone() -> None:
    with started(partial(SlowEar, ["touched"])) as ear:
        say(ear, clip("touched"))
        found = until(ear, lambda found: bool(words(found)))
        assert words(found) == ["touched"]
        assert not troubles(found)


@pytest.mark.parametrize(
    ("make", "why"),
    [
        (HangingEar, "no sign of life"),
        (LoopingEar, "no sign of life"),
        (DyingEar, "exit code 3"),
    ],
)
def test_a_decoder_that_hangs_loops_or_dies_is_started_anew(
    make: Callable[[], Recogniser], why: str
) -> None:
    with started(make) as ear:
        say(ear, clip("touched"))
        found = until(ear, lambda found: bool(troubles(found)))
        assert why in troubles(found)[0]
        until(ear, lambda _: ear.ready, found)
        doing = [event.doing for event in found if isinstance(event, EarState)]
        after = doing[doing.index("trouble") :]
        assert after[:3] == ["trouble", "starting", "listening"]
        # it still knows its grammar, or this would bring nothing about
        say(ear, clip("touched"))
        until(ear, lambda found: len(troubles(found)) == 2, found)


def test_an_ear_that_never_comes_up_is_given_up() -> None:
    ear = EarProcess(StillbornEar)
    ear.start()
    with pytest.raises(DeviceFailed):
        ear.wait_ready(PATIENCE)
    ear.close()


def test_a_missing_model_is_said_in_its_own_words_and_looked_for_again() -> None:
    ear = EarProcess(missing_ear)
    ear.start()
    found = until(ear, lambda found: len(troubles(found)) == 2)
    assert "the model is not there" in troubles(found)[0]
    assert "again, with growing pauses" in troubles(found)[0]
    assert troubles(found)[0] == troubles(found)[1]
    ear.close()


def test_nothing_is_started_anew_once_it_is_closed() -> None:
    ear = EarProcess(missing_ear)
    ear.start()
    until(ear, lambda found: bool(troubles(found)))
    ear.close()
    time.sleep(1.1)
    assert ear.poll() == []
    assert ear._child is None


PARENT = """
import time
from assistant.devices.ear import EarProcess, ScriptedEar
if __name__ == "__main__":
    ear = EarProcess(ScriptedEar)
    ear.start()
    ear.wait_ready(60)
    print(ear._child.pid, flush=True)
    time.sleep(600)
"""


def test_no_ear_is_left_behind_by_a_program_that_is_killed(tmp_path: Path) -> None:
    child_of_killed(PARENT, tmp_path).wait(PATIENCE)


@pytest.mark.parametrize(
    ("beats", "alive"),
    [
        ([(False, 1.0), (True, 1.0)], True),  # it went on, if with next to no time
        ([(True, 1.0), (False, 1.0)], False),  # it waits
        ([(True, 1.0), (False, 1.0005)], False),  # no more than the system's own measuring
        ([(True, 1.0), (False, 1.01)], True),  # a busy machine gave it a hundredth of a second
        ([(True, 0.0), (False, 1.4)], True),  # a long call
        ([(True, 0.0), (False, 1.4), (False, 1.6)], False),  # one that never comes back
        ([(True, 0.0), (False, 1.4), (True, 1.6), (False, 3.0)], True),
        ([(True, 0.0), (True, 9.9)], True),
        ([(True, 0.0), (True, 9.9), (True, 10.1)], False),  # in circles, in Python
    ],
)
def test_progress_is_told_from_hanging(beats: list[tuple[bool, float]], alive: bool) -> None:
    progress = Progress()
    assert [progress.made(came_back, used) for came_back, used in beats][-1] is alive
    progress.new_command = True
    assert progress.made(True, beats[-1][1] + 5.0)
    progress.resting = True
    assert progress.made(False, beats[-1][1] + 5.0)
