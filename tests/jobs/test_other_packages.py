"""An operation that another package brings: installed, and worked; a broken one is named."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
EXAMPLE = ROOT / "tests" / "example"
JOB = str(EXAMPLE / "pond-rail.toml")


@pytest.fixture(scope="module")
def installed(tmp_path_factory) -> Path:
    """A folder with the example package as pip installs it, from nothing but its source."""
    pytest.importorskip("pip")
    folder = tmp_path_factory.mktemp("brought")
    source = folder / "source"
    shutil.copytree(EXAMPLE, source)
    subprocess.run(
        [sys.executable, "-m", "pip", "install", "--quiet", "--no-index", "--no-deps",
         "--no-build-isolation", "--disable-pip-version-check", "--target", str(folder / "lib"),
         str(source)],
        check=True,
    )  # fmt: skip
    return folder / "lib"


def python(lib: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    paths = os.pathsep.join((str(ROOT), str(lib)))
    return subprocess.run(
        [sys.executable, *arguments], capture_output=True, text=True, check=False, cwd=ROOT,
        env={**os.environ, "PYTHONPATH": paths},
    )  # fmt: skip


def wheelcall(lib: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    return python(lib, "-m", "assistant", *arguments)


def broken(folder: Path, module: str, point: str = "saw-cuts = lost:OPERATION") -> Path:
    """A package as it lies when it is installed, with that for its module."""
    info = folder / "lost_package-2.0.dist-info"
    info.mkdir()
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: lost-package\nVersion: 2.0\n")
    (info / "entry_points.txt").write_text(f"[wheelcall.operations]\n{point}\n")
    (folder / "lost.py").write_text(module)
    return folder


def test_it_is_planned_and_worked(installed: Path):
    sheet = wheelcall(installed, "plan", JOB)
    assert sheet.returncode == 0, sheet.stderr
    assert "bar needed: 18.180 in" in sheet.stdout  # three pieces of 6, three cuts of 0.060
    said = ("checked", "checked", "checked", "I'm set", "I'm set", "I'm set")
    worked = wheelcall(installed, "say", JOB, *said)
    assert worked.returncode == 0, worked.stdout + worked.stderr
    assert "Piece 3: mark it" in worked.stdout


def test_a_value_that_cant_be_is_named_as_in_the_programs_own(installed: Path, tmp_path: Path):
    wrong = tmp_path / "rail.toml"
    wrong.write_text(Path(JOB).read_text().replace("count = 3", "cuont = 3"))
    told = wheelcall(installed, "plan", str(wrong))
    assert told.returncode == 2
    assert "did you mean" in told.stderr
    assert told.stderr.count("\n") == 1


def test_it_is_asked_drawn_and_in_the_help(installed: Path):
    code = """
from assistant.present.drawings import drawable
from tests.filling.talking import begun, say
assert say(begun(), "saw cuts").work == "saw-cuts"
assert drawable("sawn bar", (("length", 6.0), ("kerf", 0.06)))
"""
    done = python(installed, "-c", code)
    assert done.returncode == 0, done.stderr
    page = wheelcall(installed, "help", "operations")
    assert "## saw-cuts" in page.stdout
    assert "wheelcall-saw-cuts 0.1" in page.stdout


PROMISE = """
from assistant.jobs.operation import Operation
OPERATION = Operation(name={name!r}, called={called!r}, in_short="x", summary="X.",
                      machines=("lathe",), main="x", package={package!r})
"""
BROKEN = {
    "it raises": ("raise RuntimeError('no licence for the moon')", "no licence for the moon"),
    "it is not there": ("", "OPERATION"),
    "it is something else": ("OPERATION = 7", "is no Operation"),
    "it calls itself otherwise": (
        PROMISE.format(name="other", called="Other", package="lost"), "calls itself other"),
    "it is called as another": (
        PROMISE.format(name="saw-cuts", called="Keyseat", package="lost"), "called Keyseat"),
    "it has no form": (
        PROMISE.format(name="saw-cuts", called="Saw cuts", package="lost"), "ModuleNotFoundError"),
}  # fmt: skip


@pytest.mark.parametrize("how", BROKEN)
def test_a_broken_one_is_named_and_all_else_goes_on(how: str, tmp_path: Path):
    module, why = BROKEN[how]
    lib = broken(tmp_path, module)
    asked = wheelcall(lib, "plan", JOB)
    assert asked.returncode == 2
    assert "lost-package 2.0" in asked.stderr
    assert why in asked.stderr
    assert "Traceback" not in asked.stderr
    page = wheelcall(lib, "help", "operations")
    assert page.returncode == 0
    assert "lost-package 2.0" in page.stdout


def test_one_cant_take_the_place_of_the_programs_own(tmp_path: Path):
    lib = broken(tmp_path, "raise SystemError", "keyseat = lost:OPERATION")
    assert wheelcall(lib, "plan", "keyseat-inch").returncode == 0
    assert "one of that name already" in wheelcall(lib, "help", "operations").stdout


@pytest.mark.parametrize(
    ("where", "line"),
    [("work.py", "    piece, saw ="), ("work.py", "    if job.kerf"), ("drawing.py", "    high =")],
    ids=["reading", "planning", "drawing"],
)
def test_one_that_fails_at_work_is_answered_for(
    installed: Path, tmp_path: Path, where: str, line: str
):
    lib = tmp_path / "lib"
    shutil.copytree(installed, lib)
    module = lib / "saw_cuts" / where
    assert line in module.read_text()
    module.write_text(module.read_text().replace(line, f"    1 / 0\n{line}"))
    told = wheelcall(lib, "plan", JOB)
    assert told.returncode == 2
    assert "wheelcall-saw-cuts 0.1" in told.stderr
    assert "ZeroDivisionError" in told.stderr
    assert "Traceback" not in told.stderr
