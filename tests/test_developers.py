"""DEVELOPERS.md, followed literally: an operation is added as it says, to a copy of the program."""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
COPIED = ("assistant", "configs", "tests", "pyproject.toml", "README.md", "DEVELOPERS.md")
SECTION = "## How to add an operation"


def section() -> str:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    return text.partition(f"{SECTION}\n")[2].partition("\n## ")[0]


def commands() -> list[list[str]]:
    """The lines of its block of commands, each as a shell has it."""
    (block,) = re.findall(r"```sh\n(.*?)```", section(), re.DOTALL)
    return [shlex.split(line) for line in block.splitlines()]


def test_an_operation_is_added_as_it_says(tmp_path):
    home = tmp_path / "copy"
    home.mkdir()
    for name in COPIED:
        source = ROOT / name
        if source.is_dir():
            shutil.copytree(source, home / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy(source, home / name)
    (home / "voice_models").symlink_to(ROOT / "voice_models")
    environment = {**os.environ, "PYTHONPATH": str(home)}
    for command in commands():
        if command[0] in ("python", "scripts/test"):
            wanted = command[1:] if command[0] == "python" else ["-m", "pytest", *command[1:]]
            command = [sys.executable, *wanted]
            # it is this copy that is tried, wherever the program is installed
        done = subprocess.run(
            command, cwd=home, env=environment, capture_output=True, text=True, check=False
        )
        assert done.returncode == 0, f"{shlex.join(command)}\n{done.stdout}\n{done.stderr}"
    assert "saw cuts" in (home / "README.md").read_text(encoding="utf-8")
    page = (home / "assistant" / "help" / "operations.md").read_text(encoding="utf-8")
    assert "## saw-cuts" in page
    assert "`piece.length`" in page
    assert (home / "tests" / "reference" / "plain" / "pond-rail.txt").is_file()


def test_what_it_names_is_there():
    """Every module that the section names, seen from the top or from `assistant/`."""
    found = re.findall(r"`((?:tests|assistant|configs|jobs|present|calc)/[\w./]+)`", section())
    assert found
    assert [
        one for one in found if not ((ROOT / one).exists() or (ROOT / "assistant" / one).exists())
    ] == []
