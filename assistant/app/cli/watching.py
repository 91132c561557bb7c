"""`wheelcall watch`: follows a job that another copy of the program works, and writes nothing."""

from __future__ import annotations

import json
import time
from dataclasses import replace
from pathlib import Path

from assistant.app.cli.kept_jobs import chosen_job, want_jobs
from assistant.app.settings import load_settings
from assistant.devices.journal import watch_journal
from assistant.devices.screen import find_window, viewing_here
from assistant.errors import BadInput
from assistant.ports import Screen
from assistant.present.glance import Ear, Glance
from assistant.present.glance_of import glance
from assistant.session.reduce import reduce
from assistant.session.state import State


class Lines:
    """A screen of printed lines: where nobody looks at a window, or a program reads."""

    def __init__(self, job_id: str, *, as_json: bool) -> None:
        self.name = "printed lines"
        self._job_id = job_id
        self._as_json = as_json
        self._last = ""

    def show(self, glance: Glance) -> None:
        """Print what is shown, where it is not what was printed last."""
        lines = self._json(glance) if self._as_json else _text(glance)
        if lines != self._last:
            self._last = lines
            print(lines, flush=True)

    def _json(self, glance: Glance) -> str:
        return json.dumps(
            {
                "id": self._job_id,
                "job": glance.job,
                "moment": glance.moment.value,
                "place": glance.place,
                "instruction": glance.instruction,
                "number": glance.number,
                "unit": glance.unit,
                "what": glance.what,
                "dial": glance.dial,
                "pass": glance.pass_place,
            }
        )

    def keys(self) -> list[str]:
        """No keys."""
        return []

    def close(self) -> None:
        """Nothing to give back."""


def _text(glance: Glance) -> str:
    """Where the job is, in a few lines."""
    number = f"{glance.what} {glance.number} {glance.unit}".strip() if glance.number else ""
    where = ", ".join(filter(None, (glance.job, glance.place)))
    return "\n  ".join(filter(None, (where, glance.instruction, number, glance.dial)))


LOOK = 0.5
"""Seconds between looks at the journal."""
DRAW = 0.05
"""Seconds between looks at the window."""


def watch_job(
    job_id: str | None, journal: Path | None, *, once: bool, as_json: bool = False
) -> int:
    """Show where a job is, as it goes on, until the window is closed or Control-C is typed.

    Lines are printed instead of showing a window where `once` or `as_json` asks for it, and where
    no window can be opened. `job_id` may be the beginning of an identity; without it, it is the
    job last touched.
    Raises `BadInput` where there is no such job, `JournalError` where the file can't be read.
    """
    path = want_jobs(journal)
    kept = watch_journal(path)
    screen: Screen | None = None
    try:
        if not kept.jobs():
            raise BadInput("journal", path, "has no jobs yet")
        chosen = chosen_job(kept, job_id or "")
        if not (once or as_json):
            settings = load_settings()
            view, _ = viewing_here(settings.distance, settings.screen_width)
            screen, why = find_window(view, settings.leads)
            if screen is None:
                print(f"No display ({why}): what changes is printed.")
            print(f"Watching {chosen}; nothing is written and nothing is heard here.")
        screen = screen or Lines(chosen, as_json=as_json)
        state, seen = State(), 0
        looked = 0.0
        while True:
            now = time.monotonic()
            if now - looked >= LOOK:
                looked = now
                records = kept.read(chosen)
                for record in records[seen:]:
                    state = reduce(state, record)
                seen = len(records)
                screen.show(replace(glance(state, ear=Ear.NOT_LISTENING), say=""))
            if once or "quit" in screen.keys():  # noqa: SIM118  (a port, no mapping)
                return 0
            time.sleep(DRAW)
    except KeyboardInterrupt:
        return 0
    finally:
        if screen is not None:
            screen.close()
        kept.close()
