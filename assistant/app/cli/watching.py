"""`wheelcall watch`: follows a job that another copy of the program works, and writes nothing."""

from __future__ import annotations

import time
from pathlib import Path

from assistant.app.settings import load_settings
from assistant.devices.journal import default_path, watch_journal
from assistant.devices.screen import find_screen
from assistant.errors import BadInput
from assistant.present.glance import Ear
from assistant.present.glance_of import glance
from assistant.session.reduce import reduce
from assistant.session.state import State

LOOK = 0.5
"""Seconds between looks at the journal."""
DRAW = 0.05
"""Seconds between looks at the window."""


def watch_job(job_id: str | None, journal: Path | None, *, once: bool) -> int:
    """Show where a job is, as it goes on, until the window is closed or Control-C is typed.

    Raises `BadInput` where there is no such job, `JournalError` where the file can't be read.
    """
    path = journal or load_settings().journal or default_path()
    kept = watch_journal(path)
    known = [entry.id for entry in kept.jobs()]
    if not known:
        raise BadInput("journal", path, "has no jobs yet")
    chosen = job_id or known[0]
    if chosen not in known:
        raise BadInput("job", chosen, "known jobs: " + ", ".join(known[:8]))
    screen, missing = find_screen(Path("out") / "screens")
    if missing:
        print(missing)
    print(f"Watching {chosen}; nothing is written and nothing is heard here.")
    state, seen = State(), 0
    looked = 0.0
    try:
        while True:
            now = time.monotonic()
            if now - looked >= LOOK:
                looked = now
                records = kept.read(chosen)
                for record in records[seen:]:
                    state = reduce(state, record)
                seen = len(records)
                screen.show(glance(state, ear=Ear.NOT_LISTENING))
            if once or "quit" in screen.keys():  # noqa: SIM118  (a port, no mapping)
                return 0
            time.sleep(DRAW)
    except KeyboardInterrupt:
        return 0
    finally:
        screen.close()
        kept.close()
