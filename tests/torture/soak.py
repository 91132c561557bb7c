"""A long shift, faster than real time: does memory, a thread, a queue or the delay grow?

`by_ear` is the whole program but for the cards: the demo's recordings, shop noise and talk
between them go through the ear's real process; window (on SDL's dummy driver), journal file and
live loop are the real ones. How fast it goes is how fast the recogniser is.

`by_words` is the same without the recogniser: tens of thousands of commands in minutes, for what
grows with their number in the program itself.
"""

from __future__ import annotations

import os
import random
import statistics
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
import psutil
import soxr

from assistant.app.assistant import Assistant, Devices
from assistant.app.operator import DemoOperator, read_script
from assistant.app.paths import configs_folder, find_job
from assistant.app.run_live import Live
from assistant.app.settings import Settings
from assistant.app.transcript import Transcript
from assistant.app.wiring import choose_ear, with_second
from assistant.devices.clock import SystemClock
from assistant.devices.ear import EarEvent, EarProcess, HeardEvent
from assistant.devices.journal import open_journal
from assistant.devices.speaker import SilentSpeaker, Voice
from assistant.devices.wav import SoundFile
from assistant.errors import DeviceFailed
from assistant.phrases.book import load_book
from assistant.ports import RATE, Samples, Speaker
from assistant.spoken import Heard, Sentence
from tests.factories import expected_words

ROOT = Path(__file__).resolve().parents[2]

CHUNK = 320
WARM_UP = 0.3
"""Share of the samples that are taken while caches still fill."""
GROWTH = 0.05
SAMPLES_EVERY = 25
"""Commands between two looks at memory."""
TALK = (
    "The radio said we would have rain today.",
    "Did you see the game last night?",
    "I think the van is blocking the gate again.",
    "Somebody left the kettle on in the office.",
    "Tell him I will call back after lunch.",
    "That is not what the letter said at all.",
    "We could do with another pair of hands here.",
    "My brother is moving house at the weekend.",
)
"""What is said in a shop and is no command; spoken by the system's speech engine."""


@dataclass
class Look:
    """One look at the program under way."""

    commands: int
    program_mb: float
    ear_mb: float
    threads: int
    queued: int
    """Commands to the ear's process that it hasn't worked off, and to the program."""


@dataclass
class Soaked:
    """What a long shift came to."""

    jobs: int = 0
    commands: int = 0
    noises: int = 0
    """Stretches of noise or talk between, that must be no command."""
    taken_from_noise: int = 0
    """Of those, how many were understood as a command that changes the job."""
    examples: list[str] = field(default_factory=list)
    """What was heard in those."""
    seconds_of_sound: float = 0.0
    looks: list[Look] = field(default_factory=list)
    delays: list[float] = field(default_factory=list)
    """Milliseconds from the end of each utterance's sound to the answer kept, spoken and shown."""

    @property
    def steady(self) -> list[Look]:
        """The looks after warm-up."""
        return self.looks[int(len(self.looks) * WARM_UP) :]

    def growth(self, what: str) -> float:
        """Share by which `program_mb` or `ear_mb` grew from the first to the last fifth."""
        values = [getattr(look, what) for look in self.steady]
        fifth = max(1, len(values) // 5)
        first, last = (statistics.median(values[:fifth]), statistics.median(values[-fifth:]))
        return (last - first) / first if first else 0.0

    @property
    def delay_p95(self) -> tuple[float, float]:
        """95th percentile of the delay, in ms: at the start (after warm-up) and at the end."""
        steady = self.delays[int(len(self.delays) * WARM_UP) :]
        third = max(1, len(steady) // 3)
        return _p95(steady[:third]), _p95(steady[-third:])

    @property
    def threads(self) -> tuple[int, int]:
        """Threads after warm-up and at the end."""
        return self.steady[0].threads, self.steady[-1].threads

    @property
    def megabytes(self) -> str:
        """Memory of the program, and of the ear where there is one, at the end."""
        last = self.looks[-1]
        ear = [f"{last.ear_mb:.0f}"] if last.ear_mb else []
        return " and ".join([f"{last.program_mb:.0f}", *ear])

    @property
    def longest_queue(self) -> int:
        """The most commands that waited for the ear, or for the program, at any look."""
        return max(look.queued for look in self.looks)

    @property
    def ok(self) -> bool:
        """Whether nothing grew and no noise moved a job. The delay is told: load changes it."""
        return (
            self.growth("program_mb") < GROWTH
            and self.growth("ear_mb") < GROWTH
            and self.threads[1] <= self.threads[0]
            and not self.taken_from_noise
            and max(look.queued for look in self.steady) <= self.steady[0].queued + 200
        )


def _p95(values: Sequence[float]) -> float:
    ordered = sorted(values)
    return ordered[min(len(ordered) - 1, int(0.95 * len(ordered)))] if ordered else 0.0


class _Speaker(SilentSpeaker):
    """Keeps the last answer alone: a list of all of them would be a leak of the test's own."""

    def say(self, sentences: Sequence[Sentence]) -> None:
        self.said.clear()
        super().say(sentences)


class _Ear(EarProcess):
    """Keeps what the live loop was told was heard."""

    heard: list[Heard]

    def poll(self) -> list[EarEvent]:
        events = super().poll()
        self.heard += [event.heard for event in events if isinstance(event, HeardEvent)]
        return events

    @property
    def queued(self) -> int:
        return self._child.queued if self._child is not None else 0

    @property
    def pid(self) -> int:
        return self._child.pid if self._child is not None else 0


def _family(pid: int) -> list[psutil.Process]:
    """The ear's process, and that of the second ear below it; none where there is no ear."""
    if not pid:
        return []
    ear = psutil.Process(pid)
    return [ear, *ear.children(recursive=True)]


class _Shift:
    """The program at work, and the sound of its shop."""

    def __init__(self, folder: Path, seed: int) -> None:
        os.environ.setdefault("SDL_VIDEODRIVER", "dummy")
        from assistant.devices.screen import WindowScreen

        self.rng = random.Random(seed)
        self.result = Soaked()
        speaker: Speaker = _Speaker()
        self.screen = WindowScreen((1280, 720))
        self.journal = open_journal(folder / "journal.sqlite")
        devices = Devices(self.journal, speaker, self.screen, SystemClock())
        self.assistant = Assistant(load_book(), devices, Transcript(lambda _line: None))
        settings = Settings()
        make, _ = choose_ear(settings)
        make, self.second = with_second(settings, make)
        self.ear = _Ear(make)
        self.ear.heard = []
        self.live = Live(self.assistant, self.ear)
        self.script = read_script(configs_folder() / "demo" / "keyseat-inch.toml")
        self.noise: list[Samples] = []
        self.talk: list[Samples] = []
        self._me = psutil.Process()

    def read_the_shop(self) -> None:
        """Noise and talk as sound."""
        noises = sorted((ROOT / "data" / "noise").glob("*.flac"))
        self.noise = [_read(path) for path in noises]
        self.talk = _spoken(TALK)

    def begin(self) -> list[str]:
        """A job, and what is said at its beginning."""
        opening = self.assistant.begin(find_job(self.script.job))
        self.result.jobs += 1
        return [sentence.text for sentence in opening]

    def between(self) -> Samples:
        """Noise or talk of a second or two."""
        if self.talk and self.rng.random() < 0.4:
            return self.rng.choice(self.talk)
        if not self.noise:
            made = np.random.default_rng(self.rng.randrange(2**32)).normal(0, 0.01, RATE * 2)
            return made.astype(np.float32)
        noise = self.rng.choice(self.noise)
        start = self.rng.randrange(max(1, len(noise) - 2 * RATE))
        return noise[start : start + 2 * RATE] * np.float32(0.3)

    def hear(self, sound: Samples) -> list[Heard]:
        """Sound with a pause after it, through the ear and the live loop; what was heard."""
        self.ear.heard.clear()
        whole = np.concatenate([sound, np.zeros(RATE, np.float32)])
        for start in range(0, whole.size, CHUNK):
            self.ear.feed(whole[start : start + CHUNK])
        self.result.seconds_of_sound += whole.size / RATE
        self.ear.flush()
        while not self.ear.flushed:
            self.live.step()
            time.sleep(0.002)
        return list(self.ear.heard)

    def look(self) -> None:
        """Take a look every so many commands."""
        if self.result.commands % SAMPLES_EVERY:
            return
        ears = _family(self.ear.pid)
        self.result.looks.append(
            Look(
                self.result.commands,
                self._me.memory_info().rss / 2**20,
                sum(ear.memory_info().rss for ear in ears) / 2**20,
                threading.active_count() + sum(ear.num_threads() for ear in ears),
                self.ear.queued + self.live.inbox.qsize(),
            )
        )

    def close(self) -> Soaked:
        self.ear.close()
        self.screen.close()
        self.journal.close()
        return self.result


def _read(path: Path) -> Samples:
    return np.concatenate(list(SoundFile(path).chunks()))


def _spoken(texts: Sequence[str]) -> list[Samples]:
    """Talk as sound; none where there is no speech engine."""
    voice = Voice()
    try:
        sounds = [voice.sound(text, 170) for text in texts]
    except DeviceFailed:
        return []
    finally:
        voice.close()
    return [
        np.asarray(soxr.resample(one.samples, one.rate, RATE), np.float32) * np.float32(0.6)
        for one in sounds
    ]


def by_ear(folder: Path, most: int, until: Callable[[], bool], seed: int = 1) -> Soaked:
    """Up to `most` spoken commands through the real ear."""
    shift = _Shift(folder, seed)
    try:
        shift.read_the_shop()
        shift.ear.start()
        answer = shift.begin()
        shift.live.step()
        shift.ear.wait_ready()
        while shift.result.commands < most and not until():
            answer = _job_by_ear(shift, answer, most, until)
            answer = shift.begin()
    finally:
        result = shift.close()
    return result


def _job_by_ear(
    shift: _Shift, answer: list[str], most: int, until: Callable[[], bool]
) -> list[str]:
    operator = DemoOperator(shift.script)
    while shift.result.commands < most and not until():
        phrase = operator.next(answer)
        if phrase is None:
            break
        if shift.rng.random() < 0.3:
            before = shift.assistant.state
            heard = shift.hear(shift.between())
            shift.result.noises += 1
            moved = (shift.assistant.state.facts, shift.assistant.state.step_id)
            if moved != (before.facts, before.step_id):
                shift.result.taken_from_noise += 1
                words = ", ".join(f"{one.words} ({one.confidence:.2f})" for one in heard)
                shift.result.examples.append(f"{before.step_id}: {words}")
        before_reply = shift.assistant.state.last_reply
        begun = time.perf_counter()
        heard = shift.hear(_read(shift.script.clip(phrase)))
        shift.result.delays.append((time.perf_counter() - begun) * 1000)
        shift.result.commands += 1
        shift.look()
        state = shift.assistant.state
        answered = bool(heard) and state.last_reply is not before_reply
        answer = list(state.last_reply) if answered else []
    return answer


def by_words(folder: Path, most: int, until: Callable[[], bool], seed: int = 1) -> Soaked:
    """Up to `most` commands without sound: whole jobs one after another, babble between."""
    shift = _Shift(folder, seed)
    words = _babble(shift.rng)
    try:
        while shift.result.commands < most and not until():
            shift.begin()
            while not shift.assistant.state.finished and shift.result.commands < most:
                if shift.rng.random() < 0.3:
                    before = shift.assistant.state
                    shift.live.inbox.put(Heard(next(words), 0.9, engine="moonshine"))
                    shift.live.step()
                    shift.result.noises += 1
                    shift.result.taken_from_noise += shift.assistant.state.seq != before.seq
                begun = time.perf_counter()
                said = expected_words(shift.assistant.state)
                shift.live.inbox.put(Heard(said, 1.0, engine="typed"))
                shift.live.step()
                shift.result.delays.append((time.perf_counter() - begun) * 1000)
                shift.result.commands += 1
                shift.look()
    finally:
        result = shift.close()
    return result


def _babble(rng: random.Random) -> Iterator[str]:
    while True:
        yield " ".join(rng.choice(("rain", "then", "radio", "some", "we")) for _ in range(4))
