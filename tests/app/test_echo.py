"""The tail of its own voice, measured: rooms and delays made up, chunk by chunk."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.app.assistant import Assistant, Devices
from assistant.app.echo import KEPT, LEAST_KEPT, LONGEST, SHORTEST, SLACK, USUAL, EchoTail
from assistant.app.paths import configs_folder
from assistant.app.run_live import Live
from assistant.app.transcript import Transcript
from assistant.devices.clock import SystemClock
from assistant.devices.ear import EarProcess, ScriptedEar
from assistant.devices.hidden import HiddenScreen
from assistant.devices.journal import MemoryJournal
from assistant.devices.speaker import SilentSpeaker
from assistant.ports import RATE, Samples
from tests.factories import BOOK

CHUNK = 0.02
TICK = 0.02
OWN, NOISE, OPERATOR = 0.2, 0.002, 0.1


class Scene:
    """A microphone, a loop, and an assistant that speaks every four seconds."""

    def __init__(self, delay: float, *, own: float = OWN, noise: float = NOISE) -> None:
        self.tail = EchoTail()
        self.now = 100.0
        self._delay, self._own, self._noise = delay, own, noise
        self._rng = np.random.default_rng(1)

    def sentence(self, *, answer_after: float | None = None, echo: float = 0.0) -> None:
        """Two seconds of quiet, one of its own voice, and what comes after; the voice's sound is
        over 0.1 s before the end of speaking, and arrives `delay` later. `echo` are the seconds
        until the room's has faded by 60 dB."""
        begun, over = self.now + 2.0, self.now + 3.0
        while self.now < over + 1.0:
            self.now += TICK
            heard = self.now - self._delay
            level = 0.0
            if begun < heard < over - 0.1:
                # a stop inside a word, now and then
                level = 0.0 if 0.3 < heard - begun < 0.36 else self._own
            elif heard >= over - 0.1 and echo:
                level = self._own * 10 ** (-3 * (heard - over + 0.1) / echo)
            if answer_after is not None and self.now > over - 0.1 + self._delay + answer_after:
                level += OPERATOR
            self.tail.hear(self._sound(level), self.now)
            self.tail.look(self.now, speaking=begun < self.now < over)

    def _sound(self, level: float) -> Samples:
        noise = self._rng.normal(0, 1, round(RATE * CHUNK))
        return ((level + self._noise) * noise).astype(np.float32)


def test_before_it_is_known_it_is_the_usual_one() -> None:
    scene = Scene(0.07)
    for _ in range(LEAST_KEPT - 1):
        scene.sentence()
        assert scene.tail.seconds == USUAL
    scene.sentence()
    assert scene.tail.seconds < USUAL


@pytest.mark.parametrize("delay", [0.03, 0.07, 0.15, 0.27, 0.4])
def test_it_follows_the_delay_of_the_sound_system(delay: float) -> None:
    scene = Scene(delay)
    for _ in range(KEPT):
        scene.sentence()
    arrives = delay - 0.1
    assert arrives <= scene.tail.seconds, "the ear is closed while it still comes"
    assert scene.tail.seconds <= max(SHORTEST, arrives + SLACK + 2 * TICK)


def test_a_room_that_rings_makes_it_longer() -> None:
    dry, ringing = Scene(0.1), Scene(0.1)
    for _ in range(KEPT):
        dry.sentence()
        ringing.sentence(echo=0.8)
    assert ringing.tail.seconds > dry.tail.seconds
    assert ringing.tail.seconds == pytest.approx(0.8 * 15 / 60 + SLACK, abs=2 * TICK)


@pytest.mark.parametrize("after", [0.0, 0.05, 0.12, 0.3])
def test_quick_answers_are_not_taken_for_its_own_voice(after: float) -> None:
    scene = Scene(0.07)
    for _ in range(KEPT):
        scene.sentence(answer_after=after)
    assert scene.tail.seconds <= USUAL


def test_one_long_tail_counts_until_it_is_long_ago() -> None:
    scene = Scene(0.27)
    scene.sentence()
    scene._delay = 0.05
    for _ in range(KEPT - 1):
        scene.sentence()
        assert scene.tail.seconds > 0.17 or scene.tail.seconds == USUAL
    scene.sentence()
    assert scene.tail.seconds == SHORTEST


@pytest.mark.parametrize(("own", "noise"), [(0.0, NOISE), (0.004, 0.003), (OWN, 0.15)])
def test_what_the_microphone_hardly_hears_is_not_measured(own: float, noise: float) -> None:
    scene = Scene(0.07, own=own, noise=noise)
    for _ in range(KEPT):
        scene.sentence()
    assert scene.tail.seconds == USUAL


def test_it_is_never_longer_than_is_bearable() -> None:
    scene = Scene(0.9)
    for _ in range(KEPT):
        scene.sentence()
    assert scene.tail.seconds <= LONGEST


class StillEar(EarProcess):
    """An ear's process that was never started; counts how often it was to forget."""

    ready = True
    interrupts = 0

    def interrupt(self) -> None:
        self.interrupts += 1


def test_the_loop_keeps_the_ear_closed_for_as_long_as_was_measured() -> None:
    scene = Scene(0.2)
    speaker = SilentSpeaker(holds=True)
    assistant = Assistant(
        BOOK, Devices(MemoryJournal(), speaker, HiddenScreen(), SystemClock()),
        Transcript(lambda _line: None),
    )  # fmt: skip
    assistant.begin(configs_folder() / "jobs" / "keyseat-inch.toml")
    ear = StillEar(ScriptedEar)
    live = Live(assistant, ear, clock=lambda: scene.now)
    assert live.step()
    assert not live.gate.open
    assert ear.interrupts == 1, "what was being said lacks its rest"
    for _ in range(50):
        scene.now += TICK
        live.step()
    assert ear.interrupts == 1
    ended = scene.now
    speaker.finish()
    live.gate.echo = scene.tail  # as after a few sentences
    for _ in range(KEPT):
        scene.sentence()
    wanted = scene.tail.seconds
    assert SHORTEST < wanted < USUAL
    scene.now = ended
    opened = 0.0
    while not opened and scene.now < ended + 1.0:
        scene.now += TICK
        live.step()
        opened = scene.now if live.gate.open else 0.0
    assert opened - ended == pytest.approx(wanted, abs=2 * TICK)
    assert ear.interrupts == 1
