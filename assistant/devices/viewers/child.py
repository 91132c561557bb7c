"""The server of second screens, in its own process. Its main thread reads the pipe; the server's
loop has a thread, and the drawing of pages another."""

from __future__ import annotations

import asyncio
import contextlib
import logging
import os
import socket
import sys
import threading
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

import segno
import uvicorn

from assistant.child import Parent, ParentMissing
from assistant.devices.viewers.addresses import DEVICE, Where
from assistant.devices.viewers.board import Board
from assistant.devices.viewers.gate import Gate, shown
from assistant.devices.viewers.messages import Report, Told
from assistant.devices.viewers.stream import View
from assistant.devices.viewers.web import make_app
from assistant.errors import DeviceMissing
from assistant.log import get_log
from assistant.present.glance import Invite

REPORT_SECONDS = 0.25
"""It reports so often, also where there is nothing to report."""
FAREWELL_SECONDS = 0.3
"""For the last event to reach the devices."""
NICENESS = 5
"""It gives way to ears and voice."""
MOST_CONNECTIONS = 64
BORDER = 4
"""Of a QR picture, in its dots: ISO/IEC 18004 wants a quiet zone of four, from memory."""
ENDED = "Wheelcall has ended."


def listening_socket(where: Where) -> socket.socket:
    """Bound to that one address. Raises `OSError`."""
    made = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        if sys.platform != "win32":  # there it would share the port with any other program
            made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        made.bind((where.address, where.port))
        made.listen(64)
    except OSError:
        made.close()
        raise
    made.setblocking(False)
    return made


def invite_of(where: Where, code: str) -> Invite:
    """The invitation with this code. In the picture it stands behind a `#`, so that what only
    looks at the address (a preview, say) neither sends it nor uses it up."""
    made = segno.make(f"{where.url}/#{code}", error="m", micro=False)
    rows = ("".join("1" if dot else "0" for dot in row) for row in made.matrix_iter(border=BORDER))
    return Invite(where.url, shown(code), tuple(rows))


class Server:
    """The server, its board and its gate; all but `tell` and `end` runs in the loop's thread."""

    def __init__(
        self, where: Where, make_view: Callable[[], View], parent: Parent[Told, Report]
    ) -> None:
        self.gate, self.board = Gate(), Board()
        self._where, self._parent = where, parent
        self._invite: Invite | None = None
        self._handled = self._let_in = self._refused = 0
        self._last_from = ""
        self._loop = asyncio.new_event_loop()
        drawing = ThreadPoolExecutor(1, thread_name_prefix="drawing")
        app = make_app(where.host, self.gate, self.board, make_view, drawing, self._entered)
        self._uvicorn = uvicorn.Server(
            uvicorn.Config(
                app, http="h11", ws="none", lifespan="off", interface="asgi3", log_config=None,
                access_log=False, server_header=False, proxy_headers=False,
                limit_concurrency=MOST_CONNECTIONS, timeout_graceful_shutdown=1,
            )
        )  # fmt: skip
        self.thread = threading.Thread(target=self._run, name="server", daemon=True)

    def start(self, listening: socket.socket) -> None:
        """Serve on that socket."""
        self._socket = listening
        self.thread.start()

    def tell(self, told: Told) -> None:
        """What the program tells; from the main thread."""
        self._loop.call_soon_threadsafe(self._take, told)

    def end(self) -> None:
        """Say farewell, and end; from the main thread."""
        self._loop.call_soon_threadsafe(self.board.end, ENDED)
        time.sleep(FAREWELL_SECONDS)
        self._uvicorn.should_exit = True
        self.thread.join(1.5)

    def _run(self) -> None:
        try:
            asyncio.set_event_loop(self._loop)
            self._loop.run_until_complete(self._serve())
        except Exception:
            get_log("viewers").exception("the server of second screens fails")

    async def _serve(self) -> None:
        reports = asyncio.create_task(self._report_on())
        try:
            await self._uvicorn.serve(sockets=[self._socket])
        finally:
            reports.cancel()

    async def _report_on(self) -> None:
        while True:
            self._report()
            await asyncio.sleep(REPORT_SECONDS)

    def _take(self, told: Told) -> None:
        self._handled += 1
        if told.glance is not None:
            self.board.put(told.glance)
        self.board.beat(told.at)
        if told.invite is not None:
            self.gate.withdraw()
            self._invite = invite_of(self._where, self.gate.offer()) if told.invite else None
        self._report()

    def _entered(self, address: str, right: bool) -> None:
        self._last_from = address
        if right:
            self._let_in += 1
            self._invite = None
        else:
            self._refused += 1
        self._report()

    def _report(self) -> None:
        with contextlib.suppress(ParentMissing):  # the main thread sees that, too
            self._parent.send(
                Report(
                    self._handled, self._invite, self.gate.looking(), self._let_in,
                    self._refused, self._last_from,
                )
            )  # fmt: skip


def serve(where: Where, make_view: Callable[[], View], parent: Parent[Told, Report]) -> None:
    """Serve until the program is gone, or has it end; a `Report` now and then. Raises
    `DeviceMissing` where it can't be done."""
    if hasattr(os, "nice"):
        os.nice(NICENESS)
    serving = logging.getLogger("uvicorn")  # else it would write into the terminal of the job
    serving.parent = get_log("viewers")
    serving.setLevel(logging.WARNING)
    try:
        listening = listening_socket(where)
    except OSError as error:
        why = f"port {where.port} on {where.address} can't be had ({error.strerror})"
        raise DeviceMissing(DEVICE, why) from None
    parent.ready()
    server = Server(where, make_view, parent)
    server.start(listening)
    with contextlib.suppress(ParentMissing):
        while server.thread.is_alive():
            if parent.waiting(REPORT_SECONDS):
                server.tell(parent.take())
    server.end()
