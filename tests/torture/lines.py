"""Command lines of nonsense: no traceback, and each refusal says what is wrong."""

from __future__ import annotations

import contextlib
import io
import random
import sys
import traceback
import unittest.mock
from collections.abc import Callable
from pathlib import Path

from assistant.app.cli import main
from tests.torture.files import ODD, Spoilt

COMMANDS = ("plan", "say", "calc", "help", "jobs", "phrases", "report", "watch", "hear", "screens")
"""Those that end by themselves and open no card."""
WORDS = (
    "keyseat-inch", "nosuch", "", "..", "/", "--json", "--list", "--check", "--out", "-x", "--",
    "shaft=1in", "shaft=", "=1", "width=nan", "depth=-3in", "diameter=1e999mm", "spindle_speed",
    "touched", "checked", "measured", "nine hundred", "\u2603", "\x00", "a" * 3000, "--once",
    "--pdf", "--size", "0x0", "1x1", "99999999x9", "--paper", "letter", "--theme", "dark",
)  # fmt: skip


def try_lines(
    count: int, folder: Path, seed: int = 1, until: Callable[[], bool] = lambda: False
) -> Spoilt:
    """Run `count` random command lines in this process; what they write goes to `folder`."""
    rng = random.Random(seed)
    result = Spoilt()
    for number in range(count):
        if until():
            break
        line = [rng.choice(COMMANDS), *rng.choices([*WORDS, *ODD], k=rng.randint(0, 4))]
        if line[0] in ("jobs", "report", "watch"):
            line += ["--journal", str(folder / f"{number % 3}.sqlite")]
        result.tried += 1
        _run(line, folder, result)
    return result


def _run(line: list[str], folder: Path, result: Spoilt) -> None:
    said = io.StringIO()
    with (
        contextlib.chdir(folder),
        contextlib.redirect_stdout(said),
        contextlib.redirect_stderr(said),
        unittest.mock.patch.object(sys, "argv", ["wheelcall", *line]),
    ):
        try:
            main()
            status = 0
        except SystemExit as ended:
            status = ended.code if isinstance(ended.code, int) else 2
        except BaseException as error:
            if isinstance(error, KeyboardInterrupt):
                raise
            where = traceback.extract_tb(error.__traceback__)[-1]
            result.escaped.append(
                f"{line!r}: {type(error).__name__}: {error} ({where.filename}:{where.lineno})"
            )
            return
    if status == 0:
        result.taken += 1
        return
    result.refused += 1
    if "Traceback" in said.getvalue() or not said.getvalue().strip():
        result.escaped.append(f"{line!r}: status {status}: {said.getvalue()[-200:]!r}")
