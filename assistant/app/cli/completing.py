"""What the shell offers after Tab: names of jobs, topics, calculations, and jobs of the journal.

Nothing is printed and nothing fails here: where a name can't be found, none is offered.
"""

from __future__ import annotations

from collections.abc import Iterable

from assistant.errors import WheelcallError


def job_names(incomplete: str) -> list[str]:
    """Jobs by name; a path is completed by the shell itself."""
    from assistant.app.paths import known_jobs

    return _beginning(incomplete, known_jobs())


def new_things(incomplete: str) -> list[str]:
    """What can be told by questions."""
    return _beginning(incomplete, ("job", "machine"))


def demo_jobs(incomplete: str) -> list[str]:
    """Jobs that come with the program."""
    from assistant.app.paths import configs_folder

    folder = configs_folder() / "jobs"
    return _beginning(incomplete, sorted(path.stem for path in folder.glob("*.toml")))


def machine_names(incomplete: str) -> list[str]:
    """Machines by the name of their file."""
    from assistant.app.paths import machine_folders

    names = {path.stem for folder in machine_folders() for path in folder.glob("*.toml")}
    return _beginning(incomplete, sorted(names))


def topics(incomplete: str) -> list[str]:
    """Help topics."""
    from assistant.app.cli.listing import topics as known

    return _beginning(incomplete, known())


def calculations(incomplete: str) -> list[str]:
    """Names of calculations."""
    from assistant.calc import catalogue

    return _beginning(incomplete, (entry.name for entry in catalogue.entries()))


def kept_jobs(incomplete: str) -> list[str]:
    """Jobs of the usual journal, the last touched first."""
    from assistant.app.cli.kept_jobs import want_jobs
    from assistant.devices.journal import watch_journal

    try:
        kept = watch_journal(want_jobs(None))
        try:
            return _beginning(incomplete, [entry.id for entry in kept.jobs()])
        finally:
            kept.close()
    except WheelcallError:
        return []


def _beginning(incomplete: str, names: Iterable[str]) -> list[str]:
    return [name for name in names if name.startswith(incomplete)]
