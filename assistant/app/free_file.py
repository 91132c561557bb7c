"""Zeros, marks and open moves of free moves: written whole at every command, before a word is said
of it, so that an interrupt or a power cut loses none."""

from __future__ import annotations

import json
from pathlib import Path

from assistant.app.drafts import write_whole
from assistant.app.paths import data_folder
from assistant.errors import BadFile
from assistant.free.kept import UNREADABLE, as_kept, taken_up
from assistant.free.talk import Talk
from assistant.free.trouble import resumed
from assistant.machine import Machine
from assistant.textfile import read_file


class FreeFile:
    """The file of one machine, or of one job."""

    def __init__(self, name: str, folder: Path | None = None) -> None:
        self.path = (folder or data_folder() / "free") / f"{name}.json"

    def save(self, talk: Talk) -> None:
        """Write it durably. Raises `OSError`."""
        write_whole(self.path, json.dumps(as_kept(talk), indent=1, ensure_ascii=False))

    def remove(self) -> None:
        """It is over. Raises `OSError`."""
        self.path.unlink(missing_ok=True)

    def load(self, machine: Machine, job: str = "") -> Talk | None:
        """The conversation as it was left, every dial to be read anew; None where there is none.

        Raises `BadFile` for one that can't be gone on with: another program's, broken, of a machine
        with other dials.
        """
        if not self.path.is_file():
            return None
        try:
            return resumed(taken_up(json.loads(read_file(self.path)), machine, job=job))
        except UNREADABLE as error:
            want = f"it can't be gone on with ({error})"
            raise BadFile(self.path, "free moves", "not readable", want) from error
