"""The log and the bundle for a report: what is in them, what never is, and that neither is in the
way of anything."""

from __future__ import annotations

import json
import logging
import os
import stat
import subprocess
import sys
import time
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from assistant import log as log_module
from assistant.app.cli import bundle
from assistant.app.cli.bundle import contents, write_bundle
from assistant.app.settings import Settings
from assistant.devices.ear import EarProcess, EarState
from assistant.errors import BadInput
from assistant.log import KEPT, LARGEST, get_log, log_files, log_path, start_log
from tests.factories import Job

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def logged(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A log of this test's own."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path))
    logger = logging.getLogger(log_module.NAME)
    before, logger.handlers = logger.handlers, []
    start_log()
    yield log_path()
    for handler in logger.handlers:
        handler.close()
    logger.handlers = before


def wheelcall(state: Path, *arguments: str, typed: str = "") -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "assistant", *arguments], cwd=ROOT, input=typed, text=True,
        capture_output=True, timeout=120, check=False,
        env=os.environ | {"XDG_STATE_HOME": str(state), "SDL_VIDEODRIVER": "dummy"},
    )  # fmt: skip


def test_it_is_for_its_owner_alone_and_stays_small(logged: Path) -> None:
    log = get_log("test")
    for number in range(6000):
        log.info("line %d %s", number, "x" * 400)
    assert len(log_files()) == KEPT + 1
    for path in log_files():
        assert path.stat().st_size <= LARGEST
        assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert stat.S_IMODE(logged.parent.stat().st_mode) == 0o700


def test_what_cannot_be_written_is_lost_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").write_text("in the way")
    done = wheelcall(tmp_path / "file", "plan", "tram-vice")
    assert done.returncode == 0
    assert done.stderr == ""


def test_no_word_that_was_said_is_in_it(tmp_path: Path) -> None:
    words = ("checked", "banana split", "measured one point five")
    done = wheelcall(
        tmp_path, "run", "keyseat-inch", "--typed", "--journal", str(tmp_path / "j.sqlite"),
        "--out", str(tmp_path / "out"), typed="\n".join(words) + "\n",
    )  # fmt: skip
    assert done.returncode == 1
    text = (tmp_path / "wheelcall" / "wheelcall.log").read_text(encoding="utf-8")
    assert "3 turns, median" in text
    assert "begins run" in text
    assert "ends with 1" in text
    for word in " ".join(words).split():
        assert word not in text.replace("keyseat-inch", ""), word
    said = wheelcall(tmp_path, "say", "keyseat-inch", "banana split")
    assert said.returncode == 1
    text = (tmp_path / "wheelcall" / "wheelcall.log").read_text(encoding="utf-8")
    assert "begins say" in text
    assert "banana" not in text


def test_an_error_of_the_program_is_one_line_with_its_traceback_in_the_log(tmp_path: Path) -> None:
    breaking = (
        "import sys; sys.argv = ['wheelcall', 'jobs']\n"
        "from assistant.app.cli import listing, main\n"
        "def broken(*_, **__): raise RuntimeError('a wheel came off')\n"
        "listing.print_jobs = broken\nmain()"
    )
    done = subprocess.run(
        [sys.executable, "-c", breaking], cwd=ROOT, capture_output=True, text=True, check=False,
        env=os.environ | {"XDG_STATE_HOME": str(tmp_path)},
    )  # fmt: skip
    assert done.returncode == 4
    assert done.stderr.startswith("wheelcall: the program failed: RuntimeError('a wheel came off')")
    assert done.stderr.count("\n") == 1
    text = (tmp_path / "wheelcall" / "wheelcall.log").read_text(encoding="utf-8")
    assert "Traceback" in text
    assert "in broken" in text


def broken_ear() -> None:
    raise ArithmeticError("the decoder's sum is wrong")


def test_a_traceback_of_a_child_is_in_it(logged: Path) -> None:
    ear = EarProcess(broken_ear)  # type: ignore[arg-type]
    ear.start()
    found = False
    for _ in range(600):
        found = found or any(
            isinstance(event, EarState) and event.doing == "trouble" for event in ear.poll()
        )
        if found:
            break
        time.sleep(0.1)
    ear.close()
    assert found
    text = logged.read_text(encoding="utf-8")
    assert "ERROR wheelcall.ear: its process fails" in text
    assert "in broken_ear" in text


def test_trouble_of_devices_and_its_end_are_in_it(logged: Path) -> None:
    job = Job()
    job.assistant.note_trouble("Ear", "The ear stopped (exit code -11). It is started again.")
    job.assistant.note_trouble("Ear", "")
    text = logged.read_text(encoding="utf-8")
    assert "WARNING wheelcall.devices: Ear: The ear stopped (exit code -11)" in text
    assert "Ear is back." in text


# -- the bundle -----------------------------------------------------------------------------------


@pytest.fixture
def no_devices(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bundle, "check_all", lambda settings, seconds: [])


@pytest.mark.usefixtures("no_devices")
def test_it_is_shown_and_asked_before_it_is_packed(
    logged: Path,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    get_log("test").warning("the last line of the log")
    monkeypatch.setattr(sys, "stdin", open(os.devnull))  # noqa: SIM115
    monkeypatch.setattr(sys.stdin, "isatty", lambda: True, raising=False)
    path = tmp_path / "report.zip"
    asked: list[str] = []

    def ask(answer: str) -> object:
        def asking(question: str) -> str:
            asked.append(capsys.readouterr().out)
            return answer

        return asking

    for answer, packed in (("", False), ("n", False), ("y", True)):
        made = write_bundle(path, Settings(), None, seconds=0.1, yes=False, ask=ask(answer))  # type: ignore[arg-type]
        assert made is packed
        assert path.exists() is packed
    assert all("the last line of the log" in shown for shown in asked)
    with zipfile.ZipFile(path) as held:
        assert {"about.txt", "check.json", "log/wheelcall.log"} <= set(held.namelist())
        assert "the last line of the log" in held.read("log/wheelcall.log").decode()
        assert held.read("about.txt").decode().startswith("wheelcall ")
    with pytest.raises(BadInput, match="is there already"):
        write_bundle(path, Settings(), None, seconds=0.1, yes=True)
    with pytest.raises(BadInput, match="no folder"):
        write_bundle(tmp_path / "none" / "x.zip", Settings(), None, seconds=0.1, yes=True)


@pytest.mark.usefixtures("no_devices")
def test_nobody_to_ask_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", None)
    with pytest.raises(BadInput, match="--yes"):
        write_bundle(tmp_path / "x.zip", Settings(), None, seconds=0.1, yes=False)
    assert not (tmp_path / "x.zip").exists()


@pytest.mark.usefixtures("no_devices")
def test_no_name_of_a_home_folder_goes_along(logged: Path, tmp_path: Path) -> None:
    settings = tmp_path / "settings.toml"
    settings.write_text(f'model = "{Path.home()}/models/x"\n', encoding="utf-8")
    get_log("test").warning("at %s/shop", Path.home())
    parts = contents(Settings(), settings, 0.1)
    assert "~/models/x" in parts["settings.toml"]
    assert not [name for name, text in parts.items() if f"{Path.home()}/" in text]


def test_check_takes_it_as_an_option(tmp_path: Path) -> None:
    path = tmp_path / "report.zip"
    done = wheelcall(
        tmp_path, "check", "--bundle", str(path), "--yes", "--seconds", "0.1",
        "--journal", str(tmp_path / "j.sqlite"),
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    with zipfile.ZipFile(path) as held:
        found = json.loads(held.read("check.json"))
    assert {"microphone", "ear", "journal"} <= {one["device"] for one in found}
    assert "No sound, no journal and no word that was said is in it." in done.stdout
    assert wheelcall(tmp_path, "check", "--bundle", "x.zip", "--json").returncode == 2
