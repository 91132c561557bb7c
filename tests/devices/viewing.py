"""Second screens for tests: what a browser does, over a real socket."""

from __future__ import annotations

import json
import socket
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from http.client import HTTPConnection, HTTPResponse
from typing import Any

from assistant.devices.screen.remote import RemoteView
from assistant.devices.viewers import Viewers, Where
from assistant.present.glance import Glance

PATIENCE = 60.0
"""Seconds that a loaded machine may need."""
TICK = 0.02
"""As the loop of a job has it."""


def free_port() -> int:
    """One that nobody uses just now."""
    with socket.socket() as tried:
        tried.bind(("127.0.0.1", 0))
        return int(tried.getsockname()[1])


@contextmanager
def serving(glance: Glance | None = None) -> Iterator[Viewers]:
    """A server of second screens on this machine itself, with a code that holds."""
    viewers = Viewers(Where("127.0.0.1", free_port()), partial(RemoteView, "reading"))
    try:
        viewers.invite(True)
        if glance is not None:
            viewers.show(glance)
        until(viewers, lambda: viewers.report.invite is not None)
        yield viewers
    finally:
        viewers.close()


def until(viewers: Viewers, holds: Callable[[], bool], seconds: float = PATIENCE) -> None:
    """Go on as the loop of a job does, until something holds."""
    end = time.monotonic() + seconds
    while not holds():
        assert time.monotonic() < end, (viewers.report, viewers.trouble)
        viewers.look()
        time.sleep(TICK)


def for_seconds(viewers: Viewers, seconds: float) -> None:
    """Go on as the loop of a job does."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        viewers.look()
        time.sleep(TICK)


@dataclass
class Answer:
    """What the server answered."""

    status: int
    headers: dict[str, str]
    body: bytes

    @property
    def text(self) -> str:
        return self.body.decode()

    @property
    def cookie(self) -> str:
        return self.headers.get("set-cookie", "").partition(";")[0]


class Phone:
    """A device: asks, tells codes, keeps its cookie."""

    def __init__(self, where: Where) -> None:
        self.where = where
        self.cookie = ""
        self._open: HTTPConnection | None = None

    def ask(
        self, path: str, method: str = "GET", body: str | bytes | None = None, **headers: str
    ) -> Answer:
        """One request, whole."""
        connection = HTTPConnection(self.where.address, self.where.port, timeout=PATIENCE)
        try:
            response = self._send(connection, path, method, body, headers)
            held = {name.lower(): value for name, value in response.getheaders()}
            return Answer(response.status, held, response.read())
        finally:
            connection.close()

    def enter(self, code: str, **headers: str) -> Answer:
        """Tell a code, as its page does."""
        told = json.dumps({"code": code})
        answer = self.ask("/enter", "POST", told, **({"Origin": self.where.url} | headers))
        self.cookie = answer.cookie or self.cookie
        return answer

    def events(self, width: int = 360, height: int = 640) -> Iterator[tuple[str, dict[str, Any]]]:
        """What it is sent, until the other side ends it."""
        connection = HTTPConnection(self.where.address, self.where.port, timeout=PATIENCE)
        self._open = connection
        path = f"/pages?width={width}&height={height}"
        response = self._send(connection, path, "GET", None, {})
        assert response.status == 200, response.read()
        assert response.getheader("content-type", "").startswith("text/event-stream")
        name = ""
        for line in response:
            if line.startswith(b"event: "):
                name = line[7:].decode().strip()
            elif line.startswith(b"data: "):
                yield name, json.loads(line[6:])
        connection.close()

    def leave(self) -> None:
        """Be gone without a word."""
        if self._open is not None:
            self._open.close()

    def _send(
        self, connection: HTTPConnection, path: str, method: str, body: str | bytes | None,
        headers: dict[str, str],
    ) -> HTTPResponse:  # fmt: skip
        own = {"Cookie": self.cookie} if self.cookie else {}
        connection.request(method, path, body, own | headers)
        return connection.getresponse()


def let_in(viewers: Viewers) -> Phone:
    """A device that told the code that holds."""
    until(viewers, lambda: viewers.report.invite is not None)
    assert viewers.report.invite is not None
    phone = Phone(viewers.where)
    before = viewers.report.let_in
    assert phone.enter(viewers.report.invite.code).status == 204
    until(viewers, lambda: viewers.report.let_in > before)
    return phone
