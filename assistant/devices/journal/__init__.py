"""Where events are kept: one SQLite file a shop, or memory for tests and trials."""

from assistant.devices.journal.memory import MemoryJournal
from assistant.devices.journal.rows import JournalLockedError
from assistant.devices.journal.sqlite import (
    SqliteJournal,
    default_path,
    open_journal,
    watch_journal,
)

__all__ = [
    "JournalLockedError",
    "MemoryJournal",
    "SqliteJournal",
    "default_path",
    "open_journal",
    "watch_journal",
]
