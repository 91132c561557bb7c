"""Security and privacy: no network, no stored sound, no way out of a folder, nothing executed
that was read, every licence listed."""

from __future__ import annotations

import ast
import importlib.metadata
import os
import re
import shutil
import socket
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from assistant.app.cli.paper import sheet_of
from assistant.app.cli.sheet import planned
from assistant.app.paths import configs_folder
from assistant.devices.moonshine import MoonshineEar
from assistant.devices.screen import PngScreen
from assistant.devices.speaker import find_speaker
from assistant.errors import BadInput
from assistant.session.reduce import replay
from tests.app.spoken_job import work
from tests.factories import Job

ROOT = Path(__file__).resolve().parents[1]
SOURCES = sorted((ROOT / "assistant").rglob("*.py"))
SOUND_FILES = {".wav", ".flac", ".mp3", ".ogg", ".raw", ".pcm"}


class ForbiddenError(AssertionError):
    """Something wanted the internet."""


@pytest.fixture
def no_internet(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[str]]:
    """No socket but the machine's own (AF_UNIX: the sound server), no look-up of a name."""
    wanted: list[str] = []
    make = socket.socket.__init__

    def refuse(what: str) -> None:
        wanted.append(what)
        raise ForbiddenError(what)

    def guarded(self: socket.socket, family: int = -1, *rest: object, **named: object) -> None:
        if family != socket.AF_UNIX:
            refuse(f"a socket of family {family}")
        make(self, family, *rest, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(socket.socket, "__init__", guarded)
    for name in ("getaddrinfo", "gethostbyname", "create_connection"):
        monkeypatch.setattr(socket, name, lambda *what, name=name, **_: refuse(f"{name} {what}"))
    yield wanted
    assert wanted == []


def test_the_guard_itself_refuses(no_internet: list[str]) -> None:
    with pytest.raises(ForbiddenError):
        socket.socket(socket.AF_INET)
    with pytest.raises(ForbiddenError):
        socket.create_connection(("localhost", 9))
    socket.socket(socket.AF_UNIX).close()
    no_internet.clear()


def test_a_whole_job_by_sound_needs_no_network_and_keeps_no_sound(
    no_internet: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    ear = MoonshineEar()
    worked = work("keyseat-metric", ear, tmp_path / "journal.sqlite")
    ear.close()
    assert worked.finished
    # the journal has words and numbers; what the ear heard as sound is nowhere
    assert [path for path in tmp_path.rglob("*") if path.suffix in SOUND_FILES] == []
    assert (tmp_path / "journal.sqlite").stat().st_size < 2_000_000


def test_a_whole_job_in_a_network_of_nothing(tmp_path: Path) -> None:
    """The real program with its child processes, where no network exists at all."""
    apart = ["unshare", "--map-root-user", "--net"]
    if shutil.which("unshare") is None:
        pytest.skip("unshare is not installed (Debian: util-linux)")
    if subprocess.run([*apart, "true"], capture_output=True, check=False).returncode:
        pytest.skip("this machine lets nobody make a network namespace")
    names = {name: value for name, value in os.environ.items() if not name.startswith("PULSE")}
    done = subprocess.run(
        [*apart, sys.executable, "-m", "assistant", "run", "keyseat-metric", "--demo",
         "--pace", "fast", "--journal", str(tmp_path / "journal.sqlite"),
         "--out", str(tmp_path / "out")],
        cwd=ROOT, capture_output=True, text=True, timeout=400, check=False,
        env=names | {"SDL_VIDEODRIVER": "dummy", "XDG_RUNTIME_DIR": str(tmp_path)},
    )  # fmt: skip
    assert done.returncode == 0, done.stdout[-2000:] + done.stderr[-2000:]
    assert "finished:" in done.stdout.splitlines()[-1]


def calls(tree: ast.AST) -> Iterator[ast.Call]:
    return (node for node in ast.walk(tree) if isinstance(node, ast.Call))


def name_of(call: ast.Call) -> str:
    return ast.unparse(call.func)


IMPORTS = {"pickle", "cPickle", "dill", "marshal", "shelve", "socket", "http", "ftplib", "smtplib",
           "telnetlib", "xmlrpc", "requests", "urllib", "urllib3", "aiohttp", "httpx", "asyncio",
           "ssl", "socketserver", "webbrowser", "starlette", "uvicorn"}  # fmt: skip
SERVING = {"asyncio", "socket", "starlette", "uvicorn"}
"""For the one package that serves, where that is asked for (`--show`): tests/test_privacy.py holds
what sockets it has."""
CALLS = {"eval", "exec", "compile", "__import__", "os.system", "os.popen", "pickle.loads",
         "subprocess.getoutput", "subprocess.getstatusoutput", "yaml.load"}  # fmt: skip


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: str(path.relative_to(ROOT)))
def test_nothing_is_executed_that_was_read(path: Path) -> None:
    """The one exception is not ours to name: `multiprocessing` pickles our own messages between
    our own two processes, over a pipe that nobody else has an end of."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    imported = {
        name.split(".")[0]
        for node in ast.walk(tree)
        for name in (
            [alias.name for alias in node.names] if isinstance(node, ast.Import)
            else [node.module or ""] if isinstance(node, ast.ImportFrom) and not node.level
            else []
        )
    }  # fmt: skip
    allowed = SERVING if path.parent == ROOT / "assistant" / "devices" / "viewers" else set()
    assert not imported & IMPORTS - allowed
    for call in calls(tree):
        assert name_of(call) not in CALLS, f"line {call.lineno}"
        shell = [one for one in call.keywords if one.arg == "shell"]
        assert not shell, f"line {call.lineno}"


def test_a_job_cannot_reach_files_outside_its_folders(tmp_path: Path) -> None:
    text = (configs_folder() / "jobs" / "keyseat-inch.toml").read_text(encoding="utf-8")
    line = next(line for line in text.splitlines() if line.startswith("machine"))
    # a machine that would do, so that only the name keeps the job from it
    secret = tmp_path / "secret.toml"
    good = re.findall(r'"(.*)"', line)[0]
    shutil.copy(configs_folder() / "machines" / f"{good}.toml", secret)
    (tmp_path / "jobs" / "a").mkdir(parents=True)
    shutil.copy(secret, tmp_path / "jobs" / "a" / "b.toml")
    shutil.copy(secret, tmp_path / "jobs" / ".x.toml")
    job = tmp_path / "jobs" / "job.toml"
    for name in ("../secret", str(secret.with_suffix("")), "..", ".", "a/b", "a\\\\..\\\\b", ".x"):
        job.write_text(text.replace(line, f'machine = "{name}"'), encoding="utf-8")
        with pytest.raises(BadInput, match="machine"):
            planned(str(job))
    shutil.copy(secret, tmp_path / "jobs" / "near.toml")
    job.write_text(text.replace(line, 'machine = "near"'), encoding="utf-8")
    planned(str(job))


def test_what_a_job_calls_itself_names_no_file(tmp_path: Path) -> None:
    """A title with folders in it: pictures, sentences and the sheet stay where they were asked."""
    text = (configs_folder() / "jobs" / "keyseat-inch.toml").read_text(encoding="utf-8")
    line = next(line for line in text.splitlines() if line.startswith("title"))
    job = tmp_path / "jobs" / "job.toml"
    job.parent.mkdir()
    job.write_text(text.replace(line, 'title = "../../../escaped/../title"'), encoding="utf-8")
    out = tmp_path / "a" / "b" / "c"
    worked = Job(path=job)
    screen = PngScreen(out / "screens")
    screen.show(worked.glance)
    speaker = find_speaker(out / "spoken", mode="auto", tell=lambda _line: None)
    speaker.say(worked.opening)
    speaker.wait(20)
    speaker.close()
    sheet_of(str(job))
    assert {path.name for path in tmp_path.iterdir()} == {"jobs", "a"}
    assert "/" not in worked.assistant.job_id
    assert replay(worked.journal.read(worked.assistant.job_id)).at_work


@pytest.fixture(scope="module")
def locked() -> list[str]:
    """Every package that is installed to run the program."""
    text = (ROOT / "requirements.lock").read_text(encoding="utf-8")
    entries = re.findall(r"^# for: ([^\n]*)\n([a-z0-9-]+)==", text, re.MULTILINE)
    return [name for groups, name in entries if "run" in groups.split()]


def test_every_package_and_model_is_listed_with_its_licence(locked: list[str]) -> None:
    page = (ROOT / "assistant" / "help" / "licences.md").read_text(encoding="utf-8")
    rows = dict(re.findall(r"^\| ([^|]+) \| [^|]* \| ([^|]+) \|", page, re.MULTILINE))
    missing = [name for name in locked if not rows.get(name, "").strip("? ")]
    assert not missing, f"run scripts/licences: {missing}"
    for what in ("Moonshine", "B612", "flite", "wheelcall-en-small", "hibari-tts", "joe"):
        assert what in page, what


def test_the_listed_versions_are_the_locked_ones(locked: list[str]) -> None:
    page = (ROOT / "assistant" / "help" / "licences.md").read_text(encoding="utf-8")
    text = (ROOT / "requirements.lock").read_text(encoding="utf-8")
    for name in locked:
        version = re.search(rf"^{name}==(\S+)", text, re.MULTILINE)
        assert version is not None
        assert f"| {name} | {version[1]} |" in page, f"run scripts/licences: {name} {version[1]}"
        importlib.metadata.version(name)


def test_the_lock_has_checksums_and_no_address() -> None:
    text = (ROOT / "requirements.lock").read_text(encoding="utf-8")
    assert "://" not in text, "an address; httpx is a package of a bench"
    for entry in re.split(r"\n(?=[a-z0-9-]+==)", text)[1:]:
        first, *rest = [line for line in entry.splitlines() if line[:1] != "#"]
        assert rest, first
        for line in rest:
            assert not line or re.fullmatch(r"    --hash=sha256:[0-9a-f]{64}( \\)?", line), line
