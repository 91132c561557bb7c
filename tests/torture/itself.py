"""Does it take its own voice for the operator's? Whole jobs said aloud before an open microphone.

    scripts/virtual_sound .venv/bin/python -m tests.torture.itself loudspeaker --minutes 60

All is the real program: voice, speaker, microphone, both ears, the live loop; only the card is of
software, and between its loudspeaker and its microphone there is a room (`tests/torture/room.py`),
or what comes out of an earphone. The operator is typed, so whatever the ear hears was said by the
program itself, or is noise. Each sentence is said in the step whose phrases are listened for.
"""

from __future__ import annotations

import argparse
import json
import random
import sys
import threading
import time
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from tempfile import TemporaryDirectory

from assistant.app.assistant import Assistant, Devices
from assistant.app.earphone import EarphoneGate
from assistant.app.paths import configs_folder
from assistant.app.run_live import TICK, Live, _pump
from assistant.app.settings import Settings
from assistant.app.transcript import Transcript
from assistant.app.wiring import choose_ear, with_second
from assistant.devices.clock import SystemClock
from assistant.devices.ear import EarEvent, EarProcess, HeardEvent, SpeechStarted
from assistant.devices.hidden import HiddenScreen
from assistant.devices.journal import MemoryJournal
from assistant.devices.microphone import Microphone
from assistant.devices.speaker import QueuedSpeaker, find_speaker
from assistant.phrases.book import load_book
from assistant.ports import Samples
from assistant.spoken import Heard
from tests.factories import expected_words
from tests.torture.room import Between

PAUSE = 1.2
"""Seconds of silence before the operator's next word: what the ear took for speech ends in it."""
EACH = 240.0
"""Seconds at most of one job, so that an hour has many operations."""
START_SECONDS = 180.0
LOUDSPEAKER = (
    Between("loudspeaker, machine off", -6.0, walls=True),
    Between("loudspeaker, machine running", -6.0, walls=True, noise_db=-38.0),
    Between("loudspeaker by radio link, 0.2 s late", -6.0, walls=True, late=0.2),
)
HEADSET = (
    Between("headset, 40 dB from earphone to microphone", -40.0),
    Between("headset, 20 dB", -20.0),
    Between("headset, 30 dB, machine running", -30.0, noise_db=-48.0),
)
KINDS = {"loudspeaker": LOUDSPEAKER, "headset": HEADSET}


@dataclass
class Alone:
    """What came of it."""

    seconds: float = 0.0
    spoken: float = 0.0
    """Seconds in which it spoke."""
    sentences: int = 0
    jobs: int = 0
    begun: Counter[str] = field(default_factory=Counter)
    """How often the ear took something for the beginning of speech, by surroundings."""
    heard: Counter[str] = field(default_factory=Counter)
    """How often it gave words to the program."""
    acted: Counter[str] = field(default_factory=Counter)
    """How often anything came of that: a record in the journal."""
    examples: list[str] = field(default_factory=list)

    @property
    def ok(self) -> bool:
        """Whether nothing came of its own voice."""
        return not self.acted.total()


class _Ear(EarProcess):
    """Keeps what the loop was told."""

    news: list[EarEvent]

    def poll(self) -> list[EarEvent]:
        events = super().poll()
        self.news += events
        return events


class _All(EarphoneGate):
    """Lets its own voice through: for a trial of the trial."""

    def through(self, sound: Samples, *, own: bool) -> list[Samples]:
        return [sound]


class _AtWork:
    """One job on the card of software."""

    def __init__(self, folder: Path, job: Path, *, headset: bool, kept_back: bool) -> None:
        settings = Settings()
        speaker = find_speaker(folder, mode="card")
        assert isinstance(speaker, QueuedSpeaker)
        self.speaker = speaker
        devices = Devices(MemoryJournal(), speaker, HiddenScreen(), SystemClock())
        self.assistant = Assistant(load_book(), devices, Transcript(lambda _line: None))
        make, _ = choose_ear(settings)
        make, _ = with_second(settings, make)
        self.ear = _Ear(make)
        self.ear.news = []
        self.ear.start()
        self.ear.wait_ready(START_SECONDS)
        self.said = len(self.assistant.begin(job))
        self.live = Live(self.assistant, self.ear, headset=headset)
        if not kept_back:
            self.live.gate.earphone = _All()
        self.microphone = Microphone()
        self._pump = threading.Thread(
            target=_pump, args=(self.microphone, self.ear, self.live.gate), daemon=True
        )
        self._pump.start()

    def close(self) -> None:
        self.live.gate.closing.set()
        self.microphone.close()
        self.ear.close()
        self._pump.join(timeout=2)
        self.speaker.close()


def work(
    found: Alone,
    job: Path,
    where: Between,
    seconds: float,
    noises: Path,
    *,
    headset: bool,
    kept_back: bool,
) -> None:
    """Say one job's sentences, as far as the time goes."""
    with (
        TemporaryDirectory() as folder,
        where.there(Path(folder), noises, found.jobs, EACH + START_SECONDS),
    ):
        at = _AtWork(Path(folder), job, headset=headset, kept_back=kept_back)
        try:
            _through(found, at, where.name, seconds)
        finally:
            at.close()
    found.jobs += 1
    print(json.dumps(vars(found)), file=sys.stderr, flush=True)


def _through(found: Alone, at: _AtWork, where: str, seconds: float) -> None:
    begun = last = quiet_since = time.monotonic()
    found.sentences += at.said
    while found.seconds < seconds and not at.assistant.over and last - begun < EACH:
        before = at.assistant.state.seq
        at.live.step()
        found.begun[where] += sum(isinstance(one, SpeechStarted) for one in at.ear.news)
        heard = [one.heard for one in at.ear.news if isinstance(one, HeardEvent)]
        at.ear.news.clear()
        if heard:
            acted = at.assistant.state.seq != before
            found.heard[where] += len(heard)
            found.acted[where] += acted
            over = at.live._spoken_until
            words = ", ".join(
                f"{one.words!r} ({one.confidence:.2f}, begun {one.started - over:+.2f} s from its "
                "last word)" for one in heard
            )  # fmt: skip
            found.examples.append(
                f"{where}: {at.assistant.state.step_id}: {words}"
                f"{' ACTED' if acted else ''}; said last: {at.assistant.state.last_reply}"
            )
        now = time.monotonic()
        if at.speaker.speaking:
            found.spoken += now - last
            quiet_since = now
        found.seconds += now - last
        last = now
        if now - quiet_since > PAUSE:
            said = at.assistant.hear(Heard(expected_words(at.assistant.state), engine="typed"))
            found.sentences += len(said.sentences)
            quiet_since = now
        time.sleep(TICK)


def alone(
    kind: str,
    seconds: float,
    noises: Path,
    seed: int = 1,
    jobs: Sequence[str] = (),
    *,
    kept_back: bool = True,
) -> Alone:
    """Jobs one after another for so many seconds, in each kind of surroundings in turn.

    `kept_back` is for a trial of the trial: whether its own voice is kept from the ear at all.
    """
    paths = sorted((configs_folder() / "jobs").glob("*.toml"))
    if jobs:
        paths = [path for path in paths if path.stem in jobs]
    random.Random(seed).shuffle(paths)
    found, turn = Alone(), 0
    while found.seconds < seconds:
        where = KINDS[kind][turn % len(KINDS[kind])]
        work(found, paths[turn % len(paths)], where, seconds, noises, headset=kind == "headset",
             kept_back=kept_back)  # fmt: skip
        turn += 1
    return found


def main() -> None:
    """Print what came of it as JSON."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("kind", choices=KINDS)
    parser.add_argument("--minutes", type=float, default=60.0)
    parser.add_argument("--noise", type=Path, default=Path("data/noise"))
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--jobs", nargs="*", default=[])
    parser.add_argument("--all", action="store_true", help="its voice isn't kept from the ear")
    asked = parser.parse_args()
    found = alone(
        asked.kind, 60 * asked.minutes, asked.noise, asked.seed, asked.jobs,
        kept_back=not asked.all,
    )  # fmt: skip
    print(json.dumps(vars(found) | {"ok": found.ok}, indent=1))


if __name__ == "__main__":
    main()
