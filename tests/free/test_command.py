"""`wheelcall free` and "free moves" at `wheelcall run`, as programs."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
BEGUN = ("zero the table", "right", "two inches left")


def environment(tmp_path: Path) -> dict[str, str]:
    own = {"XDG_CONFIG_HOME": str(tmp_path / "config"), "XDG_DATA_HOME": str(tmp_path / "data")}
    return dict(os.environ, PYTHONUNBUFFERED="1", SDL_VIDEODRIVER="dummy", **own)


def free(tmp_path: Path, *lines: str, args: tuple[str, ...] = ("free", "leat-vertical")):
    return subprocess.run(
        [sys.executable, "-m", "assistant", *args, "--typed", "--out", str(tmp_path / "out")],
        cwd=ROOT, input="".join(f"{line}\n" for line in lines), capture_output=True, text=True,
        timeout=180, check=False, env=environment(tmp_path),
    )  # fmt: skip


def test_left_in_the_middle_it_is_kept_and_every_dial_is_asked_for(tmp_path: Path):
    first = free(tmp_path, *BEGUN, "I'm there", "mark this one", "table to zero")
    assert first.returncode == 1
    assert "wheelcall free leat-vertical goes on with them" in first.stdout
    second = free(tmp_path, "I'm there", "10 turns and zero", "left of zero")
    assert "Zeros and marks are kept." in second.stdout
    asked = "Whole turns from zero, and what does the table dial read?"
    before, _, after = second.stdout.partition(asked)
    assert "Stop at" not in before, "no number before the dial"
    assert "Table right, ten turns." in after
    fresh = free(tmp_path, "where am I", args=("free", "leat-vertical", "--fresh"))
    assert "No zero yet." in fresh.stdout
    assert first.stderr == second.stderr == fresh.stderr == ""


def test_ended_it_is_gone_and_all_right(tmp_path: Path):
    done = free(tmp_path, *BEGUN, "I'm there", "that's all", "yes")
    assert done.returncode == 0, done.stdout + done.stderr
    assert list((tmp_path / "data" / "wheelcall" / "free").iterdir()) == []


def test_an_unknown_machine_lists_the_machines(tmp_path: Path):
    wrong = free(tmp_path, args=("free", "leat-verticl"))
    assert wrong.returncode == 2
    assert "did you mean leat-vertical or" in wrong.stderr
    assert "brook-lathe" in wrong.stderr
    assert wrong.stderr.count("\n") == 1


def test_a_machine_by_the_path_of_its_file(tmp_path: Path):
    text = (ROOT / "configs" / "machines" / "brook-lathe.toml").read_text(encoding="utf-8")
    path = tmp_path / "mine.toml"
    path.write_text(text.replace('backlash = "0.5 mm"\n', ""), encoding="utf-8")
    done = free(tmp_path, "zero the carriage", "left", args=("free", str(path)))
    assert "Its backlash isn't in the machine's file." in done.stdout
    assert "Every place is come to going left." in done.stdout


def test_what_is_kept_of_other_dials_is_left_out_and_said(tmp_path: Path):
    free(tmp_path, *BEGUN)
    kept = tmp_path / "data" / "wheelcall" / "free" / "leat-vertical.json"
    for text in ("{", '{"format": 9}', kept.read_text(encoding="utf-8").replace("inch", "mm")):
        kept.write_text(text, encoding="utf-8")
        done = free(tmp_path, "where am I")
        assert "What was kept is left out:" in done.stdout
        assert "No zero yet." in done.stdout


def test_control_c_loses_nothing(tmp_path: Path):
    program = subprocess.Popen(
        [sys.executable, "-m", "assistant", "free", "leat-vertical", "--typed", "--out",
         str(tmp_path / "out")], cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE,
        stderr=subprocess.PIPE, text=True, env=environment(tmp_path),
    )  # fmt: skip
    assert program.stdin is not None
    assert program.stdout is not None
    program.stdin.write("".join(f"{line}\n" for line in BEGUN))
    program.stdin.flush()
    for line in program.stdout:
        if "then right to it" in line:
            break
    program.send_signal(signal.SIGINT)
    out, err = program.communicate(timeout=60)
    assert program.returncode == 130
    assert "interrupted; zeros and marks are kept: wheelcall free leat-vertical" in out
    assert "Traceback" not in err


def test_free_moves_where_nothing_is_named(tmp_path: Path):
    done = free(
        tmp_path, "free moves", "leat vertical", *BEGUN, "I'm there", "that's all", "yes",
        args=("run", "--journal", str(tmp_path / "journal.sqlite")),
    )  # fmt: skip
    assert "On which machine?" in done.stdout
    assert "Table two inches left of zero." in done.stdout
    assert done.returncode == 0, done.stderr


def test_from_a_job_and_back(tmp_path: Path):
    done = free(
        tmp_path, "free moves", "zero the table", "zero", "right", "back to the job",
        args=("run", "step-inch", "--journal", str(tmp_path / "journal.sqlite")),
    )  # fmt: skip
    assert "Free moves. The job stands." in done.stdout
    assert "Back to the job." in done.stdout
    assert "not finished" in done.stdout
