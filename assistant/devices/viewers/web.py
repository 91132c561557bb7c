"""The web server's few answers: who is let in, and to what."""

from __future__ import annotations

import json
from collections.abc import Awaitable, Callable, Mapping
from concurrent.futures import Executor
from importlib import resources

from starlette.applications import Starlette
from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response, StreamingResponse
from starlette.routing import Route
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from assistant.devices.viewers.board import Board
from assistant.devices.viewers.gate import WRONG, Gate, Refused
from assistant.devices.viewers.stream import View, events, size_for

COOKIE = "wheelcall"
LONGEST_BODY = 200
"""Bytes: a code is far shorter."""
LARGEST_SIDE = 20_000
HEADERS: Mapping[str, str] = {
    "Cache-Control": "no-store",
    "Content-Security-Policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src data:; "
        "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    ),
    "Cross-Origin-Resource-Policy": "same-origin",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
}
"""Of every answer. There is none that lets another origin in."""
FILES = {
    "enter.html": "text/html; charset=utf-8",
    "view.html": "text/html; charset=utf-8",
    "enter.js": "text/javascript; charset=utf-8",
    "view.js": "text/javascript; charset=utf-8",
    "style.css": "text/css; charset=utf-8",
}


class Guarded:
    """Refuses every name but its own (a page elsewhere could have its own name point here), and
    gives each answer the headers that keep it to itself."""

    def __init__(self, app: ASGIApp, hosts: frozenset[str]) -> None:
        self._app, self._hosts = app, hosts

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            return

        async def guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                MutableHeaders(scope=message).update(HEADERS)
            await send(message)

        if Headers(scope=scope).getlist("host") in [[host] for host in self._hosts]:
            await self._app(scope, receive, guarded)
        else:
            refuse = PlainTextResponse("This is not the name of this computer.", 421)
            await refuse(scope, receive, guarded)


def make_app(
    host: str,
    gate: Gate,
    board: Board,
    make_view: Callable[[], View],
    drawing: Executor,
    let_in: Callable[[str, bool], None],
) -> ASGIApp:
    """The server's application; `host` is its address and port. `drawing` has one thread.
    `let_in` is called with the address of whoever told a code, and whether it was right."""
    names = frozenset({host, host.replace("127.0.0.1", "localhost")})
    held = {name: (resources.files(__package__) / "web" / name).read_bytes() for name in FILES}

    def file(name: str) -> Response:
        return Response(held[name], media_type=FILES[name])

    async def first(request: Request) -> Response:
        known = gate.device(request.cookies.get(COOKIE, ""))
        return file("view.html" if known else "enter.html")

    def serving(name: str) -> Callable[[Request], Awaitable[Response]]:
        async def answer(_: Request) -> Response:
            return file(name)

        return answer

    async def enter(request: Request) -> Response:
        if request.headers.get("origin") not in {f"http://{name}" for name in names}:
            return PlainTextResponse("Only from its own page.", 403)
        address = request.client.host if request.client else ""
        try:
            token = gate.enter(await _code_in(request), address)
        except Refused as refused:
            if refused.why == WRONG:
                let_in(address, False)
            return PlainTextResponse(refused.why, refused.status)
        let_in(address, True)
        answer = Response(status_code=204)
        answer.set_cookie(COOKIE, token, httponly=True, samesite="strict")
        return answer

    async def pages(request: Request) -> Response:
        device = gate.device(request.cookies.get(COOKIE, ""))
        if device is None:
            return PlainTextResponse("It wants a code.", 403)
        try:
            sides = [int(request.query_params[name]) for name in ("width", "height")]
        except (KeyError, ValueError):
            sides = []
        if not sides or not all(0 < side <= LARGEST_SIDE for side in sides):
            return PlainTextResponse("wanted width and height in pixels", 400)
        sent = events(board, device, make_view(), size_for(*sides), drawing)
        return StreamingResponse(sent, media_type="text/event-stream")

    routes = [
        Route("/", first, methods=["GET"]),
        Route("/enter", enter, methods=["POST"]),
        Route("/pages", pages, methods=["GET"]),
        *(Route(f"/{name}", serving(name)) for name in ("enter.js", "view.js", "style.css")),
    ]
    return Guarded(Starlette(routes=routes), names)


async def _code_in(request: Request) -> str:
    """The code in the body, '' where there is none. Raises `Refused` for a body that is none."""
    body = b""
    async for part in request.stream():
        body += part
        if len(body) > LONGEST_BODY:
            raise Refused(413, "That is no code.")
    try:
        code = json.loads(body)["code"]
    except (ValueError, KeyError, TypeError):
        code = ""
    return code if isinstance(code, str) else ""
