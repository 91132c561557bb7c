"""scripts/lib.sh: what a fresh machine is told, and that a set-up is done once.

The commands that change a machine (apt-get, sudo, pip) are stood in for by small programs in a
folder of their own, which write down how they were called.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest


@pytest.fixture
def checkout(tmp_path: Path, root: Path) -> Path:
    """The set-up scripts with a small lock."""
    top = tmp_path / "checkout"
    (top / "scripts").mkdir(parents=True)
    for name in ("lib.sh", "run", "test"):
        shutil.copy(root / "scripts" / name, top / "scripts" / name)
    (top / "pyproject.toml").write_text("[project]\nname = 'x'\n", encoding="utf-8")
    (top / "voice_models").mkdir()
    (top / "requirements.lock").write_text(
        "# A comment\n"
        "# for: run\nnumpy==2.0 \\\n    --hash=sha256:11 \\\n    --hash=sha256:12\n"
        "# for: test bench\npytest==9.0 \\\n    --hash=sha256:21\n"
        "# for: run\nsetuptools==80.0 \\\n    --hash=sha256:31\n",
        encoding="utf-8",
    )
    return top


@pytest.fixture
def tools(tmp_path: Path) -> Path:
    """A folder of programs that stands before the machine's own."""
    folder = tmp_path / "tools"
    folder.mkdir()
    return folder


def stand_in(tools: Path, name: str, script: str) -> None:
    program = tools / name
    program.write_text(f"#!/bin/bash\n{script}\n", encoding="utf-8")
    program.chmod(0o755)


def bash(checkout: Path, tools: Path, script: str, **env: str) -> subprocess.CompletedProcess[str]:
    """Run `script` after scripts/lib.sh, with the stand-ins first in the path."""
    return subprocess.run(
        ["bash", "-euo", "pipefail", "-c", f"source scripts/lib.sh\n{script}"],
        cwd=checkout,
        env={**os.environ, "PATH": f"{tools}:{os.environ['PATH']}", **env},
        capture_output=True,
        text=True,
        timeout=120,
    )


@pytest.mark.parametrize(
    ("want", "names"),
    [
        ("run", ["numpy==2.0", "setuptools==80.0"]),
        ("test", ["pytest==9.0"]),
        ("bench", ["pytest==9.0"]),
        ("==setuptools", ["setuptools==80.0"]),
        ("record", []),
    ],
)
def test_a_group_is_picked_from_the_lock(
    checkout: Path, tools: Path, want: str, names: list[str]
) -> None:
    lines = bash(checkout, tools, f"locked {want}").stdout.splitlines()
    assert [line.removesuffix(" \\") for line in lines if "==" in line] == names
    assert not [line for line in lines if line.startswith("#")]


def test_hashes_go_with_their_package(checkout: Path, tools: Path) -> None:
    picked = bash(checkout, tools, "locked run").stdout
    assert picked.count("--hash=sha256:1") == 2
    assert "--hash=sha256:21" not in picked


def test_an_old_python_is_named(checkout: Path, tools: Path) -> None:
    stand_in(tools, "python3", '[[ $1 == --version ]] && echo "Python 3.9.2"; [[ $1 != -c ]]')
    done = bash(checkout, tools, "setup run", WHEELCALL_PYTHON="python3")
    assert done.returncode == 1
    assert "needs Python 3.11, 3.12 or 3.13, and found Python 3.9.2" in done.stderr


def test_a_python_that_can_not_make_environments_is_named(checkout: Path, tools: Path) -> None:
    stand_in(tools, "bare", "[[ $2 != *ensurepip* ]]")
    stand_in(tools, "dpkg-query", "echo installed")
    done = bash(checkout, tools, "setup run", WHEELCALL_PYTHON="bare")
    assert done.returncode == 1
    assert "sudo apt-get install python3-venv" in done.stderr


def test_missing_packages_are_installed_by_root(checkout: Path, tools: Path) -> None:
    calls = checkout / "calls"
    stand_in(tools, "dpkg-query", '[[ ${*: -1} == here ]] && echo installed || echo "unknown"')
    stand_in(tools, "apt-get", f'echo "$*" >>{calls}')
    stand_in(tools, "sudo", f'echo "sudo $*" >>{calls}; while [[ $1 == -* ]]; do shift; done; "$@"')
    done = bash(checkout, tools, "need_debian here gone lost")
    assert done.returncode == 0, done.stderr
    installing = calls.read_text(encoding="utf-8").splitlines()[-1]
    assert installing.endswith("--no-install-recommends gone lost")


@pytest.mark.parametrize(
    ("tool", "line"),
    [
        ("dnf", "Probably (nobody tried it):   sudo dnf install portaudio espeak-ng"),
        ("zypper", "Probably (nobody tried it):   sudo zypper install portaudio espeak-ng"),
        ("pacman", "Probably (nobody tried it):   sudo pacman -S --needed portaudio espeak-ng"),
        ("apk", "musl"),
        ("none", "libportaudio2 libespeak-ng1 python3-venv"),
    ],
)
def test_where_there_is_no_apt_what_to_install_is_said(
    checkout: Path, tools: Path, tool: str, line: str
) -> None:
    """A system of another kind: its own tool, and neither dpkg nor apt in the path."""
    bare = tools / "bare"
    bare.mkdir()
    for name in ("bash", "dirname", "cat"):
        (bare / name).symlink_to(str(shutil.which(name)))
    stand_in(bare, tool, "exit 1")
    packages = "libportaudio2 libespeak-ng1 python3-venv"
    done = bash(checkout, tools, f"PATH={bare}; need_debian {packages}")
    assert done.returncode == 0, done.stderr
    assert "there is no apt-get here" in done.stderr
    assert packages in done.stderr
    assert line in done.stderr
    assert ("Probably" in done.stderr) == line.startswith("Probably")


def test_nothing_is_installed_where_all_is_there(checkout: Path, tools: Path) -> None:
    stand_in(tools, "dpkg-query", "echo installed")
    stand_in(tools, "apt-get", "exit 1")
    done = bash(checkout, tools, "need_debian here there")
    assert (done.returncode, done.stderr) == (0, "")


def test_without_rights_the_line_to_type_is_printed(checkout: Path, tools: Path) -> None:
    stand_in(tools, "dpkg-query", "echo unknown")
    stand_in(tools, "sudo", "exit 1")
    # EUID can't be set: the function is told that this is not root.
    script = 'eval "$(declare -f need_debian | sed "s/EUID != 0/1/")"; need_debian gone; echo on'
    done = bash(checkout, tools, script)
    assert "sudo apt-get install gone" in done.stderr
    assert done.stdout == "on\n"


def test_a_failed_installation_does_not_end_the_set_up(checkout: Path, tools: Path) -> None:
    stand_in(tools, "dpkg-query", "echo unknown")
    stand_in(tools, "apt-get", "exit 100")
    stand_in(tools, "sudo", 'while [[ $1 == -* ]]; do shift; done; "$@"')
    done = bash(checkout, tools, "need_debian gone; echo on")
    assert "apt-get install gone" in done.stderr
    assert done.stdout == "on\n"


def make_environment(checkout: Path, calls: Path) -> None:
    """A virtual environment whose pip writes down what it is told."""
    programs = checkout / ".venv" / "bin"
    programs.mkdir(parents=True)
    stand_in(
        programs,
        "python",
        '[[ "$*" == "-m pip --version" ]] && exit\n'
        f'if [[ $1 == -m ]]; then echo "${{*:2}}" >>{calls}; exit ${{PIP_STATUS:-0}}; fi\n'
        f'exec {sys.executable} "$@"',
    )


def test_a_set_up_is_done_once_and_again_when_the_lock_changes(checkout: Path, tools: Path) -> None:
    stand_in(tools, "dpkg-query", "echo installed")
    calls = checkout / "calls"
    make_environment(checkout, calls)
    assert bash(checkout, tools, "setup run").returncode == 0
    first = calls.read_text(encoding="utf-8").splitlines()
    assert all("--require-hashes" in call for call in first if "--editable" not in call)
    assert [call for call in first if "--editable" in call and "--no-index" in call]

    calls.write_text("", encoding="utf-8")
    assert bash(checkout, tools, "setup run").stderr == ""
    assert calls.read_text(encoding="utf-8") == ""

    lock = checkout / "requirements.lock"
    lock.write_text(lock.read_text(encoding="utf-8").replace("2.0", "2.1"), encoding="utf-8")
    bash(checkout, tools, "setup run")
    assert calls.read_text(encoding="utf-8") != ""


def test_a_failed_installation_is_tried_again(checkout: Path, tools: Path) -> None:
    stand_in(tools, "dpkg-query", "echo installed")
    make_environment(checkout, checkout / "calls")
    done = bash(checkout, tools, "setup run", PIP_STATUS="1")
    assert done.returncode == 1
    assert "needs the network once" in done.stderr
    assert bash(checkout, tools, "setup run").returncode == 0


def test_a_broken_environment_is_made_anew(checkout: Path, tools: Path) -> None:
    stand_in(tools, "dpkg-query", "echo installed")
    calls = checkout / "calls"
    stand_in(tools, "python3", f'[[ $2 == venv ]] && echo "$*" >>{calls}; exit 0')
    (checkout / ".venv" / "bin").mkdir(parents=True)
    stand_in(checkout / ".venv" / "bin", "python", "[[ $3 != --version ]]")
    assert bash(checkout, tools, "setup run", WHEELCALL_PYTHON="python3").returncode == 0
    assert calls.read_text(encoding="utf-8") == f"-m venv --clear {checkout}/.venv\n"


@pytest.mark.parametrize(
    ("script", "says"),
    [
        ("run", "scripts/run JOB"),
        ("test", "scripts/test tests/calc -x"),
        ("record_demo", "scripts/record_demo LIST.toml"),
        ("bench_ear", "scripts/bench_ear --quick"),
    ],
)
def test_help_begins_no_installation(checkout: Path, root: Path, script: str, says: str) -> None:
    shutil.copy(root / "scripts" / script, checkout / "scripts" / script)
    done = subprocess.run(
        [checkout / "scripts" / script, "--help"], capture_output=True, text=True, timeout=60
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert says in done.stdout
    assert "set -euo" not in done.stdout
    assert not (checkout / ".venv").exists()


def test_help_tells_more_where_all_is_set_up(checkout: Path, tools: Path) -> None:
    make_environment(checkout, checkout / "calls")
    stand_in(checkout / ".venv" / "bin", "python", 'echo "got: $*"')
    (checkout / ".venv" / ".wheelcall-test").touch()
    done = subprocess.run(
        [checkout / "scripts" / "test", "--help"], capture_output=True, text=True, timeout=60
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.endswith("got: -m pytest --help\n")


@pytest.mark.parametrize("model", ["am/final.mdl", "final.mdl", None])
def test_run_hands_over_to_the_command(checkout: Path, tools: Path, model: str | None) -> None:
    stand_in(tools, "dpkg-query", "echo installed")
    make_environment(checkout, checkout / "calls")
    stand_in(checkout / ".venv" / "bin", "wheelcall", 'echo "got: $*"; exit 7')
    if model:
        path = checkout / "voice_models" / "shop" / model
        path.parent.mkdir(parents=True)
        path.touch()
    done = subprocess.run(
        [checkout / "scripts" / "run", "a job.toml", "--pace", "fast"],
        env={**os.environ, "PATH": f"{tools}:{os.environ['PATH']}"},
        capture_output=True,
        text=True,
        timeout=120,
    )
    assert (done.returncode, done.stdout) == (7, "got: run a job.toml --pace fast\n")
    line = "Vosk model found: voice_models/shop\n" if model else "no Vosk model in voice_models/"
    assert line in done.stderr
