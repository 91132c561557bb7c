"""From a job's file to its first step: finds the machine's file, and plans."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from assistant.app.paths import machine_folders
from assistant.errors import BadFile, BadInput
from assistant.jobs.jobfile import machine_path
from assistant.jobs.planning import read_job
from assistant.session.begin import begin
from assistant.session.decide import Decision
from assistant.textfile import read_file


def begin_job(path: Path, now: datetime) -> Decision:
    """Begin the job of a file. Raises `BadFile`, which names the file also where job and machine
    are each well formed, but can't go together."""
    text = read_file(path)
    head, _ = read_job(text, str(path))
    machine = machine_path(head, machine_folders(path))
    try:
        return begin(text, str(path), read_file(machine), str(machine), now)
    except BadFile:
        raise
    except BadInput as bad:
        want = f"{bad.want} (the machine's file: {machine})"
        raise BadFile(path, bad.field, bad.value, want) from bad
