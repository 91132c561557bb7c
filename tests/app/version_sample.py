"""Makes the sample of a version: what a shop that works with it leaves in its folders.

    python -m tests.app.version_sample

writes it for the version at work, once, under `tests/reference/versions/`: a machine and a job of
the shop's own, settings, a learned voice, a job begun and left open, a new job left half answered,
each written by the part of the program that writes it. Once a version is out its sample is never
written again: later versions have to take it over (`test_versions.py`). All of it is invented.
"""

from __future__ import annotations

import sys
from datetime import UTC, datetime
from pathlib import Path

from assistant import __version__
from assistant.app.assistant import Assistant, Devices
from assistant.app.drafts import Draft
from assistant.app.keep_setting import keep_setting
from assistant.app.own_voice import OwnVoice, save_voice
from assistant.app.paths import configs_folder
from assistant.app.transcript import Transcript
from assistant.devices.clock import SetClock
from assistant.devices.hidden import HiddenScreen
from assistant.devices.journal import open_journal
from assistant.devices.speaker import SilentSpeaker
from assistant.phrases.book import load_book
from assistant.spoken import Heard, Understood
from tests.factories import NOW, expected_words
from tests.filling.talking import KEYSEAT, after

ROOT = Path(__file__).resolve().parents[2]
VERSIONS = ROOT / "tests" / "reference" / "versions"
CONFIG, DATA = Path("config") / "wheelcall", Path("data") / "wheelcall"
JOB, MACHINE, LIKE = "shop-bracket", "shop-mill", "mere-vertical"
AT = 11
"""Of the job's steps so many were done when it was left: the tapping drill has touched the work."""
ANSWERED = KEYSEAT[:3]
"""Of a new job; the rest was never answered."""
SETTINGS = {"voice": "system", "leads": "travel", "pedal": "space"}
VOICE = OwnVoice(
    datetime(2026, 11, 30, 9, 0, tzinfo=UTC), 20, 15, 19, 0.25, {"knee": ("nee", "the knee")}
)


def make(folder: Path) -> None:
    """Write all of it into an empty folder."""
    config, data = folder / CONFIG, folder / DATA
    for kind in ("machines", "jobs"):
        (config / kind).mkdir(parents=True)
    came = configs_folder()
    machine = (came / "machines" / f"{LIKE}.toml").read_text(encoding="utf-8")
    (config / "machines" / f"{MACHINE}.toml").write_text(machine, encoding="utf-8")
    job = (came / "jobs" / "tap-through.toml").read_text(encoding="utf-8")
    path = config / "jobs" / f"{JOB}.toml"
    path.write_text(job.replace(LIKE, MACHINE), encoding="utf-8")
    for key, value in SETTINGS.items():
        keep_setting(key, value, config / "settings.toml")
    save_voice(VOICE, data / "voice.json")
    Draft(data / "new-job.json").save(after(ANSWERED))
    left_open(path, data / "journal.sqlite")
    for beside in data.glob("journal.sqlite?*"):
        beside.unlink()


def left_open(job: Path, journal: Path) -> None:
    """Begin the job, and leave it in its middle."""
    kept = open_journal(journal)
    devices = Devices(kept, SilentSpeaker(), HiddenScreen(), SetClock(NOW))
    assistant = Assistant(load_book(), devices, Transcript(lambda _line: None))
    assistant.begin(job)
    while len(assistant.state.confirmed) < AT:
        words = expected_words(assistant.state)
        assert isinstance(assistant.hear(Heard(words, 1.0, engine="typed")).said, Understood)
    kept.close()


if __name__ == "__main__":
    if (VERSIONS / __version__).exists():
        sys.exit(f"{__version__} has its sample; one that is out is never written again")
    make(VERSIONS / __version__)
