"""`wheelcall new` and `wheelcall run` with nothing named, as programs."""

from __future__ import annotations

import os
import pty
import select
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest

from assistant.app.assistant import Devices
from assistant.app.cli import questions
from assistant.app.cli.questions import Listener, Wish, ask
from assistant.app.listening import Listening
from assistant.app.new_jobs import known_in, shop_here, what_to_begin
from assistant.app.wiring import ears
from assistant.devices.clock import SystemClock
from assistant.devices.hidden import HiddenScreen
from assistant.devices.journal import MemoryJournal, open_journal
from assistant.devices.speaker import SilentSpeaker
from assistant.filling.shop import DEMO, LAST, NEW, OPEN
from assistant.filling.talk import Talk
from assistant.machine import load_machine
from assistant.phrases.book import load_book
from tests.factories import Job, expected_words
from tests.filling.talking import DRILL, KEYSEAT, machines, say

ROOT = Path(__file__).resolve().parents[2]


def environment(tmp_path: Path) -> dict[str, str]:
    own = {"XDG_CONFIG_HOME": str(tmp_path / "config"), "XDG_DATA_HOME": str(tmp_path / "data")}
    return dict(os.environ, PYTHONUNBUFFERED="1", SDL_VIDEODRIVER="dummy", **own)


def typed(tmp_path: Path, *lines: str, args: tuple[str, ...] = ("new",)):
    return subprocess.run(
        [sys.executable, "-m", "assistant", *args, "--typed", "--out", str(tmp_path / "out"),
         "--journal", str(tmp_path / "journal.sqlite")],
        cwd=ROOT, input="".join(f"{line}\n" for line in lines), capture_output=True, text=True,
        timeout=180, check=False, env=environment(tmp_path),
    )  # fmt: skip


def test_a_job_from_a_pipe_is_kept_shown_and_run_at_once(tmp_path: Path):
    done = typed(tmp_path, *KEYSEAT, "yes", "checked")
    path = tmp_path / "config" / "wheelcall" / "jobs" / "keyseat-1.toml"
    assert path.is_file()
    assert str(path) in done.stdout
    assert 'diameter = "1-1/2 in"' in done.stdout
    assert "Drawbar spanner off?" in done.stdout, "what was typed on goes to the job"
    assert done.returncode == 1, "not finished"
    assert done.stderr == ""


def test_answers_that_end_early_are_kept_and_gone_on_with(tmp_path: Path):
    first = typed(tmp_path, *KEYSEAT[:3])
    assert first.returncode == 1
    assert "3 answers are kept: wheelcall new goes on with them" in first.stdout
    second = typed(tmp_path, *KEYSEAT[3:], "no")
    assert "Going on: 3 answered." in second.stdout
    assert second.returncode == 0
    assert "Run it: wheelcall run keyseat-1" in second.stdout
    nothing = typed(tmp_path)
    assert nothing.returncode == 1
    assert "Nothing was begun." in nothing.stdout


def test_like_another_job(tmp_path: Path):
    done = typed(
        tmp_path, "change the material", "brass", "no", args=("new", "--like", "turn-shaft")
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert 'material = "brass"' in done.stdout
    wrong = typed(tmp_path, args=("new", "--like", "no-such-job"))
    assert wrong.returncode == 2
    assert "known jobs" in wrong.stderr


def test_a_machine_from_a_pipe_is_kept_and_offered_at_once(tmp_path: Path):
    new = ("new", "machine")
    left = typed(tmp_path, *DRILL[:9], args=new)
    assert left.returncode == 1
    assert "9 answers are kept: wheelcall new machine goes on with them" in left.stdout
    done = typed(tmp_path, *DRILL[9:], "yes", args=new)
    path = tmp_path / "config" / "wheelcall" / "machines" / "drill-press.toml"
    assert load_machine(path).name == "Drill press"
    assert str(path) in done.stdout
    assert "Spindle off, and the machine isolated" in done.stdout
    assert "What's the job?" in done.stdout, "yes begins a job"
    job = typed(tmp_path, "drill", "drill press")
    assert "Drill press. " in job.stdout, "the new one can be chosen"
    assert job.stderr == ""


def test_no_machine_file_is_written_over_unasked(tmp_path: Path):
    new = ("new", "machine")
    assert typed(tmp_path, *DRILL, "no", args=new).returncode == 0
    path = tmp_path / "config" / "wheelcall" / "machines" / "drill-press.toml"
    before = path.read_text()
    named = (*DRILL[:2], "drill press")
    asked = typed(tmp_path, *named, args=new)
    assert "You have a machine of that name." in asked.stdout
    assert path.read_text() == before
    other = ("no", "green drill press", *DRILL[3:], "no")
    assert typed(tmp_path, *other, args=new).returncode == 0
    assert path.read_text() == before
    assert path.with_name("green-drill-press.toml").is_file()
    over = ("yes", *DRILL[3:-4], "two hundred", "that's all", "none", "no", "no")
    assert typed(tmp_path, *named, *over, args=new).returncode == 0
    assert path.read_text() != before
    assert path.with_name("drill-press.toml.before").read_text() == before


def test_what_can_not_be_new_is_refused(tmp_path: Path):
    wrong = typed(tmp_path, args=("new", "gearbox"))
    assert wrong.returncode == 2
    assert "wanted job or machine" in wrong.stderr
    assert typed(tmp_path, args=("new", "machine", "--like", "turn-shaft")).returncode == 2


def test_a_new_machine_said_where_nothing_was_named(tmp_path: Path):
    done = typed(tmp_path, "a new machine", "drill press", "leave it for now", args=("run",))
    assert "What kind of machine is it?" in done.stdout
    assert "1 answer is kept: wheelcall new machine goes on with it" in done.stdout
    assert done.returncode == 1


def test_control_c_loses_no_answer(tmp_path: Path):
    program = subprocess.Popen(
        [sys.executable, "-m", "assistant", "new", "--typed", "--out", str(tmp_path / "out"),
         "--journal", str(tmp_path / "journal.sqlite")],
        cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        env=environment(tmp_path),
    )  # fmt: skip
    assert program.stdin is not None
    assert program.stdout is not None
    program.stdin.write("keyseat\n")
    program.stdin.flush()
    for line in program.stdout:
        if "On which machine?" in line:
            break
    time.sleep(0.2)
    program.send_signal(signal.SIGINT)
    out, err = program.communicate(timeout=60)
    assert program.returncode == 130
    assert "1 answer is kept: wheelcall new goes on with it" in out
    assert "Traceback" not in err


class Terminal:
    """A program with somebody at its keyboard."""

    def __init__(self, tmp_path: Path, *args: str) -> None:
        self.pid, self.fd = pty.fork()
        if not self.pid:  # pragma: no cover  (another process)
            os.chdir(ROOT)
            out = ["--out", str(tmp_path / "out"), "--journal", str(tmp_path / "journal.sqlite")]
            command = [sys.executable, "-m", "assistant", *args, *out]
            os.execve(sys.executable, command, environment(tmp_path))
        self.seen = ""

    def until(self, words: str, seconds: float = 60.0) -> None:
        end = time.monotonic() + seconds
        while words not in self.seen and time.monotonic() < end:
            if select.select([self.fd], [], [], 0.2)[0]:
                with suppress(OSError):
                    self.seen += os.read(self.fd, 65536).decode(errors="replace")
        assert words in self.seen, self.seen

    def type(self, line: str) -> None:
        self.seen = ""
        os.write(self.fd, f"{line}\n".encode())

    def end(self) -> int:
        os.kill(self.pid, signal.SIGINT)
        _, status = os.waitpid(self.pid, 0)
        os.close(self.fd)
        return os.waitstatus_to_exitcode(status)


@pytest.fixture
def terminal(tmp_path: Path) -> Terminal:
    return Terminal(tmp_path, "run")


def test_run_with_nothing_named_asks_who_sits_at_the_keyboard(terminal: Terminal):
    terminal.until("What shall it be?")
    assert "new job      question by question" in terminal.seen
    assert "the demo" in terminal.seen
    terminal.type("help")
    terminal.until("Say one of these: new job")
    terminal.type("a new job")
    terminal.until("What's the job?")
    assert terminal.end() == 130


def listener() -> Listener:
    return Listener(None, ears.built_in, Listening(), headset=False)


def devices(journal: MemoryJournal | None = None) -> Devices:
    return Devices(journal or MemoryJournal(), SilentSpeaker(), HiddenScreen(), SystemClock())


class Silence:
    """A terminal at which nobody types."""

    def isatty(self) -> bool:
        return True

    def __iter__(self) -> Iterator[str]:
        time.sleep(5)
        return iter(())


def test_where_nobody_types_the_demo_is_shown(monkeypatch, capsys):
    monkeypatch.setattr(sys, "stdin", Silence())
    monkeypatch.setattr(questions, "PATIENCE", 0.2)
    begun = ask(Wish(new=False), load_book(), devices(), listener())
    assert (begun.job, begun.demo) == ("keyseat-inch", True)
    assert "the recorded operator shows a job" in capsys.readouterr().out


def test_what_can_be_begun_with_an_empty_journal():
    assert next(iter(what_to_begin(known_in(MemoryJournal())))) == NEW
    assert DEMO in what_to_begin(known_in(MemoryJournal()))


def test_what_is_open_and_what_was_last_done_is_said(tmp_path: Path):
    job = Job()
    kept = open_journal(tmp_path / "journal.sqlite")
    kept.append(job.assistant.job_id, job.journal.read(job.assistant.job_id))
    known = known_in(kept)
    kept.close()
    found = what_to_begin(known)
    assert "Pond pump layshaft" in found[OPEN]
    assert LAST not in found
    assert known.earlier is None, "nothing was finished"


def test_the_job_that_was_last_finished_can_be_begun_again_with_another_size():
    job = Job()
    while not job.state.finished:
        job.say(expected_words(job.state))
    known = known_in(job.journal)
    assert known.last is not None
    assert "Pond pump layshaft" in what_to_begin(known)[LAST]
    assert OPEN not in what_to_begin(known)
    shop = shop_here(machines(), known, choose=False)
    talk = say(Talk(shop), "same as last time, but two and a quarter inches")
    assert talk.sheet.told["shaft.diameter"] == "2-1/4 in"
    assert talk.sheet.told["seat.length"] == "2-1/4 in"


def test_an_open_job_goes_on_though_its_file_is_gone(tmp_path: Path):
    job = Job()
    kept = open_journal(tmp_path / "journal.sqlite")
    kept.append("gone-12345678", job.journal.read(job.assistant.job_id))
    kept.close()
    program = Terminal(tmp_path, "run")
    program.until("What shall it be?")
    assert "open job     Pond pump layshaft" in program.seen
    program.type("go on")
    program.until("gone-12345678 is open: taking it up where it was left")
    assert program.end() == 130
