"""The server of second screens over a real socket: who is let in, what is sent, and how it ends."""

from __future__ import annotations

import base64
import io
import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any, ClassVar

import pytest
from PIL import Image

from assistant.devices.screen.remote import RemoteView
from assistant.devices.viewers import Viewers, Where
from assistant.devices.viewers.board import STALE_SECONDS
from assistant.devices.viewers.gate import MOST
from assistant.devices.viewers.process import SILENT_SECONDS, run
from assistant.errors import DeviceMissing
from tests.devices.glances import GLANCES
from tests.devices.viewing import PATIENCE, Phone, for_seconds, free_port, let_in, serving, until

MOVE, CUT = GLANCES["move"], GLANCES["cut"]


class Watching(threading.Thread):
    """A device that looks, in a thread of its own."""

    open: ClassVar[list[Watching]] = []
    """Those that look, or looked."""

    def __init__(self, phone: Phone, size: tuple[int, int] = (360, 640)) -> None:
        super().__init__(daemon=True)
        self.phone, self.size = phone, size
        self.got: list[tuple[float, str, dict[str, Any]]] = []
        self.open.append(self)
        self.start()

    def run(self) -> None:
        try:
            for name, told in self.phone.events(*self.size):
                self.got.append((time.monotonic(), name, told))
        except (OSError, ValueError, AttributeError):  # it, or the server, is gone
            pass

    def of(self, name: str) -> list[dict[str, Any]]:
        return [told for _, kind, told in self.got if kind == name]

    def texts(self) -> list[str]:
        return [told["text"] for told in self.of("page")]


@pytest.fixture(scope="module")
def running() -> Iterator[Viewers]:
    """One server for the tests that leave it as it was."""
    with serving(MOVE) as viewers:
        yield viewers


@pytest.fixture
def viewers(running: Viewers) -> Iterator[Viewers]:
    running.show(MOVE)
    running.invite(False)
    until(running, lambda: running.report.invite is None)
    running.invite(True)
    until(running, lambda: running.report.invite is not None)
    yield running
    while Watching.open:
        Watching.open.pop().phone.leave()
    until(running, lambda: running.report.looking == 0)


def test_a_page_goes_to_who_was_let_in_as_picture_and_as_text(viewers: Viewers) -> None:
    watching = Watching(let_in(viewers), (720, 1228))
    until(viewers, lambda: bool(watching.of("page")))
    (page,) = watching.of("page")
    with Image.open(io.BytesIO(base64.b64decode(page["picture"]))) as picture:
        assert picture.size == (720, 1228)
    assert "140½" in page["text"]
    assert "Saddle in 0.9405 in" in page["text"]
    viewers.show(CUT)
    until(viewers, lambda: len(watching.of("page")) > 1)
    assert CUT.number in watching.texts()[-1]
    until(viewers, lambda: watching.of("beat")[-1]["page"] == watching.of("page")[-1]["page"])
    assert watching.of("beat")[-1]["live"]
    until(viewers, lambda: viewers.report.looking == 1)
    # the ear's level moves many times a second: that is no other page
    viewers.show(replace(CUT, level=0.5))
    for_seconds(viewers, 1.0)
    assert len(watching.of("page")) == 2


def test_without_a_code_there_is_nothing_to_see(viewers: Viewers) -> None:
    phone = Phone(viewers.where)
    first = phone.ask("/")
    assert first.status == 200
    assert b"code" in first.body
    assert b"/view.js" not in first.body
    assert MOVE.job.encode() not in first.body
    for cookie in ("", "wheelcall=", "wheelcall=x", "wheelcall=None"):
        phone.cookie = cookie
        assert phone.ask("/pages?width=360&height=640").status == 403


def test_wrong_and_used_codes_are_refused_and_told() -> None:
    with serving(MOVE) as viewers:
        assert viewers.report.invite is not None
        code = viewers.report.invite.code
        phone, other = Phone(viewers.where), Phone(viewers.where)
        wrong = phone.enter("2222-2222")
        assert (wrong.status, wrong.cookie) == (403, "")
        assert "wrong, or was used" in wrong.text
        until(viewers, lambda: viewers.report.refused == 1)
        assert viewers.report.last_from == "127.0.0.1"
        right = phone.enter(code)
        assert right.status == 204
        assert "HttpOnly" in right.headers["set-cookie"]
        assert "samesite=strict" in right.headers["set-cookie"].lower()
        used = other.enter(code)
        assert (used.status, used.cookie) == (403, "")
        until(viewers, lambda: viewers.report.invite is None)
        assert phone.ask("/").text.count("/view.js") == 1
        assert phone.ask("/pages?width=nothing&height=640").status == 400
        for _ in range(3):
            assert other.enter("3333-3333").status == 403
        assert other.enter("3333-3333").status == 429
        viewers.invite(True)  # another device, another code
        until(viewers, lambda: viewers.report.invite is not None)
        assert viewers.report.invite is not None
        assert viewers.report.invite.code != code


def test_what_is_no_code_is_refused() -> None:
    bodies = (b"", b"{", b"[]", b'{"code": 5}', b'{"code": null}', b"\x80", b'"' + b"x" * 500)
    with serving(MOVE) as viewers:
        for body in bodies:
            answer = Phone(viewers.where).ask("/enter", "POST", body, Origin=viewers.where.url)
            assert answer.status in (403, 413, 429), body
            assert answer.cookie == ""
        assert viewers.report.let_in == 0


def test_foreign_names_and_pages_are_refused(viewers: Viewers) -> None:
    """A page elsewhere may have its own name point here, or send here what it likes."""
    assert viewers.report.invite is not None
    code, phone = viewers.report.invite.code, Phone(viewers.where)
    for host in ("shop.example", "shop.example:8733", "127.0.0.1", "127.0.0.1:1", ""):
        assert phone.ask("/", Host=host).status == 421, host
        assert phone.enter(code, Host=host).status == 421, host
    for origin in ("http://shop.example", "null", f"https://{viewers.where.host}", ""):
        assert phone.enter(code, Origin=origin).status == 403, origin
    assert phone.ask("/enter", "POST", f'{{"code": "{code}"}}').status == 403
    assert phone.enter(code).status == 204  # none of that used it up


def test_nothing_but_its_own_and_read_only(viewers: Viewers) -> None:
    phone = let_in(viewers)
    for path in ("/", "/view.js", "/enter.js", "/style.css", "/nowhere"):
        answer = phone.ask(path, Origin="http://shop.example")
        assert answer.status == (404 if path == "/nowhere" else 200)
        policy = answer.headers["content-security-policy"]
        assert policy.startswith("default-src 'none'")
        assert "unsafe" not in policy
        assert not [name for name in answer.headers if name.startswith("access-control")]
        assert answer.headers["cache-control"] == "no-store"
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert answer.headers["x-frame-options"] == "DENY"
        assert "server" not in answer.headers
        # no resource from elsewhere, and nothing inline
        assert b"://" not in answer.body.replace(b"http://", b"", 0)
        assert b"<script>" not in answer.body
        assert b"style=" not in answer.body
    for method in ("POST", "PUT", "DELETE", "OPTIONS", "PATCH"):
        assert phone.ask("/pages?width=360&height=640", method).status == 405
        assert phone.ask("/", method).status == 405
    for path in ("/../gate.py", "/%2e%2e/gate.py", "/web/view.js", "/view.html"):
        assert phone.ask(path).status == 404


def test_a_second_tab_of_a_device_takes_over(viewers: Viewers) -> None:
    phone = let_in(viewers)
    first = Watching(phone)
    until(viewers, lambda: bool(first.of("beat")))
    again = Phone(viewers.where)
    again.cookie = phone.cookie
    second = Watching(again)
    until(viewers, lambda: bool(first.of("end") and second.of("beat")))
    assert "another tab" in first.of("end")[0]["why"]
    until(viewers, lambda: viewers.report.looking == 1)


def test_ten_look_at_once_and_see_the_same() -> None:
    sizes = [(360, 614), (414, 870), (720, 1228), (828, 1740), (1280, 774), (800, 1254),
             (600, 1000), (1024, 742), (390, 818), (1920, 1054)]  # fmt: skip
    with serving(MOVE) as viewers:
        watching = []
        for size in sizes:
            watching.append(Watching(let_in(viewers), size))
            viewers.invite(True)
        until(viewers, lambda: viewers.report.looking == MOST == len(sizes))
        eleventh = Phone(viewers.where)
        until(viewers, lambda: viewers.report.invite is not None)
        assert viewers.report.invite is not None
        refused = eleventh.enter(viewers.report.invite.code)
        assert refused.status == 409
        assert "10 devices" in refused.text
        for number in range(5):
            shown = replace(MOVE, job=f"part {number}", changed=number)
            viewers.show(shown)
            until(viewers, lambda want=shown.job: all(  # type: ignore[misc]
                one.texts() and want in one.texts()[-1] for one in watching))  # fmt: skip
        for one in watching:  # each has the pages in their order
            told = [text.splitlines()[1] for text in one.texts()[-5:]]
            assert told == [f"part {number}" for number in range(5)]
        for one in watching[:5]:
            one.phone.leave()
        until(viewers, lambda: viewers.report.looking <= 5)


# -- how it ends ------------------------------------------------------------------------------


def test_the_end_is_told() -> None:
    with serving(MOVE) as viewers:
        watching = Watching(let_in(viewers))
        until(viewers, lambda: bool(watching.of("beat")))
        viewers.close()
        watching.join(10)
        assert [told["why"] for told in watching.of("end")] == ["Wheelcall has ended."]
        viewers.close()


def test_a_program_that_stops_is_not_live(viewers: Viewers) -> None:
    """It hangs, say: its server is well, and knows no page of now."""
    watching = Watching(let_in(viewers))
    until(viewers, lambda: bool(watching.of("beat")) and watching.of("beat")[-1]["live"])
    stopped = time.monotonic()  # and tells nothing
    while watching.of("beat")[-1]["live"]:
        assert time.monotonic() < stopped + PATIENCE
        time.sleep(0.02)
    # each beat has the time, by the same clock, at which it was made
    lively = [told["at"] / 1000 for told in watching.of("beat") if told["live"]]
    assert max(lively) < stopped + STALE_SECONDS + 0.1
    until(viewers, lambda: watching.of("beat")[-1]["live"])


def test_a_killed_server_is_told_and_costs_nothing() -> None:
    with serving(MOVE) as viewers:
        watching = Watching(let_in(viewers))
        until(viewers, lambda: bool(watching.of("beat")))
        os.kill(viewers.pid, signal.SIGKILL)
        until(viewers, lambda: bool(viewers.trouble))
        assert "process ended" in viewers.trouble
        assert viewers.pid == 0
        viewers.show(CUT)
        viewers.invite(True)
        viewers.look()
        watching.join(10)
        assert not watching.is_alive()


def test_a_hung_server_is_never_waited_for() -> None:
    with serving(MOVE) as viewers:
        os.kill(viewers.pid, signal.SIGSTOP)
        slowest, begun = 0.0, time.process_time()
        end = time.monotonic() + SILENT_SECONDS + 30
        number = 0
        while not viewers.trouble:
            assert time.monotonic() < end
            number += 1
            before = time.process_time()
            viewers.show(replace(MOVE, job="x" * 5_000 + str(number)))
            viewers.look()
            slowest = max(slowest, time.process_time() - before)
            time.sleep(0.005)
        assert "answers no more" in viewers.trouble
        assert number > 100  # a pipe that is full would have held it up at the twentieth
        assert begun is not None


def test_a_program_that_is_killed_takes_its_server_along(tmp_path: Path) -> None:
    port = free_port()
    code = (
        "import time\n"
        "from functools import partial\n"
        "from assistant.devices.screen.remote import RemoteView\n"
        "from assistant.devices.viewers import Viewers, Where\n"
        "if __name__ == '__main__':\n"
        f"    viewers = Viewers(Where('127.0.0.1', {port}), partial(RemoteView, 'reading'))\n"
        "    print(viewers.pid, flush=True)\n"
        "    while True:\n"
        "        viewers.look()\n"
        "        time.sleep(0.05)\n"
    )
    script = tmp_path / "serves.py"
    script.write_text(code, encoding="utf-8")
    root = str(Path(__file__).resolve().parents[2])
    with subprocess.Popen(
        [sys.executable, str(script)], stdout=subprocess.PIPE, text=True,
        env=os.environ | {"PYTHONPATH": root},
    ) as program:  # fmt: skip
        assert program.stdout is not None
        pid = int(program.stdout.readline())
        phone = Phone(Where("127.0.0.1", port))
        assert phone.ask("/").status == 200
        program.kill()
    end = time.monotonic() + 30
    while Path(f"/proc/{pid}").exists():
        assert time.monotonic() < end
        time.sleep(0.05)
    with pytest.raises(ConnectionRefusedError):
        phone.ask("/")


def test_a_port_that_is_taken_is_told_with_another(viewers: Viewers) -> None:
    taken = viewers.where
    with pytest.raises(DeviceMissing) as caught:
        Viewers(taken, partial(RemoteView, "reading"))
    assert f"port {taken.port} on 127.0.0.1" in str(caught.value)
    assert f"--show-at 127.0.0.1:{taken.port + 1}" in str(caught.value)


class Unasked:
    """No view, and no program either."""


def test_a_missing_library_is_told_with_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    """Told by the server's process, where it would be needed."""
    monkeypatch.setitem(sys.modules, "assistant.devices.viewers.child", None)
    with pytest.raises(DeviceMissing) as caught:
        run(Unasked(), Where("127.0.0.1", free_port()), Unasked)  # type: ignore[arg-type]
    assert "isn't installed" in caught.value.why
    assert "pip install 'wheelcall[show]'" in caught.value.cost


def test_begun_again_it_waits_for_nothing() -> None:
    begun = time.monotonic()
    viewers = Viewers(Where("127.0.0.1", free_port()), partial(RemoteView, "reading"), wait=False)
    assert viewers.report.handled == 0
    viewers.invite(True)
    viewers.show(MOVE)
    until(viewers, lambda: viewers.report.invite is not None)
    assert time.monotonic() > begun
    viewers.close()
