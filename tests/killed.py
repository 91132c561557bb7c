"""A program that is killed, and the child that it had."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import psutil


def child_of_killed(program: str, folder: Path) -> psutil.Process:
    """The child whose number the text of `program` prints, once that program is killed."""
    script = folder / "program.py"
    script.write_text(program, encoding="utf-8")
    with subprocess.Popen(
        [sys.executable, str(script)], stdout=subprocess.PIPE, text=True,
        env=dict(os.environ, PYTHONPATH=str(Path(__file__).parents[1])),
    ) as parent:  # fmt: skip
        assert parent.stdout is not None
        child = psutil.Process(int(parent.stdout.readline()))
        parent.kill()
    return child
