"""Devices that come and go, each as a fake at its port: noticed within 2 s, said on what remains,
tried again with growing pauses, and taken up again at the very same step."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterator, Sequence

import numpy as np
import pytest

from assistant.app.assistant import NOT_WRITTEN, Assistant, Devices
from assistant.app.paths import configs_folder
from assistant.app.run_live import STALL_SECONDS, Live, _pump
from assistant.app.steady import PAUSES, SteadyScreen
from assistant.app.transcript import Transcript
from assistant.devices.clock import SystemClock
from assistant.devices.ear import EarProcess, ScriptedEar
from assistant.devices.hidden import HiddenScreen
from assistant.devices.journal import MemoryJournal
from assistant.devices.speaker import QueuedSpeaker, SilentSpeaker
from assistant.errors import DeviceFailed, DeviceMissing, JournalError
from assistant.ports import Samples, Screen, Speaker
from assistant.present.glance import Ear, Glance
from assistant.spoken import Heard, WordAutomaton
from tests.devices.voices import ScriptedPlayer
from tests.factories import BOOK, Job

PATIENCE = 60.0
"""Seconds that a loaded machine may need to start a process."""
SILENCE = np.zeros(320, np.float32)


class Time:
    """A clock that the test turns."""

    def __init__(self) -> None:
        self.now = 100.0

    def __call__(self) -> float:
        return self.now


class StillEar(EarProcess):
    """An ear's process that was never started: it hears nothing and is always ready."""

    ready = True
    waiting = 0.0
    fed = 0

    def feed(self, samples: Samples) -> None:
        self.fed += 1


def assistant_with(speaker: Speaker, screen: Screen) -> Assistant:
    devices = Devices(MemoryJournal(), speaker, screen, SystemClock())
    assistant = Assistant(BOOK, devices, Transcript(lambda _line: None))
    assistant.begin(configs_folder() / "jobs" / "keyseat-inch.toml")
    return assistant


def until(live: Live, enough: Callable[[], bool], seconds: float = PATIENCE) -> bool:
    """Drive the loop until `enough`; False where that took too long."""
    end = time.monotonic() + seconds
    while not enough():
        if time.monotonic() > end:
            return False
        assert live.step()
        time.sleep(0.005)
    return True


def lines(assistant: Assistant, what: str) -> list[str]:
    return [line for line in assistant.trouble if line.startswith(f"{what}: ")]


@pytest.fixture
def assistant() -> Assistant:
    return assistant_with(SilentSpeaker(), HiddenScreen())


@pytest.fixture
def live(assistant: Assistant) -> Live:
    return Live(assistant, StillEar(ScriptedEar), clock=time.monotonic)


def said(assistant: Assistant) -> list[str]:
    speaker = assistant.devices.speaker
    assert isinstance(speaker, SilentSpeaker)
    return speaker.texts


class Source:
    """A microphone that does as the test tells it."""

    name = "scripted microphone"
    live = True

    def __init__(self, *plan: str) -> None:
        self.plan = list(plan)
        self.go_on = threading.Event()

    def chunks(self) -> Iterator[Samples]:
        while self.plan:
            match self.plan[0]:
                case "sound":
                    for _ in range(10):
                        yield SILENCE
                    self.plan.pop(0)
                case "unplugged":
                    self.plan.pop(0)
                    raise DeviceFailed("microphone", "the card delivers no sound")
                case "broken":
                    self.plan.pop(0)
                    raise ValueError("a fault of its own kind")
                case "wait":
                    self.go_on.wait(PATIENCE)
                    self.plan.pop(0)
        while not self.go_on.wait(0.01):
            yield SILENCE

    def close(self) -> None:
        self.go_on.set()


def pumping(live: Live, source: Source) -> threading.Thread:
    pump = threading.Thread(target=_pump, args=(source, live.ear, live.gate), daemon=True)
    pump.start()
    return pump


@pytest.mark.parametrize("fault", ["unplugged", "broken"])
def test_a_microphone_that_fails_is_said_looked_for_and_taken_up(live: Live, fault: str) -> None:
    assistant = live.assistant
    step = assistant.state.step_id
    source = Source("sound", fault, "sound")
    pumping(live, source)
    assert until(live, lambda: "Microphone trouble." in said(assistant))
    assert until(live, lambda: "My microphone is back." in said(assistant))
    assert lines(assistant, "Microphone") == []
    assert assistant.state.step_id == step
    live.gate.closing.set()


def test_a_microphone_that_stops_without_a_word_is_noticed_within_two_seconds(
    assistant: Assistant,
) -> None:
    clock = Time()
    live = Live(assistant, StillEar(ScriptedEar), clock=clock)
    live.gate.fed = clock.now
    clock.now += STALL_SECONDS - 0.1
    live.step()
    assert lines(assistant, "Microphone") == []
    clock.now += 0.2
    live.step()
    assert STALL_SECONDS + 0.1 < 2.0
    assert "No sound comes from it" in lines(assistant, "Microphone")[0]
    assert assistant.ear is Ear.NO_MICROPHONE
    assert said(assistant).count("Microphone trouble.") == 1
    for _ in range(50):
        clock.now += 0.1
        live.step()
    assert said(assistant).count("Microphone trouble.") == 1, "said once, not again and again"
    live.gate.fed = clock.now
    live.step()
    assert lines(assistant, "Microphone") == []


class DyingScreen(HiddenScreen):
    """Works until its display goes."""

    gone = False

    def show(self, glance: Glance) -> None:
        if self.gone:
            raise DeviceFailed("display", "the display is gone")
        super().show(glance)

    def keys(self) -> Sequence[str]:
        if self.gone:
            raise DeviceFailed("display", "the display is gone")
        return super().keys()


def test_a_display_that_goes_is_said_stood_in_for_and_taken_up_again() -> None:
    clock = Time()
    tries: list[float] = []
    displays = [DyingScreen(), DyingScreen()]
    pictures = HiddenScreen()
    works = threading.Event()

    def again() -> Screen:
        tries.append(clock.now)
        if not works.is_set():
            raise DeviceMissing("display", "still gone")
        return displays[1]

    screen = SteadyScreen(displays[0], again, lambda: pictures, clock)
    assistant = assistant_with(SilentSpeaker(), screen)
    live = Live(assistant, StillEar(ScriptedEar), clock=time.monotonic)
    assert live.step()
    step = assistant.state.step_id
    displays[0].gone = True
    assert live.step()
    assert live.step()
    assert "Screen trouble." in said(assistant)
    assert "the display is gone" in lines(assistant, "Screen")[0]
    assert pictures.shown, "what takes its place shows the same job"
    assistant.hear(Heard("checked", engine="typed"))
    for _ in range(400):
        clock.now += 0.1
        assert live.step()
    pauses = np.diff(tries[: len(PAUSES)])
    assert list(pauses) == sorted(pauses), "the pauses grow"
    assert len(tries) < 12
    works.set()
    for _ in range(200):
        clock.now += 0.1
        assert live.step()
    assert "My screen is back." in said(assistant)
    assert lines(assistant, "Screen") == []
    assert displays[1].shown[-1].number == pictures.shown[-1].number
    assert assistant.state.step_id != step, "what was said meanwhile was kept"


def test_no_screen_at_all_still_leaves_the_voice() -> None:
    def nothing() -> Screen:
        raise DeviceMissing("display", "none")

    screen = SteadyScreen(DyingScreen(), nothing, lambda: None, Time())
    screen._screen.gone = True  # type: ignore[union-attr]
    assistant = assistant_with(SilentSpeaker(), screen)
    live = Live(assistant, StillEar(ScriptedEar), clock=time.monotonic)
    assert live.step()
    assert live.step()
    assert "Screen trouble." in said(assistant)
    assistant.hear(Heard("checked", engine="typed"))
    assert "Drawbar spanner off?" in said(assistant)


class HangingVoice:
    """A speech engine that hangs, until it is mended."""

    mended = False

    def start(self) -> None:
        if not self.mended:
            raise DeviceMissing("voice", "it does not start")

    def sound(self, text: str, rate: int) -> object:
        if not self.mended:
            raise DeviceFailed("voice", "the speech engine gave no answer in 1.5 s")
        return object()

    def close(self) -> None:
        """Nothing to end."""


def test_a_voice_that_hangs_is_shown_and_goes_on_at_the_same_step() -> None:
    voice, player = HangingVoice(), ScriptedPlayer()
    speaker = QueuedSpeaker(voice, player)  # type: ignore[arg-type]
    assistant = assistant_with(speaker, HiddenScreen())
    live = Live(assistant, StillEar(ScriptedEar), clock=time.monotonic)
    assert until(live, lambda: bool(lines(assistant, "Voice")), 2.0)
    shown = assistant.devices.screen.shown[-1]  # type: ignore[attr-defined]
    assert any("gave no answer" in line for line in shown.trouble)
    assistant.hear(Heard("checked", engine="typed"))
    step, reply = assistant.state.step_id, assistant.state.last_reply
    voice.mended = True
    assert until(live, lambda: not lines(assistant, "Voice"), 20.0)
    assert until(live, lambda: reply[-1] in player.played, 20.0)
    assert "My voice is back." in player.played
    assert assistant.state.step_id == step
    speaker.close()


class HangingOnce(ScriptedEar):
    """Never comes back from an utterance."""

    def feed(self, samples: Samples) -> str:
        time.sleep(3600)
        return ""


class Throwing(ScriptedEar):
    """Throws in the middle of an utterance."""

    def begin(self, grammar: WordAutomaton) -> None:
        raise ValueError("a fault of the recogniser")


@pytest.mark.parametrize(
    ("make", "why", "patience"),
    [(HangingOnce, "gave no answer", 1.0), (Throwing, "exit code 1", PATIENCE)],
)
def test_an_ear_that_hangs_or_throws_is_said_and_started_anew(
    make: Callable[[], ScriptedEar], why: str, patience: float, capfd: pytest.CaptureFixture[str]
) -> None:
    assistant = assistant_with(SilentSpeaker(), HiddenScreen())
    ear = EarProcess(make, answer_seconds=patience)
    ear.start()
    live = Live(assistant, ear)
    assert until(live, lambda: ear.ready)
    step = assistant.state.step_id
    noise = np.random.default_rng(1)
    from tests.devices.test_ear_process import clip

    speech = clip("touched") + noise.normal(0, 1e-4, clip("touched").size).astype(np.float32)
    for start in range(0, speech.size, 320):
        ear.feed(speech[start : start + 320])
    assert until(live, lambda: bool(lines(assistant, "Ear")))
    assert why in lines(assistant, "Ear")[0]
    assert "Ear trouble." in said(assistant)
    assert until(live, lambda: ear.ready and not lines(assistant, "Ear"))
    assert "My ear is back." in said(assistant)
    assert assistant.state.step_id == step
    ear.close()
    assert "Traceback" not in capfd.readouterr().err


def test_a_slow_ear_is_shown_before_it_is_given_up(assistant: Assistant) -> None:
    ear = StillEar(ScriptedEar)
    live = Live(assistant, ear, clock=time.monotonic)
    live.step()
    assert assistant.ear is Ear.LISTENING
    ear.waiting = 1.6
    live.step()
    assert assistant.ear is Ear.TROUBLE
    ear.waiting = 0.0
    live.step()
    live.step()
    assert assistant.ear is Ear.LISTENING


def test_what_cannot_be_kept_changes_nothing_and_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    job = Job()
    step, seq = job.state.step_id, job.state.seq

    def full(*_: object) -> None:
        raise JournalError("the disk is full; nothing was written")

    with monkeypatch.context() as patched:
        patched.setattr(job.journal, "append", full)
        outcome = job.try_saying("checked")
    assert [sentence.text for sentence in outcome.sentences] == [NOT_WRITTEN]
    assert (job.state.step_id, job.state.seq) == (step, seq)
    assert any("disk is full" in line for line in job.glance.trouble)
    job.say("checked")
    assert job.state.step_id != step
    assert not any(line.startswith("Journal") for line in job.glance.trouble)
