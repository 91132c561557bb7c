"""A damaged journal: noticed before it is written to, kept aside, and what can be read taken over.

The file is copied before anything else is done with it. A job is taken over up to the last append
before the first row that is missing or is not what was written: a job can't be taken up from a
journal with a hole.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
from collections import defaultdict
from collections.abc import Iterable
from contextlib import closing
from datetime import datetime
from pathlib import Path

from assistant.devices.journal.carve import carve, page_size, read_wal, wal_path
from assistant.devices.journal.rows import NO_MARK, Row, first_broken, mark_of
from assistant.devices.journal.schema import (
    COLUMNS,
    check,
    connect,
    connect_to_read,
    create,
    insert,
    is_foreign,
)
from assistant.errors import JournalError

CHECK_ALL = 256 * 1024 * 1024
"""Up to this size, in bytes, SQLite checks the whole file at every start (about 0.2 s)."""


SUFFIX = ".sqlite"
"""A file so named that makes no sense at all is taken for a destroyed journal; any other for
something that was named by mistake, which must be left alone."""
MAGIC = b"SQLite format 3\x00"


def find_damage(path: Path) -> str:
    """What is wrong with the file, in plain words; '' where it is sound or not there yet.

    Changes nothing. Raises `JournalError` for a file of another program or of a newer one, and
    `sqlite3.OperationalError` where the file can't be opened at all.
    """
    if not path.exists() or not (path.stat().st_size or _size(wal_path(path))):
        return ""
    if path.suffix != SUFFIX and not _looks_like_ours(path):
        raise JournalError(f"{path} is no journal: name another file, or one ending in {SUFFIX}")
    if read_wal(path).torn:
        return "the write-ahead file beside it is torn"
    if path.stat().st_size % page_size(path):
        return "it is cut short"
    try:
        with closing(connect_to_read(path)) as connection:
            if is_foreign(connection) and any(True for _ in carve(path)):
                return "its header is damaged"
            check(connection)
            return _check(connection, path.stat().st_size <= CHECK_ALL)
    except sqlite3.OperationalError as error:
        if any(sign in str(error) for sign in ("unable to open", "locked", "readonly")):
            raise
        return str(error)
    except sqlite3.DatabaseError as error:
        return str(error)


def _looks_like_ours(path: Path) -> bool:
    with path.open("rb") as file:
        return file.read(len(MAGIC)) == MAGIC or any(True for _ in carve(path))


def _check(connection: sqlite3.Connection, whole: bool) -> str:
    if whole:
        (verdict,) = connection.execute("PRAGMA quick_check(1)").fetchone()
        if verdict != "ok":
            return str(verdict)
    if not connection.execute("SELECT 1 FROM sqlite_master WHERE name = 'event'").fetchone():
        return ""  # ended while it was being made: nothing was in it yet
    open_jobs = connection.execute(
        "SELECT DISTINCT job FROM event WHERE job NOT IN"
        " (SELECT job FROM event WHERE type = 'JobFinished')"
    ).fetchall()
    for (job,) in open_jobs:
        found = connection.execute(
            f"SELECT {COLUMNS}, type FROM event WHERE job = ? ORDER BY seq", (job,)
        ).fetchall()
        rows = [Row(*values) for *values, _ in found]
        broken = first_broken(rows)
        if broken is None:
            # The type stands beside the body for searching, and is not in its mark.
            odd = (row.seq for row, values in zip(rows, found, strict=True)
                   if not row.body.startswith(f'{{"type":"{values[-1]}",'))  # fmt: skip
            broken = next(odd, None)
        if broken is not None:
            return f"event {broken} of {job} is not what was written"
    return ""


def rescue(path: Path, damage: str) -> tuple[str, ...]:
    """Keep the damaged file aside and put a new one with all that can be read in its place.

    Returns what the operator must be told. Raises `JournalError` where the copy can't be made.
    """
    try:
        aside = _keep_aside(path)
        found = defaultdict(list)
        for place, row in carve(aside):
            found[row.job].append((place, row))
        taken = [_whole_prefix(rows) for rows in found.values()]
        _replace(path, taken)
    except (OSError, sqlite3.Error) as error:
        raise JournalError(f"{path} is damaged and could not be kept aside: {error}") from error
    notices = [
        f"The journal {path} was damaged: {damage}. It is kept untouched as {aside}.",
        f"Recovered {sum(map(len, taken))} events of {sum(map(bool, taken))} jobs.",
    ]
    for rows, whole in zip(found.values(), taken, strict=True):
        lost = len({row.seq for _, row in rows}) - len(whole)
        if lost > 0:
            name = rows[0][1].job
            notices.append(
                f"Job {name} is recovered up to event {len(whole)}; "
                f"{lost} or more after that are lost. Check every dial before going on."
            )
    return tuple(notices)


def _whole_prefix(found: Iterable[tuple[int, Row]]) -> list[tuple[int, Row]]:
    by_seq = defaultdict(list)
    for place, row in found:
        by_seq[row.seq].append((place, row))
    taken: list[tuple[int, Row]] = []
    mark, whole = NO_MARK, 0
    while True:
        seq = len(taken) + 1
        match = next((p for p in by_seq[seq] if mark_of(p[1], mark) == p[1].mark), None)
        if match is None:
            return taken[:whole]
        taken.append(match)
        mark = match[1].mark
        if match[1].through == seq:
            whole = seq


def _keep_aside(path: Path) -> Path:
    stamp = datetime.now().astimezone().strftime("%Y%m%d-%H%M%S")
    for suffix in ("", *(f"-{count}" for count in range(2, 1000))):
        aside = path.with_name(f"{path.stem}.damaged-{stamp}{suffix}{path.suffix}")
        if not aside.exists():
            break
    for source, target in ((path, aside), (wal_path(path), wal_path(aside))):
        if source.exists():
            shutil.copy2(source, target)
            with target.open("rb") as copied:
                os.fsync(copied.fileno())
    return aside


def _replace(path: Path, jobs: Iterable[list[tuple[int, Row]]]) -> None:
    fresh = path.with_name(path.name + ".new")
    fresh.unlink(missing_ok=True)
    with closing(connect(fresh)) as connection:
        create(connection)
        connection.execute("BEGIN IMMEDIATE")
        # The last touched job stays the last.
        for rows in sorted(filter(None, jobs), key=lambda rows: rows[-1][0]):
            insert(connection, [row for _, row in rows])
        connection.execute("COMMIT")
    # The old write-ahead file must be gone before the new file takes the name.
    for ending in ("-wal", "-shm"):
        path.with_name(path.name + ending).unlink(missing_ok=True)
    os.replace(fresh, path)


def _size(path: Path) -> int:
    return path.stat().st_size if path.exists() else 0
