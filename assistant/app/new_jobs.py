"""What a job can be begun with here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from assistant.app.new_files import own_jobs_folder, taken_names
from assistant.app.paths import known_jobs, machine_folders
from assistant.errors import BadFile, WheelcallError
from assistant.filling.shop import DEMO, FREE, LAST, NEW, NEW_MACHINE, OPEN, Earlier, Shop
from assistant.machine import Machine, load_machine
from assistant.ports import JobEntry, Journal
from assistant.session.events import JobStarted
from assistant.textfile import read_toml, visible

MOST_OWN = 12
"""Jobs of the operator's own that are named where nothing was asked for."""


def machines_here() -> tuple[dict[str, Machine], list[str]]:
    """Every machine, by the name of its file, the operator's own first and before the project's of
    that name; and a line for each file that can't be used."""
    found: dict[str, Machine] = {}
    bad: list[str] = []
    for folder in machine_folders():
        for path in sorted(folder.glob("*.toml")):
            if path.stem in found:
                continue
            try:
                found[path.stem] = load_machine(path)
            except BadFile as error:
                bad.append(f"Not usable: {error}")
    return found, bad


def stem_of(entry: JobEntry) -> str:
    """The name of the file that a job of the journal was begun from."""
    return entry.id.rsplit("-", 1)[0]


@dataclass(frozen=True)
class Known:
    """Jobs of the journal that can be taken up or worked again."""

    open: JobEntry | None = None
    last: JobEntry | None = None
    """The one that was last finished."""
    earlier: Earlier | None = None
    """The same, with its file."""


def known_in(journal: Journal) -> Known:
    """What the journal has; of a damaged one, nothing."""
    try:
        entries = list(journal.jobs())
        still = next((entry for entry in entries if not entry.finished), None)
        last = next((entry for entry in entries if entry.finished), None)
        return Known(still, last, _earlier(journal, last) if last is not None else None)
    except WheelcallError:
        return Known()


def _earlier(journal: Journal, entry: JobEntry) -> Earlier | None:
    for record in journal.read(entry.id):
        if isinstance(record.event, JobStarted):
            return Earlier(entry.title, read_toml(record.event.job_text, entry.id))
    return None


def what_to_begin(known: Known) -> dict[str, str]:
    """What can be begun where nothing was named, each with a line about it."""
    jobs = known_jobs()
    found: dict[str, str] = {}
    if known.open is not None:  # the journal has all of it, wherever its file is now
        found[OPEN] = f"{visible(known.open.title)}, left {known.open.touched:%A %H:%M}"
    if known.last is not None and stem_of(known.last) in jobs:
        found[LAST] = f"{visible(known.last.title)}, finished {known.last.touched:%A %H:%M}"
    found[NEW] = "question by question"
    found[NEW_MACHINE] = "handwheels, dials and speeds of a machine of yours"
    found[FREE] = "no job: zeros and moves at one machine"
    own = [name for name, path in jobs.items() if path.parent == own_jobs_folder()]
    found |= dict.fromkeys(own[-MOST_OWN:], "a job of your own")
    found[DEMO] = "a recorded operator works a job (invented)"
    return found


def shop_here(
    machines: Mapping[str, Machine], known: Known, *, choose: bool, like: Earlier | None = None
) -> Shop:
    """The shop; `choose` where it is asked what to begin, `like` a job that was named."""
    begin = what_to_begin(known) if choose else {}
    return Shop(machines, like or known.earlier, begin, taken_names())
