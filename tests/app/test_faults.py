"""Devices that come and go, each as a fake at its port: noticed within 2 s, said on what remains,
tried again with growing pauses, and taken up again at the very same step."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from pathlib import Path

import numpy as np
import pytest

from assistant.app.assistant import NOT_WRITTEN, Assistant, Devices
from assistant.app.paths import configs_folder
from assistant.app.run_live import STALL_SECONDS, TICK, Live, _pump
from assistant.app.steady import LOOK_SECONDS, PAUSES, SteadyScreen
from assistant.app.transcript import Transcript
from assistant.app.trouble_talk import LOOSE_SECONDS
from assistant.devices.clock import SetClock, SystemClock
from assistant.devices.ear import EarProcess, ScriptedEar
from assistant.devices.ear.heart import BEAT_SECONDS
from assistant.devices.ear.process import PAUSES as START_PAUSES
from assistant.devices.ear.process import SIGN_SECONDS
from assistant.devices.hidden import HiddenScreen
from assistant.devices.journal import MemoryJournal
from assistant.devices.speaker import QueuedSpeaker, SilentSpeaker, Voice
from assistant.devices.speaker.queued import WATCH_SECONDS
from assistant.devices.speaker.voice import ANSWER_SECONDS as ENGINE_SECONDS
from assistant.errors import DeviceFailed, DeviceMissing, JournalError
from assistant.jobs.steps import Cut
from assistant.ports import Samples, Screen, Speaker
from assistant.present.glance import Ear, Glance
from assistant.silence import ON_TIME
from assistant.spoken import Heard, Sentence, Urgency, WordAutomaton
from tests.devices.engines import hangs
from tests.devices.test_ear_process import clip
from tests.devices.voices import ScriptedPlayer
from tests.factories import BOOK, Job, expected_words

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
    behind = 0.0

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


def test_a_loose_plug_is_said_once_and_then_only_shown() -> None:
    clock = SetClock()
    speaker = SilentSpeaker()
    devices = Devices(MemoryJournal(), speaker, HiddenScreen(), clock)
    assistant = Assistant(BOOK, devices, Transcript(lambda _line: None))
    for _ in range(5):
        assistant.note_trouble("Microphone", "No sound comes from it.")
        assert lines(assistant, "Microphone")
        clock.advance(2.0)
        assistant.note_trouble("Microphone", "")
        clock.advance(2.0)
    assert speaker.texts == ["Microphone trouble.", "My microphone is back."]
    clock.advance(LOOSE_SECONDS)
    assistant.note_trouble("Microphone", "No sound comes from it.")
    assert speaker.texts[2:] == ["Microphone trouble."]


def cutting() -> Job:
    """A job in the middle of its first cut."""
    job = Job()
    for _ in range(200):
        if isinstance(job.state.step, Cut):
            job.speaker.said.clear()
            return job
        job.say(expected_words(job.state))
    raise AssertionError("no cut came")


def through_the_cuts(job: Job) -> None:
    while isinstance(job.state.step, Cut):
        job.say("that's through")
    job.assistant.show()


@pytest.mark.parametrize("what", ["Ear", "Microphone", "Screen"])
def test_in_a_cut_two_words_say_what_is_gone_and_no_more_until_it_is_through(what: str) -> None:
    job = cutting()
    for _ in range(3):
        job.assistant.note_trouble(what, "it gave no sign of life")
        assert any("no sign of life" in line for line in job.glance.trouble)
        job.clock.advance(40.0)
        job.assistant.note_trouble(what, "")
        assert not job.glance.trouble
        job.clock.advance(40.0)
    assert job.speaker.texts == [f"{what} trouble."], "once a cut"
    through_the_cuts(job)
    assert job.speaker.texts[-1] == f"My {what.lower()} is back."
    assert job.speaker.texts.count(f"My {what.lower()} is back.") == 1


def test_what_can_wait_is_said_when_the_cut_is_through() -> None:
    job = cutting()
    job.assistant.note_trouble("Second ear", "it stopped")
    assert any("it stopped" in line for line in job.glance.trouble)
    assert job.speaker.texts == []
    through_the_cuts(job)
    assert job.speaker.texts[-1] == "Second ear trouble."


def test_what_is_well_again_before_the_cut_is_through_is_no_news() -> None:
    job = cutting()
    job.assistant.note_trouble("Second ear", "it stopped")
    job.clock.advance(40.0)
    job.assistant.note_trouble("Second ear", "")
    through_the_cuts(job)
    assert not any("ear" in text.casefold() for text in job.speaker.texts[-1:])
    assert "Second ear trouble." not in job.speaker.texts


def test_a_voice_that_is_back_in_a_cut_does_not_talk_into_it() -> None:
    job = cutting()
    job.speaker.trouble = "the card is gone"
    assert any("the card is gone" in line for line in job.glance.trouble)
    job.speaker.trouble = ""
    assert not job.glance.trouble
    assert job.speaker.texts == []


def test_after_stop_nothing_is_said_until_the_operator_speaks_on() -> None:
    job = cutting()
    job.say("stop")
    job.speaker.said.clear()
    job.assistant.note_trouble("Microphone", "it is unplugged")
    assert any("it is unplugged" in line for line in job.glance.trouble)
    assert job.speaker.texts == []
    job.say("how much left")
    job.assistant.show()
    assert "Microphone trouble." in job.speaker.texts


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


def test_a_display_is_taken_up_as_soon_as_it_is_back_and_not_tried_before() -> None:
    clock = Time()
    answers = threading.Event()
    opened: list[Screen | None] = [None, None, DyingScreen()]  # a window takes a while to open
    tries: list[float] = []

    def again() -> Screen | None:
        tries.append(clock.now)
        return opened.pop(0)

    first = DyingScreen()
    screen = SteadyScreen(first, again, lambda: None, clock, there=answers.is_set)
    page = Job().glance
    first.gone = True
    screen.show(page)
    for _ in range(1_000):
        clock.now += 0.1
        screen.show(page)
    assert tries == [], "no window is opened where no display is"
    assert screen.trouble
    answers.set()
    came_back = clock.now
    while screen.trouble:
        clock.now += 0.02
        screen.show(page)
        assert clock.now < came_back + 5.0
    assert tries[0] - came_back <= LOOK_SECONDS + 0.02
    assert clock.now - came_back <= 3 * (LOOK_SECONDS + 0.02)


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
            raise DeviceMissing("voice", "it gave no answer when it was started")

    def sound(self, text: str, rate: int, shape: float) -> object:
        if not self.mended:
            raise DeviceFailed("voice", "the speech engine gave no answer in 1.5 s")
        return object()

    def close(self) -> None:
        """Nothing to end."""


def test_a_hanging_engine_is_known_after_one_try(tmp_path: Path) -> None:
    """The real engine's process, hanging: a second try would only come too late."""
    tries = tmp_path / "tries"
    voice = Voice(load=partial(hangs, tries))
    speaker = QueuedSpeaker(voice, ScriptedPlayer())
    assert ENGINE_SECONDS + WATCH_SECONDS < 2.0
    speaker.say([Sentence("Saddle in four turns.", Urgency.ANSWER)])
    end = time.monotonic() + PATIENCE
    while not speaker.trouble:
        assert time.monotonic() < end
        time.sleep(0.01)
    assert "gave no answer" in speaker.trouble
    assert tries.read_text() == "x"
    speaker.close()


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


def speak(ear: EarProcess) -> None:
    """Speech with some noise, as from a microphone."""
    noise = np.random.default_rng(1)
    speech = clip("touched") + noise.normal(0, 1e-4, clip("touched").size).astype(np.float32)
    for start in range(0, speech.size, 320):
        ear.feed(speech[start : start + 320])


@pytest.mark.parametrize(
    ("make", "why"),
    [(HangingOnce, "no sign of life"), (Throwing, "ValueError: a fault of the recogniser")],
)
def test_an_ear_that_hangs_or_throws_is_said_and_started_anew(
    make: Callable[[], ScriptedEar], why: str, capfd: pytest.CaptureFixture[str]
) -> None:
    assistant = assistant_with(SilentSpeaker(), HiddenScreen())
    ear = EarProcess(make)
    ear.start()
    live = Live(assistant, ear)
    assert until(live, lambda: ear.ready)
    step = assistant.state.step_id
    speak(ear)
    assert until(live, lambda: bool(lines(assistant, "Ear")))
    assert why in lines(assistant, "Ear")[0]
    assert "Ear trouble." in said(assistant)
    assert assistant.ear is Ear.TROUBLE
    assert until(live, lambda: ear.ready and not lines(assistant, "Ear"))
    assert "My ear is back." in said(assistant)
    assert assistant.state.step_id == step
    ear.close()
    assert "Traceback" not in capfd.readouterr().err


def test_the_time_in_which_a_hanging_ear_is_noticed() -> None:
    """From the limits themselves: a test by the clock would fail on a busy machine."""
    assert BEAT_SECONDS + SIGN_SECONDS + ON_TIME + TICK < 2.0
    assert STALL_SECONDS + TICK < 2.0
    assert START_PAUSES[0] == 0.0
    assert list(START_PAUSES) == sorted(START_PAUSES)


class Unborn(ScriptedEar):
    """Can't be made, as where its model was taken away."""

    def __init__(self) -> None:
        raise DeviceMissing("built-in ear", "the model is not there")


def test_an_ear_that_never_starts_is_said_once_and_tried_with_growing_pauses() -> None:
    clock = Time()
    assistant = assistant_with(SilentSpeaker(), HiddenScreen())
    ear = EarProcess(Unborn, clock=clock)
    live = Live(assistant, ear, clock=time.monotonic)
    ear.start()
    starts: list[float] = []
    spawn = ear._spawn
    ear._spawn = lambda: (starts.append(clock.now), spawn())[1]  # type: ignore[method-assign]

    def enough() -> bool:
        if ear._child is None:
            clock.now += 0.05  # no time passes while a loaded machine starts a process
        return len(starts) == 4

    assert until(live, enough)
    ear.close()
    pauses = np.diff(starts)
    assert list(pauses) == sorted(pauses), "the pauses grow"
    assert pauses[-1] > 2 * pauses[0]
    (line,) = lines(assistant, "Ear")
    assert "the model is not there" in line
    assert "I try again, with growing pauses" in line
    assert said(assistant).count("Ear trouble.") == 1
    assistant.hear(Heard("checked", engine="typed"))
    assert "Drawbar spanner off?" in said(assistant), "typed words still work the job"


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
