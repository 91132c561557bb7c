"""The journal proper: one SQLite file, durable before `append` returns, written by one program.

Rows are only ever added. The file is in write-ahead mode with every commit flushed to the disk
(`synchronous=FULL`), so a kill or a power cut at any moment leaves whole appends and no other.
Order is by sequence number: the clock of the machine may be set back.
"""

from __future__ import annotations

import gc
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from datetime import datetime
from pathlib import Path

import platformdirs
from filelock import FileLock, Timeout

from assistant.devices.journal.rescue import find_damage, rescue
from assistant.devices.journal.rows import (
    NO_MARK,
    JournalLockedError,
    Row,
    first_broken,
    is_finished,
    make_rows,
    title_of,
)
from assistant.devices.journal.schema import (
    COLUMNS,
    connect,
    connect_to_read,
    create,
    insert,
    keep_private,
    why,
)
from assistant.errors import JournalError
from assistant.ports import JobEntry
from assistant.session.codec import decode
from assistant.session.events import JobStarted, Record
from assistant.session.plain import Reader


def default_path() -> Path:
    """The shop's journal in the user's data folder."""
    return platformdirs.user_data_path("wheelcall", appauthor=False) / "journal.sqlite"


def open_journal(path: Path | None = None) -> SqliteJournal:
    """Open or begin the journal at `path`, to write in it.

    A damaged file is kept aside and what can be read of it is taken over: `notices` says so.
    Raises `JournalLockedError` where another copy of the program writes it, and `JournalError`
    where the folder or the disk allows no writing or the file is another program's.
    """
    path = path or default_path()
    lock = FileLock(path.with_name(path.name + ".lock"))
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        lock.acquire(timeout=0)
    except Timeout:
        raise JournalLockedError(path) from None
    except (OSError, NotImplementedError) as error:
        raise JournalError(f"the journal can't be kept in {path.parent}: {error}") from error
    try:
        if path.exists():
            keep_private(path)  # before a damaged one is copied aside with its mode
        damage = find_damage(path)
        notices = rescue(path, damage) if damage else ()
        connection = connect(path)
        create(connection)
    except (sqlite3.Error, OSError) as error:
        lock.release()
        raise JournalError(f"{path}: {why(error)}") from error
    except JournalError:
        lock.release()
        raise
    return SqliteJournal(path, connection, lock, notices)


def watch_journal(path: Path | None = None) -> SqliteJournal:
    """Open a journal only to read it, also while another program writes it."""
    path = path or default_path()
    try:
        return SqliteJournal(path, connect_to_read(path), None, ())
    except sqlite3.Error as error:
        raise JournalError(f"{path}: {why(error)}") from error


class SqliteJournal:
    """One open journal file. Used from the thread that opened it."""

    def __init__(
        self,
        path: Path,
        connection: sqlite3.Connection,
        lock: FileLock | None,
        notices: tuple[str, ...],
    ) -> None:
        self.name = str(path)
        self.path = path
        self.notices = notices
        """What the operator must be told about the file, one plain sentence each."""
        self.watching = lock is None
        """Opened only to read."""
        self._connection = connection
        self._lock = lock
        self._tips: dict[str, tuple[int, bytes]] = {}

    def append(self, job: str, records: Sequence[Record]) -> None:
        """Write all of `records` or none; on disk when it returns. Raises `JournalError`."""
        if self.watching:
            raise JournalError(f"{self.path} was opened only to watch: nothing is written")
        with self._errors("nothing was written"):
            after, mark = self._tip(job)
            rows = make_rows(job, records, after, mark)
            if not rows:
                return
            try:
                self._connection.execute("BEGIN IMMEDIATE")
                insert(self._connection, rows)
                self._connection.execute("COMMIT")
            except BaseException:
                # What the file holds after a failed commit is asked anew, not assumed.
                self._tips.pop(job, None)
                if self._connection.in_transaction:
                    with suppress(sqlite3.Error):
                        self._connection.execute("ROLLBACK")
                raise
            self._tips[job] = (rows[-1].seq, rows[-1].mark)

    def read(self, job: str) -> Sequence[Record]:
        """All records of one job, in order. Raises `JournalError` where a row was changed."""
        with self._errors("the job can't be read"):
            rows = self._rows(job)
        broken = first_broken(rows)
        if broken is not None:
            raise JournalError(f"{self.path}: event {broken} of {job} is damaged")
        # Hundreds of thousands of objects come into being and none becomes garbage: looking for
        # it in between would take a quarter of the time.
        collecting = gc.isenabled()
        gc.disable()
        try:
            reader = Reader()
            return tuple([row.record(reader) for row in rows])
        finally:
            if collecting:
                gc.enable()

    def jobs(self) -> Sequence[JobEntry]:
        """Every job in the journal, the last touched first."""
        with self._errors("the jobs can't be listed"):
            spans = self._connection.execute(
                "SELECT span.job, count, a.at, z.at FROM (SELECT job, count(*) AS count,"
                " min(place) AS first, max(place) AS last FROM event GROUP BY job) AS span"
                " JOIN event AS a ON a.place = first JOIN event AS z ON z.place = last"
                " ORDER BY last DESC"
            ).fetchall()
            marks: dict[str, list[tuple[int, str]]] = {}
            for job, command, body in self._connection.execute(
                "SELECT job, command, body FROM event"
                " WHERE type IN ('JobStarted', 'JobFinished', 'Undone') ORDER BY place"
            ):
                marks.setdefault(job, []).append((command, body))
        return tuple(
            self._entry(job, count, started, touched, marks.get(job, []))
            for job, count, started, touched in spans
        )

    def close(self) -> None:
        """Close the file and let others write it."""
        with suppress(sqlite3.Error):
            self._connection.close()
        if self._lock is not None:
            self._lock.release()

    def _entry(
        self, job: str, count: int, started: str, touched: str, marks: list[tuple[int, str]]
    ) -> JobEntry:
        events = [(command, decode(body)) for command, body in marks]
        titles = (title_of(event) for _, event in events if isinstance(event, JobStarted))
        return JobEntry(
            id=job,
            title=next(filter(None, titles), job),
            started=datetime.fromisoformat(started),
            touched=datetime.fromisoformat(touched),
            finished=is_finished(events),
            events=count,
        )

    def _rows(self, job: str) -> list[Row]:
        found = self._connection.execute(
            f"SELECT {COLUMNS} FROM event WHERE job = ? ORDER BY seq", (job,)
        )
        return [Row._make(values) for values in found]

    def _tip(self, job: str) -> tuple[int, bytes]:
        if job not in self._tips:
            last = self._connection.execute(
                "SELECT seq, mark FROM event WHERE job = ? ORDER BY seq DESC LIMIT 1", (job,)
            ).fetchone()
            self._tips[job] = last or (0, NO_MARK)
        return self._tips[job]

    @contextmanager
    def _errors(self, outcome: str) -> Iterator[None]:
        try:
            yield
        except sqlite3.Error as error:
            raise JournalError(f"{self.path}: {why(error)}; {outcome}") from error
