"""The program as a shell starts it: pipes that close, terminals of few letters, interrupts that
were ignored, folders that aren't there, help in whole, completion, the desktop's menu."""

from __future__ import annotations

import os
import re
import signal
import stat
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import pytest
from typer.testing import CliRunner

from assistant.app.cli.every_command import app
from assistant.app.cli.paper import sheet_of
from assistant.app.cli.shortcut import desktop_entry
from assistant.app.paths import configs_folder, find_job, writable_folder
from assistant.devices.journal import open_journal
from assistant.errors import BadFile, BadInput
from assistant.scratch import LOCK, YOUNG_SECONDS, Scratch, clear_left_over
from tests.factories import Job

ROOT = Path(__file__).resolve().parents[2]
PROGRAM = [sys.executable, "-m", "assistant"]
JOB = (configs_folder() / "jobs" / "keyseat-inch.toml").read_text(encoding="utf-8")


def run(*arguments: str, **more: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [*PROGRAM, *arguments], cwd=ROOT, capture_output=True, text=True, timeout=120, check=False,
        env=os.environ | more,
    )  # fmt: skip


@pytest.mark.parametrize("command", ["plan keyseat-inch", "calc --list", "help operations", "-h"])
@pytest.mark.parametrize("reader", ["head -1", "true"])
def test_a_reader_that_has_seen_enough_is_no_error(command: str, reader: str) -> None:
    line = f'{sys.executable} -m assistant {command} | {reader}; echo "${{PIPESTATUS[0]}}"'
    done = subprocess.run(
        ["bash", "-c", line], cwd=ROOT, capture_output=True, text=True, timeout=60, check=False
    )
    assert done.stderr == ""
    assert done.stdout.splitlines()[-1] == "0"


def test_a_terminal_of_few_letters_shows_every_number() -> None:
    done = run("plan", "keyseat-inch", PYTHONIOENCODING="ascii")
    assert done.returncode == 0
    assert "4 turns + 140 1/2, stop at 140 1/2" in done.stdout


def test_a_title_in_other_letters_on_a_terminal_without_them(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    line = next(line for line in JOB.splitlines() if line.startswith("title"))
    path.write_text(JOB.replace(line, 'title = "軸 – Ø 1½"'), encoding="utf-8")
    done = run("plan", str(path), PYTHONIOENCODING="ascii")
    assert done.returncode == 0
    assert done.stdout.startswith("\\u8ef8 - dia  1 1/2\n")


def test_typed_lines_of_another_encoding_are_words_like_others() -> None:
    done = subprocess.run(
        [*PROGRAM, "say", "keyseat-inch"], cwd=ROOT, input=b"\xff\xfe bare\nchecked\n",
        capture_output=True, timeout=60, check=False,
    )  # fmt: skip
    assert done.returncode == 1, "one of the two was not understood"
    assert b"Traceback" not in done.stderr


def test_an_interrupt_reaches_us_though_the_parent_ignored_it() -> None:
    program = subprocess.Popen(
        [*PROGRAM, "say", "keyseat-inch"], cwd=ROOT, text=True, stdin=subprocess.PIPE,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        env=os.environ | {"PYTHONUNBUFFERED": "1"},
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_IGN),
    )  # fmt: skip
    assert program.stdout is not None
    assert program.stdout.readline()
    time.sleep(0.2)
    program.send_signal(signal.SIGINT)
    _, err = program.communicate(timeout=60)
    assert program.returncode == 130
    assert err.strip() == "interrupted"


@pytest.mark.parametrize(
    "arguments", [["plan", "keyseat-inch", "--pdf"], ["phrases", "--pdf"]], ids=["plan", "phrases"]
)
def test_paper_for_a_folder_that_is_not_there(tmp_path: Path, arguments: list[str]) -> None:
    path = tmp_path / "none" / "x.pdf"
    done = run(*arguments, str(path))
    assert done.returncode == 2
    assert f"file is {path}: there is no folder {path.parent}" in done.stderr
    assert not path.parent.exists()


def test_a_file_that_cannot_go_with_its_machine_is_named(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text(JOB.replace('"millrace-horizontal"', '"leat-vertical"'), encoding="utf-8")
    with pytest.raises(BadFile) as bad:
        Job(path=path)
    assert str(bad.value).startswith(f"{path}: machine is a vertical mill: ")
    assert "leat-vertical.toml" in str(bad.value)


def test_what_is_left_is_told_in_few_digits(tmp_path: Path) -> None:
    work = Job()
    work.to_step("roughing-2-set")
    said = " ".join(s.text for s in work.try_saying("cut seven hundred thou this pass").sentences)
    assert not re.search(r"\d\.\d{5}", said), said


def test_a_job_is_found_by_path_by_name_and_by_neither(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(JOB, encoding="utf-8")
    for name in (str(path), str(path.with_suffix(""))):
        assert find_job(name) == path
    assert find_job("keyseat-inch") == find_job("keyseat-inch.toml")
    for name in ("", "none", str(tmp_path), "a\0b", str(tmp_path / "keyseat-inch")):
        with pytest.raises(BadInput, match="no such file"):
            find_job(name)


def test_pictures_find_another_place_where_theirs_cannot_be_written(tmp_path: Path) -> None:
    assert writable_folder(tmp_path / "out") == tmp_path / "out"
    (tmp_path / "file").write_text("in the way")
    other = writable_folder(tmp_path / "file" / "out")
    assert other.name == "out"
    assert not other.is_relative_to(tmp_path)


def test_the_journal_is_for_its_owner_alone(tmp_path: Path) -> None:
    path = tmp_path / "shop" / "journal.sqlite"
    old = os.umask(0)
    try:
        kept = open_journal(path)
    finally:
        os.umask(old)
    job = Job()
    kept.append(job.assistant.job_id, job.journal.read(job.assistant.job_id))
    modes = {p.name: stat.S_IMODE(p.stat().st_mode) for p in path.parent.glob("*.sqlite*")}
    kept.close()
    assert {name: mode for name, mode in modes.items() if ".lock" not in name} == dict.fromkeys(
        ("journal.sqlite", "journal.sqlite-wal", "journal.sqlite-shm"), 0o600
    )
    assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700
    path.chmod(0o644)
    open_journal(path).close()
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_what_a_killed_process_left_is_cleared_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    in_use = Scratch("voice")
    left = tmp_path / "wheelcall-voice-left"
    young = tmp_path / "wheelcall-voice-young"
    other = tmp_path / "wheelcall-vosk-other"
    for folder in (left, young, other):
        folder.mkdir()
        (folder / "1.wav").write_bytes(b"sound")
    (left / LOCK).touch()
    (tmp_path / "wheelcall-voice-link").symlink_to(other)
    long_ago = time.time() - 2 * YOUNG_SECONDS
    for folder in (left, other, in_use.path):
        os.utime(folder, (long_ago, long_ago))
    assert clear_left_over("voice") == [left]
    assert in_use.path.is_dir()
    assert young.is_dir()
    assert other.is_dir()
    in_use.close()
    assert not in_use.path.exists()


def test_a_process_that_was_killed_leaves_nothing_for_long(tmp_path: Path) -> None:
    making = (
        "from assistant.scratch import Scratch; s = Scratch('voice'); print(s.path, flush=True)"
    )
    program = subprocess.Popen(
        [sys.executable, "-c", f"{making}; input()"], cwd=ROOT, text=True,
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, env=os.environ | {"TMPDIR": str(tmp_path)},
    )  # fmt: skip
    assert program.stdout is not None
    folder = Path(program.stdout.readline().strip())
    long_ago = time.time() - 2 * YOUNG_SECONDS
    os.utime(folder, (long_ago, long_ago))
    clear = (
        f"{sys.executable} -c \"from assistant.scratch import clear_left_over as c; c('voice')\""
    )
    subprocess.run(
        clear, shell=True, cwd=ROOT, env=os.environ | {"TMPDIR": str(tmp_path)}, check=True
    )
    assert folder.is_dir(), "it is in use"
    program.kill()
    program.communicate()
    subprocess.run(
        clear, shell=True, cwd=ROOT, env=os.environ | {"TMPDIR": str(tmp_path)}, check=True
    )
    assert not folder.exists()


# -- help, completion, the menu -------------------------------------------------------------------


def commands() -> list[str]:
    shown = CliRunner().invoke(app, ["-h"]).output.partition("Commands:")[2]
    return re.findall(r"^  ([a-z]+)  ", shown, re.MULTILINE)


def test_no_summary_is_cut() -> None:
    shown = CliRunner().invoke(app, ["-h"]).output
    assert "..." not in shown.partition("Commands:")[2]
    assert {"run", "plan", "watch", "shortcut"} <= set(commands())


@pytest.mark.parametrize("name", commands())
def test_help_speaks_of_no_types_and_of_no_opposites(name: str) -> None:
    shown = CliRunner().invoke(app, [name, "-h"]).output
    assert not re.search(r"<\w|list\[|--no-", shown), shown


@pytest.mark.parametrize(
    ("words", "offered"),
    [
        ("wheelcall pl", ["plan"]),
        ("wheelcall plan keyseat-t", ["keyseat-two-in-line"]),
        ("wheelcall run taper-s", ["taper-set-over"]),
        ("wheelcall help num", ["numbers"]),
        ("wheelcall calc wire-l", ["wire-limits"]),
        ("wheelcall report nothing-", []),
    ],
)
def test_the_shell_is_told_what_can_follow(words: str, offered: list[str]) -> None:
    done = run(
        _WHEELCALL_COMPLETE="complete_bash", COMP_WORDS=words,
        COMP_CWORD=str(len(words.split()) - 1),
    )  # fmt: skip
    assert done.stdout.split() == offered
    assert done.stderr == ""


def test_an_entry_in_the_menu_is_made_and_taken_away(tmp_path: Path) -> None:
    at = {"XDG_DATA_HOME": str(tmp_path / "data"), "XDG_CONFIG_HOME": str(tmp_path / "config")}
    made = run("shortcut", "keyseat-inch", "--autostart", **at)
    assert made.returncode == 0, made.stderr
    entry = tmp_path / "data" / "applications" / "wheelcall.desktop"
    text = entry.read_text(encoding="utf-8")
    assert text == (tmp_path / "config" / "autostart" / "wheelcall.desktop").read_text()
    icon = re.search(r"^Icon=(.*)$", text, re.MULTILINE)
    assert icon is not None
    assert Path(icon[1]).read_text(encoding="utf-8").startswith("<svg ")
    assert re.search(r"^Exec=env WHEELCALL_WAIT=1 .* run keyseat-inch$", text, re.MULTILINE)
    assert run("shortcut", "--remove", **at).stdout.count("removed") == 3
    assert not [path for path in tmp_path.rglob("*") if path.is_file()]
    assert "no shortcut" in run("shortcut", "--remove", **at).stdout
    assert run("shortcut", "no-such-job", **at).returncode == 2
    assert not [path for path in tmp_path.rglob("*") if path.is_file()]


def test_a_command_is_quoted_as_the_standard_wants() -> None:
    words = ["env", "run", 'a "50%" $x `y` \\z.toml']
    text = desktop_entry(words, Path("/i.svg"), None)
    line = next(line for line in text.splitlines() if line.startswith("Exec="))
    # a string's own escapes first, then the quoting of Exec, then its field codes
    value = line.removeprefix("Exec=").replace("\\\\", "\\")
    assert value == 'env run "a \\"50%%\\" \\$x \\`y\\` \\\\z.toml"'


def test_what_a_file_is_called_or_titled_reaches_no_terminal_screen_or_paper(
    tmp_path: Path,
) -> None:
    path = tmp_path / "a\x1b[2Jb.toml"
    line = next(line for line in JOB.splitlines() if line.startswith("title"))
    path.write_text(JOB.replace(line, r'title = "Shaft\u001b[31m\u202e\nred"'), encoding="utf-8")
    work = Job(path=path)
    shown = "Shaft\\x1b[31m\\u202e\\nred"
    assert work.glance.job == shown
    assert work.opening[0].text.startswith("Shaft")
    assert "\x1b" not in work.assistant.job_id
    document, _ = sheet_of(str(path))
    assert document.title == shown
    assert not [one for one in document.lines if not one.isprintable()]
    done = run("plan", str(path))
    assert done.stdout.startswith(f"{shown}\n")
    assert "\x1b" not in done.stdout
    path.write_text("nothing", encoding="utf-8")
    assert "\x1b" not in run("plan", str(path)).stderr
