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
from assistant.session.state import State
from assistant.textfile import read_file, read_toml

AS_BEGUN = "The {which} file isn't what it was. This goes on as it was begun."


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


def changed_since(path: Path, state: State) -> str:
    """What has to be said where the job's file, or its machine's, says something else than when
    the job was begun; '' where neither does, and where the job has no file any more."""
    if not path.is_file():
        return ""
    which = "job's"
    try:
        text = read_file(path)
        head, _ = read_job(text, str(path))
        if _says_the_same(text, state.job_text):
            which = "machine's"
            machine = read_file(machine_path(head, machine_folders(path)))
            if _says_the_same(machine, state.machine_text):
                return ""
    except BadInput:
        pass  # not one that a job could be begun with
    return AS_BEGUN.format(which=which)


def _says_the_same(one: str, other: str) -> bool:
    return one == other or read_toml(one, "") == read_toml(other, "")
