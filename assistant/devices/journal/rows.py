"""What a journal's row holds, how rows are chained, and what may be appended."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime
from hashlib import blake2b
from pathlib import Path
from typing import NamedTuple

from assistant.errors import JournalError
from assistant.session.codec import decode, encode
from assistant.session.events import Event, JobFinished, JobStarted, Record, Undone
from assistant.session.plain import Reader

MARK_BYTES = 16
NO_MARK = bytes(MARK_BYTES)
"""What the first row of a job is chained to."""


class JournalLockedError(JournalError):
    """Another copy of the program writes this journal; it can still be watched."""

    def __init__(self, path: Path) -> None:
        self.path = path
        super().__init__(
            f"{path} is being written by another copy of the program: "
            "close that one, or watch the job here: wheelcall watch"
        )


class Row(NamedTuple):
    """One record as it stands in the file."""

    job: str
    seq: int
    command: int
    through: int
    """Sequence number of the last record that was appended together with this one: a group is
    taken up again whole or not at all."""
    at: str
    body: str
    mark: bytes
    """Hash of this row and of the mark before it, so that a changed digit, a lost row and a row
    out of its place are all noticed."""

    def record(self, reader: Reader) -> Record:
        """The record; JournalError where the body can't be read."""
        try:
            at = datetime.fromisoformat(self.at)
        except ValueError as error:
            raise JournalError(f"event {self.seq} of {self.job}: {error}") from error
        return Record(self.seq, self.command, at, decode(self.body, reader=reader))


def mark_of(row: Row, before: bytes) -> bytes:
    """The mark that `row` must have after a row marked `before`."""
    text = "\x1f".join(
        (row.job, str(row.seq), str(row.command), str(row.through), row.at, row.body)
    )
    return blake2b(before + text.encode(), digest_size=MARK_BYTES).digest()


def make_rows(job: str, records: Sequence[Record], after: int, mark: bytes) -> list[Row]:
    """Rows for `records`, which must follow event `after` (whose mark is `mark`) without a gap."""
    if not job:
        raise JournalError("a job needs a name in the journal")
    rows = []
    for place, record in enumerate(records, after + 1):
        if record.seq != place:
            raise JournalError(f"event {record.seq} of {job} can't follow {place - 1}")
        if record.at.tzinfo is None:
            raise JournalError(f"event {record.seq} of {job} has a time without a zone")
        row = Row(
            job,
            record.seq,
            record.command,
            after + len(records),
            record.at.isoformat(),
            encode(record.event),
            NO_MARK,
        )
        mark = mark_of(row, mark)
        rows.append(Row(job, row.seq, row.command, row.through, row.at, row.body, mark))
    return rows


def first_broken(rows: Iterable[Row]) -> int | None:
    """Sequence number of the first row of one job that is not what was written; None if all are."""
    mark, expected, through = NO_MARK, 1, 0
    for row in rows:
        if row.seq != expected or mark_of(row, mark) != row.mark:
            return expected
        mark, expected, through = row.mark, expected + 1, row.through
    return expected if through >= expected else None


def title_of(event: Event) -> str | None:
    """The job's title, if this event tells it."""
    return event.title if isinstance(event, JobStarted) else None


def is_finished(marks: Iterable[tuple[int, Event]]) -> bool:
    """Whether a job is finished, from its (command, event) pairs of `JobFinished` and `Undone`."""
    ends: set[int] = set()
    for command, event in marks:
        if isinstance(event, JobFinished):
            ends.add(command)
        elif isinstance(event, Undone):
            ends.discard(event.seq)
    return bool(ends)
