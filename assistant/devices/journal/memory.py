"""A journal that lasts as long as the program: for tests, trials and where no file can be kept."""

from __future__ import annotations

from collections.abc import Sequence

from assistant.devices.journal.rows import NO_MARK, is_finished, make_rows, title_of
from assistant.ports import JobEntry
from assistant.session.events import Record
from assistant.session.plain import Reader


class MemoryJournal:
    """Keeps records as the file would write them, so that it refuses what the file refuses."""

    name = "memory"
    notices: tuple[str, ...] = ()

    def __init__(self) -> None:
        self._jobs: dict[str, list[Record]] = {}
        self._marks: dict[str, bytes] = {}

    def append(self, job: str, records: Sequence[Record]) -> None:
        """Keep all of `records` or none. Raises `JournalError`."""
        rows = make_rows(job, records, len(self._jobs.get(job, ())), self._marks.get(job, NO_MARK))
        if not rows:
            return
        kept = self._jobs.pop(job, [])  # the last touched job goes to the end
        self._jobs[job] = kept
        reader = Reader()
        kept.extend(row.record(reader) for row in rows)
        self._marks[job] = rows[-1].mark

    def read(self, job: str) -> Sequence[Record]:
        """All records of one job, in order."""
        return tuple(self._jobs.get(job, ()))

    def jobs(self) -> Sequence[JobEntry]:
        """Every job, the last touched first."""
        return tuple(
            JobEntry(
                id=job,
                title=next(filter(None, (title_of(r.event) for r in records)), job),
                started=records[0].at,
                touched=records[-1].at,
                finished=is_finished((r.command, r.event) for r in records),
                events=len(records),
            )
            for job, records in reversed(self._jobs.items())
        )

    def close(self) -> None:
        """Nothing to give back."""
