"""The command line used out of order: plain errors, the exit statuses that `--help` states, JSON
where a program reads it, and a job that is kept whatever ends the program."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from types import SimpleNamespace

import pytest

from assistant.app.cli.watching import watch_job
from assistant.devices.journal import open_journal
from tests.factories import Job

ROOT = Path(__file__).resolve().parents[2]


def wheelcall(*arguments: str, typed: str = "") -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "assistant", *arguments],
        cwd=ROOT, input=typed, capture_output=True, text=True, timeout=120, check=False,
        env=dict(os.environ, SDL_VIDEODRIVER="dummy"),
    )  # fmt: skip


@pytest.fixture(scope="module")
def journal(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A journal that holds a job left at its third step, a measurement taken back."""
    job = Job()
    job.says("checked", "checked", "scratch that", "checked")
    job.to_step("measure-shaft")
    job.say("measured one point five")
    path = tmp_path_factory.mktemp("shop") / "journal.sqlite"
    kept = open_journal(path)
    kept.append(job.assistant.job_id, job.journal.read(job.assistant.job_id))
    kept.close()
    return path


@pytest.mark.parametrize(
    ("arguments", "status", "says"),
    [
        (["plan", "keyseat"], 2, "did you mean keyseat-inch"),
        (["plan", "keyseat-inch.txt"], 2, "did you mean keyseat-inch"),
        (["plan", "zzzz"], 2, "known jobs: angle-head"),
        (["plan", "none.toml"], 2, "job is none.toml: no such file; known jobs: angle-head"),
        (["phrases", "--book", "none.toml"], 2, "none.toml: file is missing"),
        (["run", "slot-inch", "--demo"], 2, "no operator was recorded; recorded are: divide"),
        (["run", "keyseat-inch", "--pace", "slow"], 2, "--pace is slow"),
        (["help", "nothing"], 2, "known topics"),
        (["check", "--yes"], 2, "--yes is given: it can only be used with --ear"),
        (["check", "--from", "."], 2, "--from is given: it can only be used with --ear"),
        (["learn", "--json"], 2, "--json is given: it can only be used with --show"),
        (["learn", "--show", "--delete"], 2, "--delete is given"),
        (["learn", "--delete", "--dry-run"], 2, "--dry-run is given"),
        (["hear", "none.wav", "--json"], 1, ""),
        (["say", "keyseat-inch", "blah blah"], 1, ""),
        (["say", "keyseat-inch", "checked"], 0, ""),
    ],
)
def test_every_misuse_ends_in_one_plain_line(arguments: list[str], status: int, says: str) -> None:
    done = wheelcall(*arguments)
    assert done.returncode == status, done.stderr
    assert says in done.stderr
    assert "Traceback" not in done.stderr
    assert done.stderr.count("\n") <= 1


@pytest.mark.parametrize("kind", ["missing", "empty"])
def test_a_journal_without_jobs_says_so(kind: str, tmp_path: Path) -> None:
    path = tmp_path / "journal.sqlite"
    if kind == "empty":
        path.touch()
    listed = wheelcall("jobs", "--journal", str(path))
    assert listed.returncode == 0
    assert listed.stdout.startswith("No jobs yet")
    assert json.loads(wheelcall("jobs", "--journal", str(path), "--json").stdout) == []
    for command in (["report", "x"], ["watch", "--once"]):
        asked = wheelcall(*command, "--journal", str(path))
        assert asked.returncode == 2
        assert "no job was worked yet: wheelcall run JOB begins one" in asked.stderr


def test_a_record_for_a_program(journal: Path) -> None:
    record = json.loads(_record(journal))
    assert record["machine"] == "Millrace horizontal (invented)"
    assert (record["finished"], record["done"]) == (False, 6)
    told = [one for one in record["told"] if one["unit"] == "inch"]
    assert told[0]["value"] == "1.5"
    assert [command["understood"] for command in record["commands"]][:3] == ["checked"] * 3
    assert len(record["taken_back"]) == 1


def _record(journal: Path) -> str:
    (job,) = json.loads(wheelcall("jobs", "--json", "--journal", str(journal)).stdout)
    done = wheelcall("report", job["id"], "--json", "--journal", str(journal))
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_where_a_job_is_for_a_program(journal: Path) -> None:
    done = wheelcall("watch", "--once", "--json", "--journal", str(journal))
    (line,) = done.stdout.splitlines()
    shown = json.loads(line)
    assert shown["place"] == "step 7 of 39"
    assert (shown["number"], shown["unit"]) == ("0.375", "in")


def test_a_look_at_a_job_prints_where_it_is_and_writes_nothing(
    journal: Path, tmp_path: Path
) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "assistant", "watch", "--once", "--journal", str(journal)],
        cwd=tmp_path, capture_output=True, text=True, timeout=120, check=False,
        env=dict(os.environ, PYTHONPATH=str(ROOT)),
    )  # fmt: skip
    assert done.returncode == 0
    assert done.stdout.startswith("Pond pump layshaft, keyseat for the chain wheel, ")
    assert "cutter width 0.375 in" in done.stdout
    assert list(tmp_path.iterdir()) == []


def test_where_no_window_opens_lines_are_printed_and_nothing_is_written(
    journal: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Also where a display is named: a picture would be a file."""

    def interrupted(_seconds: float) -> None:
        raise KeyboardInterrupt

    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("DISPLAY", ":4711")
    monkeypatch.setenv("SDL_VIDEODRIVER", "no-such-driver")
    clock = SimpleNamespace(monotonic=time.monotonic, sleep=interrupted)
    monkeypatch.setattr("assistant.app.cli.watching.time", clock)
    assert watch_job(None, journal, once=False) == 0
    printed = capsys.readouterr().out
    assert printed.startswith("No display (")
    assert "cutter width 0.375 in" in printed
    assert list(tmp_path.iterdir()) == []


def test_a_kept_job_is_chosen_by_the_beginning_of_its_identity(journal: Path) -> None:
    (job,) = json.loads(wheelcall("jobs", "--json", "--journal", str(journal)).stdout)
    for command in (["report"], ["watch", "--once"]):
        for asked in (job["id"], job["id"][:5]):
            done = wheelcall(*command, asked, "--journal", str(journal))
            assert done.returncode == 0, done.stderr
            assert "Pond pump layshaft" in done.stdout
        done = wheelcall(*command, "x", "--journal", str(journal))
        assert done.returncode == 2
        assert f"job is x: not in the journal; the last ones there: {job['id']}" in done.stderr


def test_the_phrases_for_a_program() -> None:
    entries = json.loads(wheelcall("phrases", "--json").stdout)
    touched = next(entry for entry in entries if entry["intent"] == "touched")
    assert "touched" in touched["say"]


def test_control_c_is_told_of_by_every_command(tmp_path: Path) -> None:
    program = subprocess.Popen(
        [sys.executable, "-m", "assistant", "say", "keyseat-inch"],
        cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        env=dict(os.environ, PYTHONUNBUFFERED="1"),
    )  # fmt: skip
    assert program.stdout is not None
    assert program.stdout.readline(), "it has begun, and waits for a line"
    time.sleep(0.2)
    program.send_signal(signal.SIGINT)
    _, err = program.communicate(timeout=60)
    assert program.returncode == 130
    assert err.strip() == "interrupted"


def test_control_c_keeps_the_job_and_says_how_to_go_on(tmp_path: Path) -> None:
    path = tmp_path / "journal.sqlite"
    program = subprocess.Popen(
        [sys.executable, "-m", "assistant", "run", "keyseat-inch", "--typed",
         "--journal", str(path), "--out", str(tmp_path / "out")],
        cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        env=dict(os.environ, SDL_VIDEODRIVER="dummy", PYTHONUNBUFFERED="1"),
    )  # fmt: skip
    assert program.stdin is not None
    assert program.stdout is not None
    program.stdin.write("checked\n")
    program.stdin.flush()
    for line in program.stdout:
        if "Drawbar spanner off?" in line:
            break
    time.sleep(0.2)
    program.send_signal(signal.SIGINT)
    out, err = program.communicate(timeout=60)
    assert program.returncode == 130
    assert "interrupted; the job is kept: wheelcall run keyseat-inch takes it up again" in out
    assert err.count("interrupted") == 0, "said once"
    assert "Traceback" not in err
    again = wheelcall(
        "run", "keyseat-inch", "--typed", "--journal", str(path), "--out", str(tmp_path / "out"),
        typed="where are we\n",
    )  # fmt: skip
    assert "Where we left off. Drawbar spanner off?" in again.stdout
    assert again.returncode == 1, "not finished"
