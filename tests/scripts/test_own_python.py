"""A script that is started with another Python goes on with the project's own, or says so."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

BASE = getattr(sys, "_base_executable", sys.executable)
"""The Python that the environment was made with: it has none of the project's packages."""


def started(script: Path) -> subprocess.CompletedProcess[str]:
    command = [BASE, str(script), "--help"]
    env = {key: os.environ[key] for key in ("PATH", "HOME") if key in os.environ}
    return subprocess.run(command, capture_output=True, text=True, check=False, env=env)


@pytest.fixture
def checkout(root: Path, tmp_path: Path) -> Path:
    """The one script that needs packages of the lock, without the rest of the project."""
    (tmp_path / "scripts").mkdir()
    for name in ("own_python.py", "make_noise"):
        shutil.copy(root / "scripts" / name, tmp_path / "scripts" / name)
    return tmp_path


def environment(checkout: Path) -> Path:
    """The environment of these tests as the one of `checkout`, without marks of a set-up."""
    venv = checkout / ".venv"
    venv.mkdir()
    for part in Path(sys.prefix).iterdir():
        if not part.name.startswith(".wheelcall-"):
            (venv / part.name).symlink_to(part)
    return venv


def test_the_project_s_own_python_takes_over(checkout: Path) -> None:
    (environment(checkout) / ".wheelcall-run").touch()
    done = started(checkout / "scripts" / "make_noise")
    assert done.returncode == 0, done.stderr
    assert "--seconds" in done.stdout


def test_without_one_it_says_what_makes_it(checkout: Path) -> None:
    done = started(checkout / "scripts" / "make_noise")
    assert done.returncode == 1
    assert "scripts/test makes it" in done.stderr


def test_so_it_does_where_a_set_up_was_broken_off(checkout: Path) -> None:
    environment(checkout)
    done = started(checkout / "scripts" / "make_noise")
    assert done.returncode == 1
    assert "scripts/test makes it" in done.stderr
    assert "Traceback" not in done.stderr
