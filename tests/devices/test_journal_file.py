"""The journal file: what it survives, what it refuses, and what it says of both."""

from __future__ import annotations

import os
import random
import re
import shutil
import signal
import sqlite3
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from assistant.devices.journal import (
    JournalLockedError,
    SqliteJournal,
    default_path,
    open_journal,
    watch_journal,
)
from assistant.devices.journal import sqlite as sqlite_module
from assistant.errors import JournalError
from assistant.session.events import Planned, Record, StopSaid
from tests.contracts.test_journal import NOON, records, started
from tests.session.sample_events import EVENTS, PLAN

ROOT = Path(__file__).parents[2]

HOLD = """
import sys
from pathlib import Path
from assistant.devices.journal import open_journal
from tests.contracts.test_journal import records, started
journal = open_journal(Path(sys.argv[1]))
journal.append("shaft", records(started("Shaft")))
print("open", flush=True)
sys.stdin.read()
"""

WRITE_ON = """
import sys
from pathlib import Path
from assistant.devices.journal import open_journal
from assistant.session.events import Planned
from tests.contracts.test_journal import records
from tests.session.sample_events import EVENTS, PLAN
journal = open_journal(Path(sys.argv[1]))
last = len(journal.read("shaft"))
while True:
    group = records(*EVENTS[last % 7 : last % 7 + 3], Planned(PLAN), after=last)
    journal.append("shaft", group)
    last += len(group)
    print(last, flush=True)
"""

FILL = """
import resource, sys
from pathlib import Path
from assistant.devices.journal import open_journal
from assistant.errors import JournalError
from assistant.session.events import Planned
from tests.contracts.test_journal import records
from tests.session.sample_events import PLAN
journal = open_journal(Path(sys.argv[1]))
resource.setrlimit(resource.RLIMIT_FSIZE, (200_000, resource.RLIM_INFINITY))
last, why = 0, ""
while not why:
    try:
        journal.append("shaft", records(Planned(PLAN), Planned(PLAN), after=last))
        last += 2
    except JournalError as error:
        why = str(error)
assert len(journal.read("shaft")) == last, "what was refused must not be there"
resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
journal.append("shaft", records(Planned(PLAN), after=last))
print(last + 1, why, sep="|")
"""


def python(source: str, path: Path) -> subprocess.Popen[str]:
    """A second program at the journal."""
    return subprocess.Popen(
        [sys.executable, "-c", source, str(path)],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=ROOT,
    )  # fmt: skip


def write(path: Path, groups: int) -> list[Record]:
    """A journal of one job: a start and `groups` appends of two events, one of them long."""
    journal = open_journal(path)
    journal.append("shaft", records(started("Shaft")))
    for _ in range(groups):
        after = len(journal.read("shaft"))
        journal.append("shaft", records(Planned(PLAN), StopSaid(), after=after))
    written = list(journal.read("shaft"))
    journal.close()
    return written


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "shop" / "journal.sqlite"


def test_the_file_is_one_and_holds_what_was_written(path: Path) -> None:
    written = write(path, 3)
    assert {file.name for file in path.parent.iterdir()} <= {path.name, path.name + ".lock"}
    journal = open_journal(path)
    assert list(journal.read("shaft")) == written
    assert journal.notices == ()
    assert not journal.watching
    journal.close()


def test_a_kill_at_any_moment_loses_no_event_and_no_half(path: Path) -> None:
    rng = random.Random(7)
    told = 0
    for _ in range(3):
        process = python(WRITE_ON, path)
        assert process.stdout is not None
        for _ in range(rng.randrange(1, 12)):
            told = int(process.stdout.readline())
        process.send_signal(signal.SIGKILL)
        rest = process.stdout.read().split()
        told = int(rest[-1]) if rest else told
        process.wait()
        journal = open_journal(path)
        kept = journal.read("shaft")
        assert journal.notices == ()
        assert [record.seq for record in kept] == list(range(1, len(kept) + 1))
        assert told <= len(kept) <= told + 4
        assert len(kept) % 4 == 0
        journal.close()


def test_a_full_disk_is_said_and_room_is_taken_up_again(path: Path) -> None:
    process = python(FILL, path)
    out, err = process.communicate(timeout=60)
    assert process.returncode == 0, err
    count, why = out.strip().split("|")
    assert "nothing was written" in why
    assert "disk" in why
    journal = open_journal(path)
    assert len(journal.read("shaft")) == int(count)
    journal.close()


def test_a_second_copy_is_refused_and_may_watch(path: Path) -> None:
    holder = python(HOLD, path)
    assert holder.stdout is not None
    assert holder.stdout.readline() == "open\n"
    with pytest.raises(JournalLockedError, match=r"another copy of the program.*watch"):
        open_journal(path)
    watching = watch_journal(path)
    assert watching.watching
    assert [job.id for job in watching.jobs()] == ["shaft"]
    with pytest.raises(JournalError, match="only to watch"):
        watching.append("shaft", records(StopSaid(), after=1))
    holder.kill()
    holder.wait()
    journal = open_journal(path)  # the lock of a killed program is gone with it
    journal.append("shaft", records(StopSaid(), after=1))
    assert len(watching.read("shaft")) == 2
    watching.close()
    journal.close()


def test_the_same_program_is_no_exception(path: Path) -> None:
    first = open_journal(path)
    with pytest.raises(JournalLockedError):
        open_journal(path)
    first.close()
    open_journal(path).close()


def test_watching_what_is_not_there_is_an_error(path: Path) -> None:
    with pytest.raises(JournalError, match="can't be opened"):
        watch_journal(path)
    assert not path.exists()


@pytest.fixture
def unprivileged() -> Iterator[None]:
    """Not root, to whom no folder is read-only."""
    if os.geteuid() != 0:
        yield
        return
    os.seteuid(65_534)
    yield
    os.seteuid(0)


def test_a_read_only_folder_is_named(tmp_path: Path, request: pytest.FixtureRequest) -> None:
    folder = tmp_path / "locked"
    folder.mkdir()
    written = write(folder / "journal.sqlite", 1)
    for file in folder.iterdir():
        file.chmod(0o444)
    folder.chmod(0o555)
    for parent in (tmp_path, *tmp_path.parents):
        if parent.owner() == "root" and parent != Path("/"):
            parent.chmod(parent.stat().st_mode | 0o055)
        if parent.name.startswith("pytest-of"):
            break
    request.getfixturevalue("unprivileged")
    with pytest.raises(JournalError, match=str(folder)):
        open_journal(folder / "journal.sqlite")
    with pytest.raises(JournalError, match=str(folder)):
        open_journal(folder / "new" / "journal.sqlite")
    watching = watch_journal(folder / "journal.sqlite")
    assert list(watching.read("shaft")) == written
    watching.close()
    folder.chmod(0o755) if os.geteuid() != 65_534 else None


def test_a_folder_that_is_a_file_is_named(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(JournalError, match="file"):
        open_journal(tmp_path / "file" / "journal.sqlite")


def overwrite(path: Path, at: int, data: bytes) -> None:
    with path.open("r+b") as file:
        file.seek(at)
        file.write(data)


def page(path: Path, number: int) -> int:
    return (number - 1) * int.from_bytes(path.read_bytes()[16:18], "big")


def flip_digit(path: Path) -> None:
    """One sign of a plan in the middle of the file: SQLite itself would never notice."""
    data = path.read_bytes()
    at = data.index(b'"packed":"', len(data) // 2) + 100
    overwrite(path, at, b"0" if data[at : at + 1] == b"1" else b"1")


DAMAGE: dict[str, Callable[[Path], None]] = {
    "cut in half": lambda path: os.truncate(path, path.stat().st_size // 2),
    "cut by a byte": lambda path: os.truncate(path, path.stat().st_size - 1),
    "cut to a header": lambda path: os.truncate(path, 100),
    "header overwritten": lambda path: overwrite(path, 0, b"\xff" * 100),
    "program number overwritten": lambda path: overwrite(path, 68, b"\0\0\0\1"),
    "the table's first page lost": lambda path: overwrite(path, page(path, 2), bytes(512)),
    "a page in the middle lost": lambda path: overwrite(path, page(path, 9), bytes(4096)),
    "a page of noise": lambda path: overwrite(
        path, page(path, 12), random.Random(1).randbytes(4096)
    ),
    "a digit changed": flip_digit,
    "all noise": lambda path: path.write_bytes(random.Random(2).randbytes(30_000)) and None,
}  # fmt: skip


@pytest.mark.parametrize("how", DAMAGE)
def test_a_damaged_file_is_kept_aside_and_what_is_whole_is_recovered(path: Path, how: str) -> None:
    written = write(path, 12)
    DAMAGE[how](path)
    damaged = path.read_bytes()
    journal = open_journal(path)
    kept = list(journal.read("shaft"))
    assert kept == written[: len(kept)]
    assert len(kept) in (0, *range(1, len(written) + 1, 2)), "whole appends only"
    first, second, *losses = journal.notices
    assert "damaged" in first
    aside = next(path.parent.glob("journal.damaged-*.sqlite"))
    assert str(aside) in first
    assert aside.read_bytes() == damaged
    assert f"Recovered {len(kept)} events" in second
    if how in ("header overwritten", "program number overwritten", "the table's first page lost"):
        assert kept == written, "every row's own page is whole"
    elif how in ("a page in the middle lost", "a digit changed"):
        assert 0 < len(kept) < len(written)
        assert f"Job shaft is recovered up to event {len(kept)}" in losses[0]
    journal.append("shaft", records(StopSaid(), after=len(kept)))
    journal.close()
    again = open_journal(path)
    assert again.notices == ()
    assert len(again.read("shaft")) == len(kept) + 1
    again.close()


def test_a_damaged_type_is_noticed(path: Path) -> None:
    written = write(path, 2)
    path.write_bytes(re.sub(rb'(?<!")StopSaid', b"StopSaiD", path.read_bytes()))
    journal = open_journal(path)
    assert "not what was written" in journal.notices[0]
    assert list(journal.read("shaft")) == written
    journal.close()


def unclean(path: Path, groups: int) -> list[Record]:
    """A journal as a killed program leaves it: the last appends in the write-ahead file."""
    live = path.with_name("live.sqlite")
    journal = open_journal(live)
    journal.append("shaft", records(started("Shaft")))
    for _ in range(groups):
        after = len(journal.read("shaft"))
        journal.append("shaft", records(Planned(PLAN), StopSaid(), after=after))
    shutil.copy(live, path)
    shutil.copy(f"{live}-wal", f"{path}-wal")
    written = list(journal.read("shaft"))
    journal.close()
    return written


def test_what_a_killed_program_left_beside_the_file_counts(path: Path) -> None:
    written = unclean(path, 5)
    journal = open_journal(path)
    assert journal.notices == ()
    assert list(journal.read("shaft")) == written
    journal.close()


def test_a_torn_end_that_was_never_answered_is_no_damage(path: Path) -> None:
    written = unclean(path, 5)
    wal = Path(f"{path}-wal")
    os.truncate(wal, wal.stat().st_size - 10)
    journal = open_journal(path)
    assert journal.notices == ()
    assert list(journal.read("shaft")) == written[:-2]
    journal.close()


@pytest.mark.parametrize("part", [0.02, 0.3, 0.6, 0.9])
def test_a_tear_in_the_write_ahead_file_is_noticed(path: Path, part: float) -> None:
    """SQLite would stop there and say nothing of what came after it."""
    written = unclean(path, 8)
    wal = Path(f"{path}-wal")
    overwrite(wal, round(wal.stat().st_size * part), b"torn")
    journal = open_journal(path)
    kept = list(journal.read("shaft"))
    assert kept == written[: len(kept)]
    assert "damaged" in journal.notices[0]
    assert next(path.parent.glob("journal.damaged-*.sqlite-wal")).exists()
    journal.close()


def test_a_damaged_write_ahead_header_loses_nothing(path: Path) -> None:
    written = unclean(path, 4)
    overwrite(Path(f"{path}-wal"), 0, b"\0" * 4)
    journal = open_journal(path)
    assert list(journal.read("shaft")) == written
    assert "damaged" in journal.notices[0]
    journal.close()


def test_a_second_damage_is_kept_beside_the_first(path: Path) -> None:
    for _ in range(2):
        write_or_extend = open_journal(path)
        count = len(write_or_extend.read("shaft"))
        write_or_extend.append("shaft", records(StopSaid(), after=count))
        write_or_extend.close()
        overwrite(path, 0, b"\xff" * 100)
        open_journal(path).close()
    assert len(list(path.parent.glob("journal.damaged-*.sqlite"))) == 2


def test_a_finished_job_with_a_changed_digit_is_not_believed(path: Path) -> None:
    from assistant.session.events import JobFinished

    write(path, 2)
    journal = open_journal(path)
    journal.append("shaft", records(JobFinished("now"), after=5))
    journal.close()
    flip_digit(path)
    journal = open_journal(path)
    with pytest.raises(JournalError, match=r"event . of shaft is damaged"):
        journal.read("shaft")
    journal.close()


def test_another_program_s_file_is_left_alone(path: Path) -> None:
    path.parent.mkdir()
    other = sqlite3.connect(path)
    other.execute("CREATE TABLE photo (name TEXT)")
    other.close()
    before = path.read_bytes()
    with pytest.raises(JournalError, match="another program's"):
        open_journal(path)
    assert path.read_bytes() == before
    assert not list(path.parent.glob("*damaged*"))


def test_a_file_named_by_mistake_is_left_alone(tmp_path: Path) -> None:
    notes = tmp_path / "notes.txt"
    notes.write_text("bring cutting oil\n" * 1000)
    with pytest.raises(JournalError, match="no journal"):
        open_journal(notes)
    assert notes.read_text().startswith("bring cutting oil")
    assert not list(tmp_path.glob("*damaged*"))
    write(tmp_path / "shop", 1)  # any name will do for a journal
    overwrite(tmp_path / "shop", 0, b"\xff" * 100)
    journal = open_journal(tmp_path / "shop")
    assert len(journal.read("shaft")) == 3
    journal.close()


def test_a_newer_form_is_left_alone(path: Path) -> None:
    write(path, 1)
    newer = sqlite3.connect(path)
    newer.execute("PRAGMA user_version = 9")
    newer.close()
    with pytest.raises(JournalError, match=r"form 9 .* newer"):
        open_journal(path)
    assert not list(path.parent.glob("*damaged*"))


def test_an_empty_file_is_a_new_journal(path: Path) -> None:
    path.parent.mkdir()
    path.touch()
    journal = open_journal(path)
    assert journal.notices == ()
    assert list(journal.jobs()) == []
    journal.close()


def test_rows_can_be_neither_changed_nor_removed(path: Path) -> None:
    write(path, 1)
    raw = sqlite3.connect(path)
    for change in (
        "UPDATE event SET body = ''",
        "DELETE FROM event",
        "INSERT INTO event (job, seq, command, through, at, body, mark, type)"
        " SELECT job, seq + 9, command, through, at, body, mark, type FROM event WHERE seq = 1",
    ):
        with pytest.raises(sqlite3.IntegrityError):
            raw.execute(change)
    raw.close()


def test_every_commit_is_flushed_to_the_disk(path: Path) -> None:
    journal = open_journal(path)
    connection = journal._connection
    assert connection.execute("PRAGMA synchronous").fetchone() == (2,)  # FULL
    assert connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)
    journal.close()


def test_a_failed_commit_is_asked_of_the_file_anew(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    journal = open_journal(path)
    journal.append("shaft", records(started("Shaft")))

    def fails(*_: object) -> None:
        raise sqlite3.OperationalError("disk I/O error")

    with monkeypatch.context() as broken:
        broken.setattr(sqlite_module, "insert", fails)
        with pytest.raises(JournalError, match=r"disk can't be written.*nothing was written"):
            journal.append("shaft", records(StopSaid(), after=1))
    journal.append("shaft", records(StopSaid(), after=1))
    assert len(journal.read("shaft")) == 2
    journal.close()


def test_events_of_a_newer_program_stop_the_reading_not_the_list(path: Path) -> None:
    journal = open_journal(path)
    journal.append("shaft", records(*EVENTS[:2]))
    journal.close()
    # As a newer program would have written it: everything is right, but the type.
    newer = """
from assistant.session import events
from dataclasses import dataclass
from pathlib import Path
import sys
@dataclass(frozen=True)
class Polished(events.Event):
    how: str = "well"
from assistant.devices.journal import open_journal
from tests.contracts.test_journal import records
journal = open_journal(Path(sys.argv[1]))
journal.append("shaft", records(Polished(), after=2))
"""
    process = python(newer, path)
    assert process.wait() == 0, process.stderr and process.stderr.read()
    journal = open_journal(path)
    assert journal.notices == ()
    assert [job.events for job in journal.jobs()] == [3]
    with pytest.raises(JournalError, match="'Polished' is unknown"):
        journal.read("shaft")
    journal.close()


def test_the_usual_place_is_the_user_s_data_folder() -> None:
    assert default_path().name == "journal.sqlite"
    assert default_path().parent.name == "wheelcall"


def test_time_zones_come_back(path: Path) -> None:
    write(path, 1)
    journal: SqliteJournal = watch_journal(path)
    assert journal.read("shaft")[0].at == NOON
    journal.close()
