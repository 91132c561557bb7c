"""With a headset: its own voice, softly back from the earphone, is kept from the ear."""

from __future__ import annotations

import threading
from collections.abc import Iterator

import numpy as np
import pytest

from assistant.app.earphone import AFTER, BEFORE, LEAST_KEPT, WINDOW, EarphoneGate
from assistant.app.run_live import _Gate, _pump
from assistant.devices.ear import EarProcess, ScriptedEar
from assistant.ports import RATE, Samples

CHUNK = RATE // 50
OWN, NOISE, OPERATOR = 0.002, 0.0003, 0.05


class Scene:
    """A microphone in noise, chunk by chunk; what goes on to the ear."""

    def __init__(self, noise: float = NOISE) -> None:
        self.gate = EarphoneGate()
        self._noise = noise
        self._rng = np.random.default_rng(1)

    def hear(self, seconds: float, level: float = 0.0, *, own: bool = False) -> Samples:
        """So many seconds of a voice at `level`; what went on meanwhile."""
        gone: list[Samples] = []
        for _ in range(round(seconds * 50)):
            white = self._rng.normal(0, 1, CHUNK)
            sound = (np.hypot(level, self._noise) * white).astype(np.float32)
            gone += self.gate.through(sound, own=own)
        return np.concatenate(gone) if gone else np.zeros(0, np.float32)

    def talk(self, times: int = 4, own: float = OWN) -> None:
        """The assistant speaks, and the operator answers at once, every time."""
        for _ in range(times):
            self.hear(2.0, own, own=True)
            self.hear(0.6)
            self.hear(1.0, OPERATOR)


def loudness(sound: Samples) -> float:
    return float(np.abs(sound).max(initial=0))


def test_all_goes_on_while_the_assistant_is_silent() -> None:
    scene = Scene()
    assert scene.hear(1.0, OPERATOR).size == RATE


def test_before_its_voice_is_known_nothing_goes_on_while_it_speaks() -> None:
    scene = Scene()
    assert not scene.hear(LEAST_KEPT * WINDOW - 0.1, OPERATOR, own=True).any()


def test_its_own_voice_is_kept_back_and_the_operator_cuts_in() -> None:
    scene = Scene()
    scene.talk()
    assert not scene.hear(2.0, OWN, own=True).any()
    assert loudness(scene.hear(0.6, OPERATOR, own=True)) > OPERATOR
    scene.hear(BEFORE + AFTER, OWN, own=True)
    assert not scene.hear(1.0, OWN, own=True).any(), "the gate is closed again"


def test_the_beginning_of_what_is_loud_goes_on_too() -> None:
    """A soft consonant before it, which by itself wouldn't have opened the gate."""
    scene = Scene()
    scene.talk()
    scene.hear(1.0, OWN, own=True)
    soft = scene.hear(0.1, 1.2 * OWN, own=True)
    gone = np.concatenate([soft, scene.hear(0.4, OPERATOR, own=True)])
    loud = np.flatnonzero(np.abs(gone) > OPERATOR)[0]
    assert np.count_nonzero(gone[:loud]) > 0.08 * RATE


def test_a_word_begun_at_its_last_one_is_whole() -> None:
    scene = Scene()
    scene.talk()
    scene.hear(1.0, OWN, own=True)
    begun = scene.hear(0.3, OPERATOR, own=True)
    rest = scene.hear(0.5, OPERATOR)
    gone = np.concatenate([begun, rest])
    assert gone.size == round((0.3 + 0.5 + BEFORE) * RATE)
    assert np.count_nonzero(np.abs(gone) > OPERATOR / 100) > 0.75 * RATE


def test_where_nothing_of_it_comes_back_all_goes_on() -> None:
    """A good headset, or a machine that drowns it."""
    scene = Scene(noise=0.004)
    scene.talk(own=OWN / 4)
    assert loudness(scene.hear(1.0, OWN / 4, own=True)) > 0


def test_a_sentence_that_is_long_in_the_making_is_no_silence_of_the_earphone() -> None:
    """On a busy computer it may speak, and nothing sound yet, for most of the time."""
    scene = Scene()
    for _ in range(4):
        scene.hear(2.6, 0.0, own=True)
        scene.hear(1.0, OWN, own=True)
        scene.hear(0.6)
    scene.hear(2.6, 0.0, own=True)
    assert not scene.hear(1.0, OWN, own=True).any()


def test_at_the_beginning_it_waits_for_a_silence_to_compare_with() -> None:
    """A job begins with sentences, and the card may give nothing for the first of them."""
    scene = Scene(noise=0.0)
    scene.hear(0.2)
    assert not scene.hear(5.0, 0.0, own=True).any()
    assert not scene.hear(10.0, OWN, own=True).any()
    scene.hear(1.0)
    assert not scene.hear(2.0, OWN, own=True).any()


def test_beside_a_loudspeaker_it_is_as_without_a_headset() -> None:
    scene = Scene()
    scene.talk(own=OPERATOR)
    assert not scene.hear(1.0, OPERATOR, own=True).any()


def test_one_who_cuts_in_often_is_heard_still() -> None:
    """What he said isn't taken for the assistant's voice: a second in four of its speaking."""
    scene = Scene()
    scene.talk()
    for _ in range(5):
        scene.hear(1.5, OWN, own=True)
        assert loudness(scene.hear(0.5, OPERATOR, own=True)) > OPERATOR
        scene.hear(1.0, OWN, own=True)
        scene.hear(0.6)


class Taking(EarProcess):
    """An ear's process that was never started; keeps what it is fed."""

    def __init__(self) -> None:
        super().__init__(ScriptedEar)
        self.fed: list[Samples] = []

    def feed(self, samples: Samples) -> None:
        self.fed.append(samples)


class Source:
    """A microphone that delivers ten chunks; the voice begins to speak after four."""

    name = "ten chunks"
    live = True
    behind = 0.0

    def __init__(self) -> None:
        self.delivered = 0
        self.closing = threading.Event()

    def chunks(self) -> Iterator[Samples]:
        for _ in range(10):
            self.delivered += 1
            yield np.full(CHUNK, 0.1, np.float32)
        self.closing.set()

    def close(self) -> None:
        """Nothing to give back."""


@pytest.mark.parametrize("opened", [True, False])
def test_a_loop_that_is_late_leaves_the_ear_closed_all_the_same(opened: bool) -> None:
    """Whether it speaks is asked of the speaker, at each chunk: `open` may be of a second ago."""
    source, ear = Source(), Taking()
    gate = _Gate(voice=lambda: source.delivered > 4, closing=source.closing)
    gate.open = opened
    _pump(source, ear, gate)
    assert len(ear.fed) == (4 if opened else 0)


class Late(Source):
    """A microphone whose ten chunks of 20 ms waited: all are read at once, after a busy moment."""

    @property
    def behind(self) -> float:  # type: ignore[override]
        return (10 - self.delivered) * 0.02


def test_what_came_while_it_spoke_and_is_read_late_is_its_own_voice() -> None:
    source, ear = Late(), Taking()
    gate = _Gate(closing=source.closing, tail=0.05)
    now = 100.0
    gate.voice = lambda: source.delivered == 0
    gate.own_voice(now, 0.0)  # the last sound of its voice, 50 ms before they are read
    _pump(source, ear, gate, clock=lambda: now + 0.1)
    # it rang until 50 ms before: what came since is the operator's
    assert len(ear.fed) == 3
