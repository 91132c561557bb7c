"""The shape of the repository: what lies where, how long a module is, what no file may name."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]

TOP = {
    ".ci",
    ".gitignore",
    "DEVELOPERS.md",
    "LICENSE",
    "MANIFEST.in",
    "README.md",
    "assistant",
    "configs",
    "locks",
    "pyproject.toml",
    "requirements.lock",
    "scripts",
    "tests",
    "voice_models",
}

LONGEST = 350
"""Lines of a module. One that grows longer has more than one purpose."""

FORBIDDEN = {
    "a machine's own path": r"/(?:work|root|farm|home)/|bash[_]jobs|/[.]library",
    "a registry's address": r"pypi\.org|pythonhosted\.org|registry\.npmjs\.org|deb\.debian\.org",
}

OUTSIDE = r"(?:^|[\s\"'=(])\.\./\w"
"""A path that begins by leaving where it is."""


def tracked() -> list[Path]:
    """Files under version control; all but ignored ones where this is no checkout."""
    try:
        listed = subprocess.run(
            ["git", "ls-files", "-z"], cwd=ROOT, check=True, capture_output=True, text=True
        ).stdout
    except (OSError, subprocess.CalledProcessError):
        pytest.skip("not a git checkout: what is tracked can't be told")
    return [path for name in listed.split("\0") if name and (path := ROOT / name).is_file()]


def texts() -> list[tuple[str, str]]:
    """Name and text of every tracked text file."""
    found = []
    for path in tracked():
        try:
            found.append((str(path.relative_to(ROOT)), path.read_text(encoding="utf-8")))
        except UnicodeDecodeError:
            continue  # sound, pictures, fonts
    return found


def test_the_top_level_is_fixed() -> None:
    assert {path.relative_to(ROOT).parts[0] for path in tracked()} == TOP


def test_modules_are_short() -> None:
    modules = [(n, t) for n, t in texts() if n.startswith(("assistant/", "scripts/"))]
    code = [(n, t) for n, t in modules if n.endswith(".py") or t.startswith("#!")]
    lengths = {name: text.count("\n") for name, text in code}
    assert {name: length for name, length in lengths.items() if length > LONGEST} == {}


@pytest.mark.parametrize("what", FORBIDDEN)
def test_no_file_names(what: str) -> None:
    pattern = re.compile(FORBIDDEN[what])
    assert [name for name, text in texts() if pattern.search(text)] == []


def test_only_ci_names_a_folder_outside() -> None:
    pattern = re.compile(OUTSIDE, re.MULTILINE)
    # Tests try such paths on purpose; help pages link to their neighbours.
    code = [(n, t) for n, t in texts() if not n.startswith("tests/") and not n.endswith(".md")]
    assert [name for name, text in code if pattern.search(text)] == [".ci/run"]
    recordings = re.compile(r"\.\./shared")
    assert [name for name, text in texts() if recordings.search(text)] == [".ci/run"]


def test_commands_can_be_executed() -> None:
    commands = [
        path
        for path in tracked()
        if path.parent in (ROOT / "scripts", ROOT / ".ci") and not path.suffix
    ]
    assert {"run", "test", "fetch_models", "record_demo", "release"} <= {
        path.name for path in commands
    }
    assert [path.name for path in commands if not path.stat().st_mode & 0o111] == []


def test_packages_say_what_they_are_for() -> None:
    first = {n: t for n, t in texts() if n.startswith("assistant/") and n.endswith(".py")}
    assert [name for name, text in first.items() if text and not text.startswith('"""')] == []
