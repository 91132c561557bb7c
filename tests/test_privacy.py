"""Not a byte that leaves the machine: the real program works a whole job, and what it and its
child processes wrote and which sockets they opened is looked at from outside."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
SETTING = "ORT_DISABLE_TELEMETRY"

NAMED = {
    "the log": r"\.local/state/wheelcall/wheelcall\.log(\.\d)?",
    "the journal": r"\.local/share/wheelcall/journal\.sqlite(-\w+|\.lock)?",
    "its sentences, where there is no card": r"out/spoken/\d{4}-[a-z0-9-]+\.wav",
    "its screens, where there is no display": r"out/screens/[\w-]+\.png",
    "what was added up of the models' files": r"\.cache/wheelcall/checked-files\.json",
    "the sound library's own link": r"\.config/pulse/[0-9a-f]+-runtime",
}
"""What the program may leave behind, as `wheelcall help privacy` says it."""


@dataclass(frozen=True)
class Worked:
    """A whole job, done by the real program in a home that had nothing in it."""

    home: Path
    printed: str
    calls: str
    """Every program started and every socket asked for; '' where nothing can tell."""

    @property
    def files(self) -> list[str]:
        """What lies in the home now, links included."""
        return sorted(
            str(path.relative_to(self.home))
            for path in self.home.rglob("*")
            if path.is_symlink() or not path.is_dir()
        )


def bare(home: Path) -> dict[str, str]:
    """The environment, with `home` for everything that may be written."""
    names = {
        name: value
        for name, value in os.environ.items()
        if not name.startswith(("PULSE", "XDG_", "WHEELCALL_")) and name not in (SETTING, "CI")
    }
    return names | {"HOME": str(home), "TMPDIR": str(home / "tmp"), "SDL_VIDEODRIVER": "dummy"}


def can_trace(strace: str | None) -> bool:
    """Whether this machine lets a process be watched."""
    if strace is None:
        return False
    return not subprocess.run([strace, "true"], capture_output=True, check=False).returncode


@pytest.fixture(scope="module")
def worked(tmp_path_factory: pytest.TempPathFactory) -> Worked:
    home = tmp_path_factory.mktemp("home")
    record = tmp_path_factory.mktemp("record") / "calls"
    (home / "tmp").mkdir()
    strace = shutil.which("strace")
    watched = (
        [strace, "-f", "-o", str(record), "-e", "trace=execve,socket,connect,sendto", "-qq"]
        if strace is not None and can_trace(strace)
        else []
    )
    done = subprocess.run(
        [*watched, sys.executable, "-m", "assistant", "run", "keyseat-metric", "--demo",
         "--pace", "fast", "--out", str(home / "out")],
        cwd=home, capture_output=True, text=True, timeout=400, check=False,
        env=bare(home) | {"PYTHONPATH": str(ROOT)},
    )  # fmt: skip
    assert done.returncode == 0, done.stdout[-2000:] + done.stderr[-2000:]
    return Worked(home, done.stdout, record.read_text(encoding="utf-8") if watched else "")


def test_it_was_the_whole_program(worked: Worked) -> None:
    assert "finished:" in worked.printed.splitlines()[-1]
    assert "second ear" in worked.printed
    assert any(name.startswith("out/spoken/") for name in worked.files)


def test_it_leaves_no_file_that_is_not_named(worked: Worked) -> None:
    patterns = [re.compile(pattern) for pattern in NAMED.values()]
    assert [name for name in worked.files if not any(p.fullmatch(name) for p in patterns)] == []


def test_no_socket_but_to_this_machine_itself(worked: Worked) -> None:
    """Native libraries included, of which Python knows nothing."""
    if not worked.calls:
        pytest.skip("nothing here can watch a process (Debian: strace)")
    started = re.findall(r'execve\("[^"]*python[^"]*"', worked.calls)
    assert len(started) >= 3, "program, voice and second ear at least"
    asked = re.findall(r"\bsocket\((AF_\w+)", worked.calls)
    assert asked, "the sound library looks for its server: else nothing was watched"
    assert set(asked) == {"AF_UNIX"}


def test_what_is_named_stands_on_the_help_page() -> None:
    page = (ROOT / "assistant" / "help" / "privacy.md").read_text(encoding="utf-8")
    for what in (
        "journal", ".local/state/wheelcall", "--out", ".config/pulse", "onnxruntime", SETTING,
        "PULSE_SERVER",
    ):  # fmt: skip
        assert what in page, what


@pytest.mark.parametrize(
    "package", ["assistant", "recording", "vosk_model", "earbench", "voicebench"]
)
def test_every_process_begins_without_reports(package: str, tmp_path: Path) -> None:
    """A process begins with one of these packages, whatever module of it is run."""
    (tmp_path / "tmp").mkdir()
    code = f"import {package}; import onnxruntime"
    path = os.pathsep.join([str(ROOT), str(ROOT / "scripts")])
    subprocess.run(
        [sys.executable, "-c", code], check=True, env=bare(tmp_path) | {"PYTHONPATH": path}
    )
    assert [path for path in tmp_path.rglob("*") if path.is_file()] == []


def test_the_library_would_report_without(tmp_path: Path) -> None:
    """Or the tests above hold nothing. A release that has stopped it makes this one fail: then
    the setting, and these tests, can go."""
    (tmp_path / "tmp").mkdir()
    code = "import onnxruntime"
    subprocess.run([sys.executable, "-c", code], check=True, env=bare(tmp_path))
    assert [path.name for path in tmp_path.rglob("*.db")] == ["onnxruntime.db"]


def scripts_that_start() -> list[Path]:
    """Commands in scripts/ that are Python and so begin a process of their own."""
    found = (path for path in (ROOT / "scripts").iterdir() if path.is_file() and not path.suffix)
    return [
        path for path in found if path.read_text(encoding="utf-8").startswith("#!/usr/bin/env p")
    ]


def imports_of(script: Path) -> list[str]:
    """What a script imports at its top, in order; of a module beside it what that imports."""
    lines = script.read_text(encoding="utf-8").splitlines()
    found = [line.split()[1].split(".")[0] for line in lines if re.match(r"(from|import) ", line)]
    names = []
    for name in found:
        beside = ROOT / "scripts" / f"{name}.py"
        own = name != "own_python" and beside.is_file()
        names += imports_of(beside) if own else [name]
    return [name for name in names if name != "__future__"]


@pytest.mark.parametrize("script", scripts_that_start(), ids=lambda path: path.name)
def test_a_script_begins_without_reports(script: Path) -> None:
    """`own_python` comes first in it, and sets it; the others import nothing but Python's own."""
    imports = imports_of(script)
    assert imports[0] == "own_python" or set(imports) <= sys.stdlib_module_names


def test_own_python_and_the_shell_set_it() -> None:
    for name in ("own_python.py", "lib.sh"):
        assert SETTING in (ROOT / "scripts" / name).read_text(encoding="utf-8")
