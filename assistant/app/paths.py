"""Where files are: the project's own configuration, the user's, and what is written."""

from __future__ import annotations

import os
from difflib import get_close_matches
from pathlib import Path

import platformdirs

from assistant.errors import BadInput
from assistant.shipped import shipped

NAME = "wheelcall"


def configs_folder() -> Path:
    """The project's own configuration."""
    return shipped("configs")


def user_configs() -> Path:
    """The operator's own machines and jobs; need not exist."""
    return platformdirs.user_config_path(NAME, appauthor=False)


def machine_folders(job: Path | None = None) -> tuple[Path, ...]:
    """Where machine files are looked for: beside the job, the operator's, the project's."""
    near = (job.parent, job.parent.parent / "machines") if job is not None else ()
    return (*near, user_configs() / "machines", configs_folder() / "machines")


def job_folders() -> tuple[Path, ...]:
    """Where jobs are looked for by name."""
    return (user_configs() / "jobs", configs_folder() / "jobs")


def known_jobs() -> dict[str, Path]:
    """Every job that has a name, and its file: the operator's own before the project's."""
    found = {job.stem: job for folder in reversed(job_folders()) for job in folder.glob("*.toml")}
    return dict(sorted(found.items()))


def find_job(name: str) -> Path:
    """A job file by path, or by its name without `.toml`.

    Raises `BadInput` that lists the jobs there are.
    """
    path = Path(name.replace("\0", ""))  # no name of a file, and no file is asked for by it
    for candidate in (path, Path(f"{path}.toml")):
        if candidate.is_file():
            return candidate
    known = known_jobs()
    if path.stem in known and path.suffix in ("", ".toml") and path.parent == Path():
        return known[path.stem]
    near = get_close_matches(path.stem, known, n=4, cutoff=0.5)
    if near:
        raise BadInput("job", name, f"no such file; did you mean {' or '.join(near)}?")
    raise BadInput("job", name, f"no such file; known jobs: {', '.join(known)}")


def demo_script(job: Path) -> Path | None:
    """What the recorded operator does in a job that came with the program; None for every other,
    the operator's own of the same name included: it may be another part."""
    script = configs_folder() / "demo" / f"{job.stem}.toml"
    came = (configs_folder() / "jobs" / job.name).resolve() == job.resolve()
    return script if came and script.is_file() else None


def own_models() -> Path:
    """Where the operator's own Vosk models lie; need not exist."""
    return data_folder() / "voice_models"


def model_folders() -> tuple[Path, ...]:
    """Where Vosk models are looked for: the operator's, the project's."""
    return (own_models(), shipped("voice_models"))


def data_folder() -> Path:
    """Where the journal is kept, unless told otherwise."""
    return platformdirs.user_data_path(NAME, appauthor=False)


def writable_folder(wanted: Path) -> Path:
    """`wanted`, where it can be written or made; else one of that name beside the journal, so that
    no job ends for want of a place for its pictures."""
    above = (wanted, *wanted.absolute().parents)
    there = next(folder for folder in above if os.path.exists(folder))  # also where it can't look
    good = os.path.isdir(there) and os.access(there, os.W_OK)
    return wanted if good else data_folder() / wanted.name
