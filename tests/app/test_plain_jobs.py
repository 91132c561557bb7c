"""Every demo job on its plain way, against its transcript: each sentence spoken, each page shown.

The transcripts stand in `tests/reference/plain/`, with what was typed. Write them anew by

    python -m tests.app.test_plain_jobs [JOB ...]

and read the difference. `--table` prints turns, questions and words of each job as they are kept.
"""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from assistant.app.paths import configs_folder
from tests.app.plain_job import anew, replayed, typed_in

JOBS = sorted(path.stem for path in (configs_folder() / "jobs").glob("*.toml"))
REFERENCE = Path(__file__).resolve().parents[1] / "reference" / "plain"


def kept(name: str) -> str:
    """The transcript of a job."""
    return (REFERENCE / f"{name}.txt").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", JOBS)
def test_a_plain_job_is_said_and_shown_as_it_was(name: str) -> None:
    before = kept(name)
    assert list(replayed(name, typed_in(before)).lines) == before.splitlines()


def test_every_transcript_has_its_job() -> None:
    assert sorted(path.stem for path in REFERENCE.glob("*.txt")) == JOBS


def table() -> str:
    """Of each job: turns, questions asked, words spoken."""
    rows = ["| job | turns | questions | words spoken |", "|---|---|---|---|"]
    whole = [0, 0, 0]
    for name in JOBS:
        _, turns, asked = kept(name).splitlines()[:3]
        counts = [int(turns.split()[0]), int(asked.split()[0]), int(asked.split()[3])]
        whole = [one + more for one, more in zip(whole, counts, strict=True)]
        rows.append(f"| {name} | {' | '.join(map(str, counts))} |")
    return "\n".join((*rows, f"| all | {' | '.join(map(str, whole))} |"))


if __name__ == "__main__":
    chosen = [name for name in sys.argv[1:] if name != "--table"]
    if chosen or "--table" not in sys.argv:
        REFERENCE.mkdir(parents=True, exist_ok=True)
        for job in chosen or JOBS:
            (REFERENCE / f"{job}.txt").write_text(anew(job).text, encoding="utf-8")
    print(table())
