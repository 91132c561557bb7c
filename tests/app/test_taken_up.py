"""A job is taken up from the journal: without its file, and with the file changed since."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.app.cli.run import job_path, open_job
from assistant.app.opening import AS_BEGUN, changed_since
from assistant.app.paths import configs_folder
from assistant.devices.journal import open_journal
from assistant.errors import BadInput
from tests.app.test_command_line import wheelcall
from tests.factories import Job


@pytest.fixture
def kept(tmp_path: Path) -> Path:
    """A journal with an open job whose file is gone."""
    job, path = Job("turn-shaft"), tmp_path / "journal.sqlite"
    journal = open_journal(path)
    journal.append("gone-12345678", job.journal.read(job.assistant.job_id))
    journal.close()
    return path


def test_an_open_job_is_found_by_its_name_though_its_file_is_gone(kept: Path) -> None:
    for name in ("gone", "gone.toml", "gone-12345678"):
        path = job_path(name, kept, new=False)
        journal = open_journal(kept)
        assert open_job(journal, path) == "gone-12345678"
        journal.close()
    with pytest.raises(BadInput, match="no such file"):
        job_path("gone", kept, new=True)
    with pytest.raises(BadInput, match="no such file"):
        job_path("never", kept, new=False)


def copied(tmp_path: Path) -> tuple[Path, Path]:
    """A job's file and its machine's, where they may be changed."""
    files = []
    for folder, name in (("jobs", "turn-shaft"), ("machines", "rill-lathe")):
        path = tmp_path / folder / f"{name}.toml"
        path.parent.mkdir()
        path.write_text((configs_folder() / folder / f"{name}.toml").read_text())
        files.append(path)
    return files[0], files[1]


def test_a_file_that_was_changed_since_is_told(tmp_path: Path) -> None:
    state = Job("turn-shaft").state
    job, machine = copied(tmp_path)
    assert changed_since(job, state) == ""
    as_it_was = job.read_text()
    job.write_text(f"# another remark\n{as_it_was}")
    assert changed_since(job, state) == "", "nothing that anything hangs on"
    for text in (as_it_was.replace("1.2500", "1.2000"), 'titel = "x', ""):
        job.write_text(text)
        assert changed_since(job, state) == AS_BEGUN.format(which="job's")
    job.unlink()
    assert changed_since(job, state) == ""
    job.write_text(as_it_was)
    machine.write_text(machine.read_text().replace("0.200 in", "0.100 in"))
    assert changed_since(job, state) == AS_BEGUN.format(which="machine's")


def test_typed_lines_from_a_pipe_answer_what_to_begin(kept: Path, tmp_path: Path) -> None:
    """They were taken for commands of the demo job, which was begun unasked."""
    out = ("--typed", "--journal", str(kept), "--out", str(tmp_path / "out"))
    asked = wheelcall("run", *out, typed="go on\nwhat now\n")
    assert "What shall it be?" in asked.stdout
    assert "gone-12345678 is open: taking it up where it was left" in asked.stdout
    named = wheelcall("run", "gone", *out, typed="what now\n")
    assert "gone-12345678 is open: taking it up where it was left" in named.stdout
