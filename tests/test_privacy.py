"""Not a byte that leaves the machine: the real program works a whole job, and what it and its
child processes wrote and which sockets they opened is looked at from outside."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

import pytest

from assistant.devices.viewers import Where
from tests.devices.viewing import Phone, free_port

ROOT = Path(__file__).resolve().parents[1]
SETTING = "ORT_DISABLE_TELEMETRY"

NAMED = {
    "the log": r"\.local/state/wheelcall/wheelcall\.log(\.\d)?",
    "the journal": r"\.local/share/wheelcall/journal\.sqlite(-\w+|\.lock)?",
    "its sentences, where there is no card": r"out/spoken/\d{4}-[a-z0-9-]+\.wav",
    "its screens, where there is no display": r"out/screens/[\w-]+\.png",
    "what was added up of the models' files": r"\.cache/wheelcall/checked-files\.json",
    "answers of a new job or machine": r"\.local/share/wheelcall/new-(job|machine)\.json",
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


CALLS = "trace=execve,socket,connect,sendto"
AT_REST = {
    "free": ("free leat-vertical --typed", "zero the table\ntwo inches left\nI'm there\nhelp\n"),
    "new": ("new --typed", "keyseat\nhelp\nback\n"),
    "new machine": ("new machine --typed", "lathe\nhelp\n"),
}
"""Commands beside a job, and what is typed at each: the end of the lines ends them."""


def work(home: Path, record: Path, command: str, typed: str = "", *, ends: set[int]) -> Worked:
    """Do one command of the real program in a home that has nothing in it, watched where that can
    be done. `ends` are the statuses that it may end with."""
    (home / "tmp").mkdir()
    strace = shutil.which("strace")
    watched = (
        [strace, "-f", "-o", str(record), "-e", CALLS, "-qq"]
        if strace is not None and can_trace(strace)
        else []
    )
    done = subprocess.run(
        [*watched, sys.executable, "-m", "assistant", *command.split(), "--out", str(home / "out")],
        cwd=home, capture_output=True, text=True, timeout=400, check=False, input=typed,
        env=bare(home) | {"PYTHONPATH": str(ROOT)},
    )  # fmt: skip
    assert done.returncode in ends, done.stdout[-2000:] + done.stderr[-2000:]
    return Worked(home, done.stdout, record.read_text(encoding="utf-8") if watched else "")


@pytest.fixture(scope="module")
def worked(tmp_path_factory: pytest.TempPathFactory) -> Worked:
    home, record = tmp_path_factory.mktemp("home"), tmp_path_factory.mktemp("record") / "calls"
    return work(home, record, "run keyseat-metric --demo --pace fast", ends={0})


def test_it_was_the_whole_program(worked: Worked) -> None:
    assert "finished:" in worked.printed.splitlines()[-1]
    assert "second ear" in worked.printed
    assert any(name.startswith("out/spoken/") for name in worked.files)


def not_named(worked: Worked) -> list[str]:
    patterns = [re.compile(pattern) for pattern in NAMED.values()]
    return [name for name in worked.files if not any(p.fullmatch(name) for p in patterns)]


def families_asked_for(worked: Worked) -> set[str]:
    """Kinds of sockets. Native libraries included, of which Python knows nothing."""
    if not worked.calls:
        pytest.skip("nothing here can watch a process (Debian: strace)")
    return set(re.findall(r"\bsocket\((AF_\w+)", worked.calls))


def test_it_leaves_no_file_that_is_not_named(worked: Worked) -> None:
    assert not_named(worked) == []


def test_no_socket_but_to_this_machine_itself(worked: Worked) -> None:
    asked = families_asked_for(worked)
    started = re.findall(r'execve\("[^"]*python[^"]*"', worked.calls)
    assert len(started) >= 3, "program, voice and second ear at least"
    assert asked == {"AF_UNIX"}, "the sound library looks for its server: else nothing was watched"


@pytest.mark.parametrize("name", AT_REST)
def test_beside_a_job_it_is_the_same(tmp_path: Path, name: str) -> None:
    """Free moves, and the questions that begin a job or tell a machine."""
    command, typed = AT_REST[name]
    home = tmp_path / "home"
    home.mkdir()
    done = work(home, tmp_path / "calls", command, typed, ends={0, 1})
    assert f"heard       {typed.splitlines()[0]}" in done.printed
    assert not_named(done) == []
    assert families_asked_for(done) <= {"AF_UNIX"}


@pytest.fixture(scope="module")
def shown(tmp_path_factory: pytest.TempPathFactory) -> tuple[str, Where, str]:
    """The beginning of a job with `--show`, looked at by a device that was given the code: what it
    was sent, where, and every call that has to do with a network ('' where nothing can tell)."""
    home, record = tmp_path_factory.mktemp("home"), tmp_path_factory.mktemp("record") / "calls"
    (home / "tmp").mkdir()
    strace = shutil.which("strace")
    calls = "trace=socket,connect,bind,listen,sendto,sendmsg"
    watched = (
        [strace, "-f", "-o", str(record), "-e", calls, "-qq"]
        if strace is not None and can_trace(strace)
        else []
    )
    where = Where("127.0.0.1", free_port())
    with subprocess.Popen(
        [*watched, sys.executable, "-m", "assistant", "run", "keyseat-metric", "--typed",
         "--show", "--show-at", where.host, "--out", str(home / "out")],
        cwd=home, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
        env=bare(home) | {"PYTHONPATH": str(ROOT), "PYTHONUNBUFFERED": "1"},
    ) as program:  # fmt: skip
        assert program.stdout is not None
        assert program.stdin is not None
        found = None
        for line in program.stdout:
            found = re.search(r"with the code (\S+)\.$", line)
            if found is not None:
                break
        assert found is not None
        phone = Phone(where)
        assert phone.enter(found[1]).status == 204
        text = next(told["text"] for name, told in phone.events() if name == "page")
        phone.leave()
        program.stdin.close()
        printed = program.stdout.read()
        assert "A second screen is let in (127.0.0.1)." in printed
        assert program.wait(60) == 1, printed  # the job wasn't finished
    return text, where, record.read_text(encoding="utf-8") if watched else ""


def test_shown_it_is_the_page_that_leaves(shown: tuple[str, Where, str]) -> None:
    assert shown[0].startswith("Check")
    assert "keyseat" in shown[0]


def test_shown_there_is_one_socket_that_listens_and_none_that_goes_out(
    shown: tuple[str, Where, str],
) -> None:
    _, where, calls = shown
    if not calls:
        pytest.skip("nothing here can watch a process (Debian: strace)")
    asked = Counter(re.findall(r"\bsocket\((AF_\w+)", calls))
    assert asked["AF_INET"] == 1
    assert set(asked) <= {"AF_UNIX", "AF_NETLINK", "AF_INET"}  # its own addresses: the kernel's
    bound = re.findall(r"\bbind\(\d+, \{sa_family=(AF_INET\w*), (.*?)\}", calls)
    address = f'sin_port=htons({where.port}), sin_addr=inet_addr("{where.address}")'
    assert bound == [("AF_INET", address)]
    assert len(set(re.findall(r"\blisten\((\d+)", calls))) == 1
    for call in ("connect", "sendto", "sendmsg"):
        assert not re.findall(rf"\b{call}\(.*AF_INET", calls)


def test_what_is_named_stands_on_the_help_page() -> None:
    page = (ROOT / "assistant" / "help" / "privacy.md").read_text(encoding="utf-8")
    for what in (
        "journal", ".local/state/wheelcall", "--out", ".config/pulse", "onnxruntime", SETTING,
        "PULSE_SERVER", "--show", "unencrypted", "AF_NETLINK",
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
