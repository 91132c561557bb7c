"""What a shop has from another version of the program: taken over from an earlier one, whose sample
is kept (`version_sample.py`); from a later one refused in words, and left as it is."""

from __future__ import annotations

import json
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from assistant import __version__
from assistant.app.assistant import Assistant, Devices
from assistant.app.cli.run import open_job
from assistant.app.drafts import Draft
from assistant.app.keep_setting import keep_setting
from assistant.app.own_voice import load_voice
from assistant.app.paths import find_job
from assistant.app.settings import Settings, load_settings
from assistant.app.transcript import Transcript
from assistant.app.wiring import ear_notices
from assistant.devices.clock import SetClock
from assistant.devices.hidden import HiddenScreen
from assistant.devices.journal import open_journal
from assistant.devices.journal.rows import Row, mark_of
from assistant.devices.journal.schema import COLUMNS, FORMAT
from assistant.devices.speaker import SilentSpeaker
from assistant.errors import BadFile, JournalError
from assistant.jobs.planning import plan_for, read_job
from assistant.machine import load_machine
from assistant.phrases.book import load_book
from assistant.session.events import JobStarted
from assistant.spoken import Heard
from assistant.textfile import read_file
from tests.app.version_sample import AT, CONFIG, DATA, JOB, MACHINE, SETTINGS, VERSIONS, VOICE
from tests.factories import NOW, expected_words
from tests.filling.talking import begun

KEPT = sorted(path.name for path in VERSIONS.iterdir())


def shop_of(version: str, home: Path, patch: pytest.MonkeyPatch) -> Path:
    """A home as that version left it, in which this one is at work."""
    shutil.copytree(VERSIONS / version, home, dirs_exist_ok=True)
    patch.setenv("XDG_CONFIG_HOME", str(home / "config"))
    patch.setenv("XDG_DATA_HOME", str(home / "data"))
    return home


@pytest.fixture(params=KEPT)
def earlier(
    request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Path:
    return shop_of(request.param, tmp_path, monkeypatch)


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    return shop_of(KEPT[-1], tmp_path, monkeypatch)


def rows(journal: Path) -> list[tuple[object, ...]]:
    with closing(sqlite3.connect(journal)) as file:
        return list(file.execute("SELECT * FROM event ORDER BY place"))


def at_work(journal: Path) -> tuple[Assistant, Callable[[], None]]:
    kept = open_journal(journal)
    devices = Devices(kept, SilentSpeaker(), HiddenScreen(), SetClock(NOW))
    return Assistant(load_book(), devices, Transcript(lambda _line: None)), kept.close


def test_this_version_has_its_sample() -> None:
    assert __version__ in KEPT, "python -m tests.app.version_sample"


# -- an earlier version's -------------------------------------------------------------------------


def test_settings_voice_machine_and_job_are_taken_over(earlier: Path) -> None:
    settings = load_settings()
    for key, value in SETTINGS.items():
        assert getattr(settings, key) == value
    assert load_voice() == VOICE
    job = find_job(JOB)
    assert job.is_relative_to(earlier)
    machine = load_machine(earlier / CONFIG / "machines" / f"{MACHINE}.toml")
    assert plan_for(read_file(job), job.name, machine, {}).steps
    assert read_job(read_file(job), job.name)


def test_a_new_job_that_was_half_answered_goes_on(earlier: Path) -> None:
    talk = Draft().load(begun().shop)
    assert talk is not None
    assert talk.answers == 3
    assert talk.work == "keyseat"


def test_an_open_job_is_worked_to_its_end_and_nothing_of_it_is_rewritten(earlier: Path) -> None:
    journal = earlier / DATA / "journal.sqlite"
    before = rows(journal)
    assistant, close = at_work(journal)
    job_id = open_job(assistant.devices.journal, find_job(JOB))
    assistant.resume(job_id, find_job(JOB))
    assert len(assistant.state.confirmed) >= AT
    done = set(assistant.state.confirmed)
    for _ in range(60):
        if assistant.state.finished:
            break
        answer = "nothing moved" if assistant.state.doubts else expected_words(assistant.state)
        if assistant.state.doubts and assistant.state.doubts[0].axis:
            answer = "dial reads zero"
        assistant.hear(Heard(answer, 1.0, engine="typed"))
    assert assistant.state.finished, assistant.state.step_id
    assert done <= set(assistant.state.confirmed)
    records = assistant.devices.journal.read(job_id)
    started = [one.event for one in records if isinstance(one.event, JobStarted)]
    assert started[0].program == earlier_version(earlier)
    close()
    assert rows(journal)[: len(before)] == before
    assert len(rows(journal)) > len(before)


def earlier_version(home: Path) -> str:
    body = json.loads(str(rows(home / DATA / "journal.sqlite")[0][6]))
    return str(body["program"])


# -- a later version's ----------------------------------------------------------------------------


def add(journal: Path, body: str) -> None:
    """A record more of the open job, as a later version might write it."""
    with closing(sqlite3.connect(journal)) as file:
        last = Row._make(
            file.execute(f"SELECT {COLUMNS} FROM event ORDER BY place DESC LIMIT 1").fetchone()
        )
        bare = last._replace(
            seq=last.seq + 1, command=last.command + 1, through=last.seq + 1, body=body
        )
        row = bare._replace(mark=mark_of(bare, last.mark))
        file.execute(
            f"INSERT INTO event ({COLUMNS}, type) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
            (*row, json.loads(body)["type"]),
        )
        file.commit()


@pytest.mark.parametrize(
    ("body", "says"),
    [
        ('{"type":"Levelled","version":1,"axis":"knee"}', "written by a newer one"),
        ('{"type":"Undone","version":9,"seq":1}', "open the journal with the newer program"),
        ('{"type":"Undone","version":1,"seq":1,"why":"x"}', "unknown field 'why'"),
    ],
)
def test_a_job_with_a_later_version_s_record_is_refused(shop: Path, body: str, says: str) -> None:
    journal = shop / DATA / "journal.sqlite"
    add(journal, body)
    before = rows(journal)
    assistant, close = at_work(journal)
    assert assistant.devices.journal.notices == (), "it is no damage"
    with pytest.raises(JournalError, match=says):
        assistant.resume(before[-1][1], find_job(JOB))
    close()
    assert rows(journal) == before
    assert sorted(path.name for path in journal.parent.glob("*damaged*")) == []


def test_a_journal_in_a_later_form_is_refused_to_the_byte(shop: Path) -> None:
    journal = shop / DATA / "journal.sqlite"
    with closing(sqlite3.connect(journal)) as file:
        file.execute(f"PRAGMA user_version = {FORMAT + 1}")
        file.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    before = journal.read_bytes()
    with pytest.raises(JournalError, match="open it with the newer program"):
        open_journal(journal)
    assert journal.read_bytes() == before


def lengthened(path: Path, line: str) -> bytes:
    path.write_text(f"{line}\n{path.read_text(encoding='utf-8')}", encoding="utf-8")
    return path.read_bytes()


def test_settings_with_a_later_version_s_key_are_refused(shop: Path) -> None:
    path = shop / CONFIG / "settings.toml"
    before = lengthened(path, 'lamp = "green"')
    with pytest.raises(BadFile, match=r"settings\.toml: lamp is 'green': unknown key"):
        load_settings()
    with pytest.raises(BadFile, match="lamp"):
        keep_setting("voice", "clear")
    assert path.read_bytes() == before


def test_a_machine_and_a_job_with_a_later_version_s_key_are_refused(shop: Path) -> None:
    machine = shop / CONFIG / "machines" / f"{MACHINE}.toml"
    good = load_machine(machine)
    before = lengthened(machine, 'ballast = "oil"')
    with pytest.raises(BadFile, match="ballast is 'oil': unknown key"):
        load_machine(machine)
    job = find_job(JOB)
    text = lengthened(job, 'mood = "calm"').decode()
    with pytest.raises(BadFile, match="mood is 'calm': unknown key"):
        plan_for(text, job.name, good, {})
    assert machine.read_bytes() == before


def test_a_later_version_s_voice_is_told_and_done_without(shop: Path) -> None:
    path = shop / DATA / "voice.json"
    data = json.loads(path.read_text(encoding="utf-8"))
    path.write_text(json.dumps(data | {"version": 2, "pitch": 3}), encoding="utf-8")
    before = path.read_bytes()
    with pytest.raises(BadFile, match="a later version of the program wrote it"):
        load_voice()
    (line,) = (line for line in ear_notices(replace(Settings())) if "learned of your voice" in line)
    assert "a later version of the program wrote it" in line
    assert path.read_bytes() == before


def test_a_later_version_s_answers_are_told_and_kept_aside(shop: Path) -> None:
    draft = Draft()
    kept = json.loads(draft.path.read_text(encoding="utf-8"))
    draft.path.write_text(json.dumps(kept | {"format": 2}), encoding="utf-8")
    before = draft.path.read_bytes()
    with pytest.raises(BadFile, match="a later version of the program wrote it"):
        draft.load(begun().shop)
    assert draft.path.read_bytes() == before
    assert draft.save(begun()), "another one lay there"
    assert draft.before.read_bytes() == before
