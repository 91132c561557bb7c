"""The journal that a command reads, and the jobs that are kept in it."""

from __future__ import annotations

from pathlib import Path

from assistant.app.settings import load_settings
from assistant.devices.journal import default_path, watch_journal
from assistant.errors import BadInput
from assistant.ports import Journal
from assistant.session.events import Record


def journal_file(journal: Path | None) -> Path:
    """The one that was named, else that of the settings, else the usual one."""
    return journal or load_settings().journal or default_path()


def has_jobs(journal: Path) -> bool:
    """Whether there is anything in a journal's file; an empty one is a journal not yet begun."""
    return journal.is_file() and journal.stat().st_size > 0


def want_jobs(journal: Path | None) -> Path:
    """The journal's file; `BadInput` where no job was worked yet."""
    path = journal_file(journal)
    if not has_jobs(path):
        raise BadInput("journal", path, "no job was worked yet: wheelcall run JOB begins one")
    return path


def chosen_job(kept: Journal, job_id: str) -> str:
    """The job of that identity, else the last touched of those whose identity begins so; of all
    jobs where it is ''.

    Raises `BadInput` that lists the jobs there are.
    """
    known = [entry.id for entry in kept.jobs()]
    fitting = [name for name in known if name == job_id] or [
        name for name in known if name.startswith(job_id)
    ]
    if not fitting:
        few = ", ".join(known[:8]) or "none"
        raise BadInput("job", job_id, f"not in the journal; the last ones there: {few}")
    return fitting[0]


def records_of(job_id: str, journal: Path | None) -> tuple[str, tuple[Record, ...]]:
    """The records of a job, by its identity or the beginning of it; the last touched of those.

    Raises `BadInput` that lists the jobs there are.
    """
    kept = watch_journal(want_jobs(journal))
    try:
        chosen = chosen_job(kept, job_id)
        return chosen, tuple(kept.read(chosen))
    finally:
        kept.close()
