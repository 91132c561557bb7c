"""A supervised child process, whatever it does: it dies, hangs, fails, is ended, loses its program.

Each of the program's own (ear, second ear, voice, window, second screens) has tests of what it does
with that; here is what they all rest on.
"""

from __future__ import annotations

import os
import signal
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import psutil
import pytest

from assistant.child import Child, ChildLost, Parent
from assistant.errors import DeviceMissing
from assistant.log import log_path
from tests.killed import child_of_killed

PATIENCE = 60.0
"""Seconds that a loaded machine may need to start a process."""
Any2 = Child[Any, Any]


def echo(parent: Parent[Any, Any], *told_first: str) -> None:
    """Answers everything with itself; some words are orders."""
    for told in told_first:
        parent.send(told)
    parent.ready()
    while True:
        match parent.take():
            case "die":
                os._exit(3)
            case "crash":
                os.kill(os.getpid(), signal.SIGSEGV)
            case "hang":
                time.sleep(3600)
            case "fail":
                raise ArithmeticError("no such sum")
            case "refuse":
                raise DeviceMissing("lamp", "it is not lit", "it is dark")
            case "beat":
                parent.beat()
            case "ctrl-c":
                os.kill(os.getpid(), signal.SIGINT)
                parent.send("still here")
            case "tell and die":
                parent.send("last words")
                os._exit(0)
            case "child":
                inner: Child[str, str] = Child("inner", echo)
                inner.wait_ready()
                parent.send(inner.pid)
            case what:
                parent.send(what)


def stillborn(parent: Parent[Any, Any]) -> None:
    os._exit(4)


def not_there(parent: Parent[Any, Any]) -> None:
    raise DeviceMissing("lamp", "no oil", "it is dark")


def never_begins(parent: Parent[Any, Any]) -> None:
    time.sleep(3600)


def leaves_slowly(parent: Parent[Any, Any], mark: str) -> None:
    parent.ready()
    while parent.waiting(0.05) is False:
        parent.beat()
    try:
        parent.take()
    finally:
        Path(mark).touch()


@contextmanager
def begun(work: Callable[..., None] = echo, *args: object, **limits: float) -> Iterator[Any2]:
    child: Any2 = Child("tried", work, *args, **({"begin_seconds": PATIENCE} | limits))
    try:
        child.wait_ready()
        yield child
    finally:
        child.kill()


def lost(child: Any2) -> ChildLost:
    """What comes of it when it is looked at as often as it has to be."""
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end:
        try:
            child.look()
        except ChildLost as gone:
            assert child.pid == 0, "its process has ended"
            return gone
        time.sleep(0.01)
    raise AssertionError("it was never lost")


def test_what_is_sent_comes_back_in_its_order() -> None:
    with begun() as child:
        for number in range(100):
            child.send(number)
        found: list[int] = []
        end = time.monotonic() + PATIENCE
        while len(found) < 100:
            assert time.monotonic() < end
            found += child.look()
            time.sleep(0.005)
        assert found == list(range(100))
        assert child.ask("more", PATIENCE) == "more"
        assert psutil.pid_exists(child.pid)


def test_what_it_told_before_it_was_ready_is_not_lost() -> None:
    child: Any2 = Child("tried", echo, "early", begin_seconds=PATIENCE)
    found: list[str] = []
    while not child.ready:
        found += child.look()
        time.sleep(0.01)
    assert found == ["early"]
    child.kill()


@pytest.mark.parametrize(
    ("work", "how", "why"),
    [
        (stillborn, "ended", r"stopped \(exit code 4\)"),
        (not_there, "refused", "no oil"),
        (never_begins, "silent", "no sign of life for 0.5 seconds"),
    ],
)
def test_one_that_does_not_begin(work: Callable[..., None], how: str, why: str) -> None:
    child: Any2 = Child("tried", work, begin_seconds=PATIENCE if how != "silent" else 0.5)
    with pytest.raises(ChildLost, match=why) as caught:
        child.wait_ready()
    assert caught.value.how == how
    assert caught.value.cost == ("it is dark" if how == "refused" else "")
    assert child.pid == 0
    assert not child.ready


@pytest.mark.parametrize(
    ("order", "how", "why"),
    [
        ("die", "ended", r"stopped \(exit code 3\)"),
        ("crash", "ended", rf"stopped \(exit code {-signal.SIGSEGV}\)"),
        ("hang", "silent", "gave no sign of life for 1 seconds"),
        ("fail", "failed", r"failed \(ArithmeticError: no such sum\)"),
        ("refuse", "refused", "it is not lit"),
    ],
)
def test_one_that_is_lost_in_its_work(order: str, how: str, why: str) -> None:
    with begun(silent_seconds=1.0) as child:
        child.send(order)
        gone = lost(child)
        assert gone.how == how
        with pytest.raises(ChildLost, match=why):
            child.look()
        child.send("more")  # costs nothing
        with pytest.raises(ChildLost, match=why):
            child.ask("more", 1.0)
        child.end(1.0)


def test_its_last_words_are_heard() -> None:
    with begun() as child:
        assert child.ask("tell and die", PATIENCE) == "last words"
        assert lost(child).how == "ended"


def test_signs_of_life_keep_it() -> None:
    with begun(silent_seconds=1.0) as child:
        end = time.monotonic() + 3
        while time.monotonic() < end:
            child.send("beat")
            assert child.look() == []
            time.sleep(0.05)


def test_silence_counts_only_where_a_sign_is_owed() -> None:
    with begun(silent_seconds=0.3) as child:
        end = time.monotonic() + 1.5
        while time.monotonic() < end:
            assert child.look(owes=False) == []
            time.sleep(0.02)
        assert lost(child).how == "silent"


def test_an_answer_is_waited_for_no_longer_than_told() -> None:
    with begun() as child, pytest.raises(ChildLost, match=r"no answer in 0\.3 s"):
        child.ask("hang", 0.3)


def test_sending_never_waits_for_one_that_hangs() -> None:
    with begun() as child:
        child.send("hang")
        for _ in range(100):
            child.send("x" * 100_000)  # a pipe holds far less
        assert child.look() == []


def test_it_may_be_ended_from_another_thread_while_it_is_asked() -> None:
    with begun() as child:
        timer = threading.Timer(0.3, child.kill)
        timer.start()
        with pytest.raises(ChildLost, match="stopped"):
            child.ask("hang")
        timer.join()


def test_the_end_is_gentle_and_then_it_is_not(tmp_path: Path) -> None:
    mark = tmp_path / "left"
    child: Any2 = Child("tried", leaves_slowly, str(mark), begin_seconds=PATIENCE)
    child.wait_ready()
    child.end(PATIENCE)
    assert mark.exists()
    assert child.pid == 0
    with begun() as child:
        child.send("hang")
        child.end(0.2)
        assert child.pid == 0
        child.end(0.2)
        child.kill()


def test_ctrl_c_in_the_terminal_is_not_for_it() -> None:
    with begun() as child:
        assert child.ask("ctrl-c", PATIENCE) == "still here"


def test_what_was_raised_is_in_the_log_with_where(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path))
    with begun() as child:
        child.send("fail")
        lost(child)
    text = log_path().read_text(encoding="utf-8")
    assert "wheelcall.tried: its process fails" in text
    assert "ArithmeticError: no such sum" in text
    assert 'raise ArithmeticError("no such sum")' in text


def test_it_may_have_a_child_of_its_own_which_goes_with_it() -> None:
    with begun() as child:
        inner = psutil.Process(child.ask("child", PATIENCE))
        child.kill()
        inner.wait(PATIENCE)


PROGRAM = """
import time
from assistant.child import Child
from tests.contracts.test_child import echo
if __name__ == "__main__":
    child = Child("tried", echo)
    child.wait_ready()
    child.send("hang")
    print(child.pid, flush=True)
    time.sleep(600)
"""


def test_none_is_left_behind_by_a_program_that_is_killed(tmp_path: Path) -> None:
    child_of_killed(PROGRAM, tmp_path).wait(PATIENCE)
