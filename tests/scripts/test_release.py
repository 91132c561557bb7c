"""A wheel that is whole: built from what is under version control, it holds every file that the
clone's program reads, and works where there is no clone."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from releasing import trial
from releasing.archives import build_both, copy_tracked, read_source, read_wheel, tracked
from releasing.contents import differences, wanted_in_source, wanted_in_wheel

EPOCH = 1_700_000_000

WATCHED = """\
import sys
def told(event, arguments):
    if event == "open" and isinstance(arguments[0], str):
        print(arguments[0], file=opened)
opened = open(sys.argv.pop(1), "w")
sys.addaudithook(told)
from assistant.app.cli import main
main()
"""
"""The program, and the path of every file that it opens."""


@pytest.fixture(scope="module")
def built(root: Path, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """Source archive and wheel."""
    folder = tmp_path_factory.mktemp("release")
    try:
        copy_tracked(root, folder / "clone")
    except (OSError, subprocess.CalledProcessError):
        pytest.skip("not a git checkout: what belongs to the project can't be told")
    return build_both(folder / "clone", folder / "built", EPOCH)


@pytest.fixture(scope="module")
def installed(built: tuple[Path, Path], tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with what the wheel would install, and nothing else of the project."""
    folder = tmp_path_factory.mktemp("installed")
    with zipfile.ZipFile(built[1]) as wheel:
        wheel.extractall(folder)
    return folder


def test_the_wheel_holds_all_files_of_the_program_and_no_other(
    root: Path, built: tuple[Path, Path]
) -> None:
    wanted = wanted_in_wheel(tracked(root))
    assert {"assistant/configs/phrases.toml", "assistant/help/safety.md"} <= wanted.keys()
    assert differences(root, read_wheel(built[1]), wanted, "wheel") == []


def test_the_source_archive_holds_what_the_wheel_is_built_from(
    root: Path, built: tuple[Path, Path]
) -> None:
    wanted = wanted_in_source(tracked(root))
    assert not [name for name in wanted if name.startswith("tests/")]
    assert differences(root, read_source(built[0]), wanted, "source") == []


def test_what_is_missing_too_much_or_changed_is_named(tmp_path: Path) -> None:
    (tmp_path / "a").write_text("a")
    wanted = {"assistant/a": "a", "assistant/b": "b"}
    held = {"assistant/a": b"other", "tests/data.wav": b"", "wheelcall-1.0.dist-info/RECORD": b""}
    assert differences(tmp_path, held, wanted, "wheel") == [
        "assistant/b is missing",
        "tests/data.wav has no place in it",
        "assistant/a is other than a",
    ]


def test_it_is_the_same_to_the_byte_when_built_again(
    root: Path, built: tuple[Path, Path], tmp_path: Path
) -> None:
    copy_tracked(root, tmp_path / "another" / "place")
    again = build_both(tmp_path / "another" / "place", tmp_path / "built", EPOCH)
    assert [path.read_bytes() for path in again] == [path.read_bytes() for path in built]


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["--version"], "wheelcall "),
        (["help", "operations"], "Operations and their job files"),
        (["phrases"], "measured"),
        (["plan", "keyseat-inch"], "Saddle in"),
        (["say", "turn-shaft", "checked"], "checked"),
        (["hear", "CLIP", "--second"], "checked"),
        (["plan", "gear-inch", "--pdf", "sheet.pdf"], "pages"),
    ],
    ids=["version", "help", "phrases", "plan", "say", "hear", "pdf"],
)
def test_it_works_without_the_clone_and_opens_no_file_of_it(
    root: Path, installed: Path, tmp_path: Path, arguments: list[str], says: str
) -> None:
    clip = installed / "assistant" / "demo" / "keyseat-inch" / "checked.flac"
    opened = tmp_path / "opened"
    done = subprocess.run(
        [sys.executable, "-c", WATCHED, str(opened),
         *(str(clip) if word == "CLIP" else word for word in arguments)],
        cwd=tmp_path, capture_output=True, text=True, timeout=120,
        env={**os.environ, "PYTHONPATH": str(installed), "HOME": str(tmp_path),
             "SDL_VIDEODRIVER": "dummy"},
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert says in done.stdout
    files = {Path(name) for name in opened.read_text(encoding="utf-8").splitlines()}
    environment = (root / ".venv", Path(sys.prefix).resolve(), Path(sys.base_prefix))
    of_the_clone = [
        path for path in files
        if path.is_relative_to(root) and not any(map(path.is_relative_to, environment))
    ]  # fmt: skip
    assert of_the_clone == []
    assert any(path.is_relative_to(installed) for path in files)


@pytest.mark.parametrize(
    ("status", "says", "fails"), [(0, "here", False), (3, "here", True), (0, "elsewhere", True)]
)
def test_a_trial_that_went_otherwise_is_told(
    tmp_path: Path, status: int, says: str, fails: bool
) -> None:
    (tmp_path / "home").mkdir()
    program = tmp_path / "wheelcall"
    program.write_text(f"#!/bin/sh\necho here 1.0\nexit {status}\n")
    program.chmod(0o755)
    line = trial.tried(trial.Try(("run",), says + " {version}"), "1.0", tmp_path, tmp_path, print)
    assert bool(line) is fails
    assert not fails or (f"ended with {status}" in line and f"'{says} 1.0'" in line)


def test_the_quick_tests_are_there(root: Path) -> None:
    assert [name for name in trial.QUICK if not (root / name).exists()] == []


def test_what_is_not_committed_is_in_no_release(root: Path, tmp_path: Path) -> None:
    copy_tracked(root / "scripts", tmp_path / "scripts")
    git = ["git", "-c", "user.name=x", "-c", "user.email=x@example.com"]
    subprocess.run([*git, "init", "-q"], cwd=tmp_path, check=True)
    done = subprocess.run(
        [sys.executable, tmp_path / "scripts" / "release"], capture_output=True, text=True
    )
    assert done.returncode == 2
    assert "not committed, and so in no release:" in done.stderr
    assert not (tmp_path / "dist").exists()
