"""The files that come of the questions: a job's, a machine's."""

from __future__ import annotations

import errno
import os
from dataclasses import dataclass, field
from pathlib import Path

from assistant.app.drafts import write_whole
from assistant.app.paths import configs_folder, known_jobs, user_configs
from assistant.filling.machines.sheet import MachineSheet
from assistant.filling.talk import Talk

MADE = "# Made by wheelcall new from what was answered. Read the step sheet before you cut:\n"
MADE_MACHINE = """\
# Made by wheelcall new machine from what was read off the machine and measured. Measure again
# where a screw or a dial is changed; what is missing here (wheelcall help machines) isn't known.
"""


def own_jobs_folder() -> Path:
    """Where new jobs are kept."""
    return user_configs() / "jobs"


def own_machines_folder() -> Path:
    """Where new machines are kept."""
    return user_configs() / "machines"


def taken_names() -> dict[str, str]:
    """Names of machine files that there are, each with what is said before another is put there."""
    came = (configs_folder() / "machines").glob("*.toml")
    found = {path.stem: "A machine of that name came with the program, and demos are worked on it."
             for path in came}  # fmt: skip
    own = (path.stem for path in own_machines_folder().glob("*.toml"))
    return found | dict.fromkeys(own, "You have a machine of that name.")


@dataclass
class JobFile:
    """The file that a conversation comes to; told anew, it is written again."""

    folder: Path = field(default_factory=own_jobs_folder)
    path: Path | None = None

    def keep(self, talk: Talk) -> str:
        """Write it, durably; the name that it can be run by. Raises `OSError`."""
        if self.path is None:
            self.path = self._free(talk.work)
        text = f"{MADE}# wheelcall plan {self.path.stem}\n{talk.sheet.text}"
        write_whole(self.path, text)
        return self.path.stem

    def _free(self, work: str) -> Path:
        """The first name of that work which no job has."""
        taken = set(known_jobs())
        number = 1
        while f"{work}-{number}" in taken or (self.folder / f"{work}-{number}.toml").exists():
            number += 1
        return self.folder / f"{work}-{number}.toml"


@dataclass
class MachineFile:
    """The file of a machine, named after it; told anew, it is written again. What lay there before
    is kept beside it, as `NAME.toml.before`."""

    folder: Path = field(default_factory=own_machines_folder)
    path: Path | None = None

    def keep(self, talk: Talk) -> str:
        """Write it, durably; the name by which a job calls it. Raises `OSError`, also where a file
        is there that nobody was asked about."""
        sheet = talk.sheet
        assert isinstance(sheet, MachineSheet)
        path = self.folder / f"{sheet.stem}.toml"
        if path != self.path and path.exists():
            if sheet.told.get("?over") is not True:
                why = "is there meanwhile: change the name"
                raise FileExistsError(errno.EEXIST, why, str(path))
            os.replace(path, path.with_name(f"{path.name}.before"))
        write_whole(path, f"{MADE_MACHINE}{sheet.text}")
        if self.path not in (None, path):
            self.path.unlink(missing_ok=True)  # it was called otherwise, in this conversation
        self.path = path
        return path.stem
