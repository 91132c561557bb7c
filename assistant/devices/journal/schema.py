"""The file's tables, how it is opened, and SQLite's errors in plain words."""

from __future__ import annotations

import json
import os
import sqlite3
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

from assistant.devices.journal.rows import Row
from assistant.errors import JournalError

APPLICATION_ID = 0x5768636C
"""Tells this program's files from other SQLite files: `Whcl`."""
OWNER_ALONE = 0o600
"""Mode of the journal's files."""
FORMAT = 1
"""Version of the tables; events have versions of their own."""

COLUMNS = "job, seq, command, through, at, body, mark"

TABLES = """
CREATE TABLE IF NOT EXISTS event (
    place INTEGER PRIMARY KEY,
    job TEXT NOT NULL,
    seq INTEGER NOT NULL CHECK (seq >= 1),
    command INTEGER NOT NULL,
    through INTEGER NOT NULL,
    at TEXT NOT NULL,
    body TEXT NOT NULL,
    mark BLOB NOT NULL,
    type TEXT NOT NULL,
    UNIQUE (job, seq)
);
CREATE INDEX IF NOT EXISTS event_ends ON event (job)
    WHERE type IN ('JobStarted', 'JobFinished', 'Undone');
CREATE TRIGGER IF NOT EXISTS event_gap BEFORE INSERT ON event
    WHEN new.seq <> 1 + (SELECT coalesce(max(seq), 0) FROM event WHERE job = new.job)
    BEGIN SELECT raise(ABORT, 'a gap in the sequence of events'); END;
CREATE TRIGGER IF NOT EXISTS event_changed BEFORE UPDATE ON event
    BEGIN SELECT raise(ABORT, 'events are never changed'); END;
CREATE TRIGGER IF NOT EXISTS event_deleted BEFORE DELETE ON event
    BEGIN SELECT raise(ABORT, 'events are never deleted'); END;
"""


def keep_private(path: Path) -> None:
    """Make the file, or take it back, so that its owner alone can read it: it tells who worked
    when, and on what. The files that SQLite keeps beside it get the mode of the file."""
    with suppress(OSError):  # what can't be made or changed is told of when it is opened
        os.close(os.open(path, os.O_RDWR | os.O_CREAT, OWNER_ALONE))
    for ending in ("", "-wal", "-shm"):
        beside = path.with_name(path.name + ending)
        with suppress(OSError):
            if beside.stat().st_mode & 0o077:
                beside.chmod(OWNER_ALONE)


def connect(path: Path) -> sqlite3.Connection:
    """Open the file to write in it; make it where it isn't there."""
    keep_private(path)
    return sqlite3.connect(_uri(path, "mode=rwc"), uri=True, isolation_level=None, timeout=2.0)


def connect_to_read(path: Path) -> sqlite3.Connection:
    """Open the file and change nothing in it, not even by tidying up on closing."""
    connection = sqlite3.connect(_uri(path, "mode=ro"), uri=True, isolation_level=None, timeout=2.0)
    try:
        connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
    except sqlite3.OperationalError:
        connection.close()
        if not path.exists() or path.with_name(path.name + "-wal").exists():
            raise
        # In a folder that can't be written nobody else writes, and SQLite must be told so.
        connection = sqlite3.connect(_uri(path, "immutable=1"), uri=True, isolation_level=None)
    except sqlite3.Error:
        connection.close()
        raise
    return connection


def _uri(path: Path, options: str) -> str:
    return f"{path.absolute().as_uri()}?{options}"


def create(connection: sqlite3.Connection) -> None:
    """Prepare a new file, or check an old one. JournalError where it isn't this program's."""
    check(connection)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA synchronous = FULL")
    # A write-ahead file that stays small is soon read through when the program starts again.
    connection.execute("PRAGMA wal_autocheckpoint = 256")
    connection.execute("BEGIN IMMEDIATE")
    connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    connection.execute(f"PRAGMA user_version = {FORMAT}")
    connection.execute("COMMIT")
    connection.executescript(TABLES)


def is_foreign(connection: sqlite3.Connection) -> bool:
    """Whether it is another program's file. A new, empty one is nobody's."""
    (owner,) = connection.execute("PRAGMA application_id").fetchone()
    (version,) = connection.execute("PRAGMA user_version").fetchone()
    (tables,) = connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
    return bool(owner != APPLICATION_ID and (owner or version or tables))


def check(connection: sqlite3.Connection) -> None:
    """JournalError for another program's file, and for a newer form of ours."""
    if is_foreign(connection):
        raise JournalError("the file is another program's, not a journal: name another file")
    (version,) = connection.execute("PRAGMA user_version").fetchone()
    if version > FORMAT:
        raise JournalError(
            f"the journal has form {version} and this program knows up to {FORMAT}: "
            "open it with the newer program that wrote it"
        )


def insert(connection: sqlite3.Connection, rows: Sequence[Row]) -> None:
    """Add rows; the caller holds the transaction."""
    connection.executemany(
        f"INSERT INTO event ({COLUMNS}, type) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        [
            (r.job, r.seq, r.command, r.through, r.at, r.body, r.mark, json.loads(r.body)["type"])
            for r in rows
        ],
    )


def why(error: Exception) -> str:
    """What went wrong with the file, in plain words."""
    text = str(error)
    for sign, words in (
        ("disk is full", "the disk is full"),
        ("readonly", "the file can't be written (read-only)"),
        ("read-only", "the file can't be written (read-only)"),
        ("unable to open", "the file can't be opened"),
        ("locked", "another program holds the file"),
        ("malformed", "the file is damaged"),
        ("not a database", "the file is damaged or no journal"),
        ("disk I/O error", "the disk can't be written or read"),
    ):
        if sign in text:
            return f"{words} ({text})"
    return text
