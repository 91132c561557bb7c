"""Trying a wheel where there is nothing else: a new environment, an empty home, no clone."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

QUICK = (
    "tests/calc",
    "tests/jobs/test_keyseat.py",
    "tests/phrases/test_book.py",
    "tests/phrases/test_check_values.py",
    "tests/session/test_cases.py",
    "tests/app/test_copying.py",
    "tests/test_machine.py",
)
"""Tests that read no file of the clone but their own."""

Tell = Callable[[str], None]


@dataclass(frozen=True)
class Try:
    """A command of the installed program, the status it ends with, and what it has to say."""

    words: tuple[str, ...]
    says: str
    status: int = 0


TRIES = (
    Try(("--version",), "wheelcall {version}"),
    Try(("help", "changes"), "## {version}"),
    Try(("help", "licences"), "wheelcall-en-small"),
    Try(("phrases", "--pdf", "card.pdf"), "pages"),
    Try(("jobs", "--copy", "keyseat-inch"), "my-keyseat-inch.toml: written"),
    Try(("jobs", "--copy", "keyseat-inch"), "is there already", 2),
    Try(("plan", "my-keyseat-inch"), "Saddle in"),
    Try(("calc", "side-to-centre", "shaft=1-1/2in", "cutter=3/8in", "paper=0.003in"), "0.9405"),
    Try(("run", "keyseat-inch", "--demo", "--pace", "fast"), "\nfinished: "),
    Try(("jobs",), "finished"),
)
"""In this order, in one home. The demo is a whole job, worked by its recordings through both
ears: it needs every model, every font and every recording."""


def try_wheel(wheel: Path, root: Path, folder: Path, tell: Tell) -> list[str]:
    """Install `wheel` as anybody would in the empty `folder`, work with it, and run the quick tests
    of the copy of the clone at `root` on it. A line for each thing that failed."""
    programs = folder / "environment" / ("Scripts" if sys.platform == "win32" else "bin")
    subprocess.run([sys.executable, "-m", "venv", programs.parent], check=True)
    (folder / "home").mkdir()
    python = str(programs / "python")
    if not _install(python, [str(wheel)], folder, tell):
        return ["the wheel could not be installed"]
    version = wheel.name.split("-")[1]
    failed = [line for one in TRIES if (line := tried(one, version, programs, folder, tell))]
    return [*failed, *_test(python, root, folder, tell)]


def tried(one: Try, version: str, programs: Path, folder: Path, tell: Tell) -> str:
    """What is wrong with what came of it; '' where nothing is."""
    begun = time.monotonic()
    done = _run([str(programs / "wheelcall"), *one.words], folder / "home", bare(folder / "home"))
    says = one.says.format(version=version)
    said = done.stdout + done.stderr
    tell(f"  wheelcall {' '.join(one.words)}: {done.returncode}, {time.monotonic() - begun:.1f} s")
    if done.returncode == one.status and says in said:
        return ""
    return (
        f"wheelcall {' '.join(one.words)} ended with {done.returncode}, wanted {one.status} and "
        f"{says.strip()!r} in:\n{said[-1500:]}"
    )


def _test(python: str, root: Path, folder: Path, tell: Tell) -> list[str]:
    """The quick tests, copied to where no package of ours lies beside them."""
    (folder / "test.lock").write_text(locked(root, "test"), encoding="utf-8")
    if not _install(python, ["--no-deps", "--require-hashes", "-r", "test.lock"], folder, tell):
        return ["what the tests need could not be installed"]
    shutil.copytree(root / "tests", folder / "home" / "tests")
    pytest = [python, "-m", "pytest", "-q", "-p", "no:cacheprovider"]
    done = _run([*pytest, *QUICK], folder / "home", bare(folder / "home"))
    tell(f"  the quick tests: {(done.stdout.strip().splitlines() or ['nothing'])[-1]}")
    return [f"the quick tests failed:\n{done.stdout[-3000:]}"] if done.returncode else []


def locked(root: Path, group: str) -> str:
    """The entries of requirements.lock for a group, as scripts/lib.sh picks them."""
    library = str(root / "scripts" / "lib.sh")
    command = ["bash", "-euo", "pipefail", "-c", 'source "$0"; locked "$1"', library, group]
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout


def _install(python: str, words: list[str], folder: Path, tell: Tell) -> bool:
    begun = time.monotonic()
    pip = [python, "-m", "pip", "--disable-pip-version-check", "install", "--quiet"]
    # where packages come from is pip's own configuration, so that its environment stays
    env = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
    done = _run([*pip, *words], folder, env)
    tell(f"  pip install {Path(words[-1]).name}: {time.monotonic() - begun:.0f} s")
    if done.returncode:
        tell(done.stderr[-2000:])
    return done.returncode == 0


def bare(home: Path) -> dict[str, str]:
    """An environment with `home` for all that is written, and no display."""
    kept: Mapping[str, str] = {
        name: value for name, value in os.environ.items() if name in ("SYSTEMROOT", "TMPDIR")
    }
    return {**kept, "HOME": str(home), "PATH": os.defpath, "LANG": "C.UTF-8"}


def _run(
    command: Sequence[str], folder: Path, env: Mapping[str, str]
) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        command, cwd=folder, env=env, stdin=subprocess.DEVNULL, capture_output=True, text=True,
        timeout=900,
    )  # fmt: skip
