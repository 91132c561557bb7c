"""What one device is sent: pages as they change, and a beat in between, as server-sent events."""

from __future__ import annotations

import asyncio
import base64
import json
import time
from collections.abc import AsyncIterator
from concurrent.futures import Executor
from typing import Protocol

from assistant.devices.viewers.board import Board
from assistant.devices.viewers.gate import Device
from assistant.present.glance import Glance

BEAT_SECONDS = 0.35
"""Between two signs of life."""
LEAST, LARGEST = (320, 200), (4096, 4096)
"""Pixels of a window that a page is drawn for."""
MOST_PIXELS = 1_600_000
"""Of one picture: a finer one costs time and shows no more."""
ELSEWHERE = "This device shows the page in another tab or window."


class Drawn(Protocol):
    """A page as one device is given it."""

    @property
    def png(self) -> bytes: ...

    @property
    def text(self) -> str: ...


class View(Protocol):
    """What draws the pages of one device."""

    def picture(self, glance: Glance, size: tuple[int, int], since: float) -> Drawn | None:
        """The page at that size in pixels; None where it is the last one still."""


def size_for(width: int, height: int) -> tuple[int, int]:
    """The picture's size for a window of so many pixels: of its form, and within the limits."""
    shrink = min(
        1.0,
        (MOST_PIXELS / (width * height)) ** 0.5,
        LARGEST[0] / width,
        LARGEST[1] / height,
    )
    return max(LEAST[0], round(width * shrink)), max(LEAST[1], round(height * shrink))


async def events(
    board: Board, device: Device, view: View, size: tuple[int, int], drawing: Executor
) -> AsyncIterator[str]:
    """Events until there is no more to come, or this device looks from elsewhere.

    No beat is sent while a page is still being drawn: what a device shows is never older than its
    last beat.
    """
    me = device.view = object()
    loop = asyncio.get_running_loop()
    page = 0
    yield "retry: 500\n\n"
    try:
        while device.view is me:
            device.seen = time.monotonic()
            if board.over:
                yield _event("end", why=board.over)
                return
            glance = board.glance
            if glance is not None:
                drawn = await loop.run_in_executor(drawing, view.picture, glance, size, board.since)
                if drawn is not None:
                    page += 1
                    picture = base64.b64encode(drawn.png).decode("ascii")
                    yield _event("page", page=page, picture=picture, text=drawn.text)
            if board.glance is glance:
                yield _event("beat", page=page, live=board.live)
                await board.news(BEAT_SECONDS)
        yield _event("end", why=ELSEWHERE)
    finally:
        if device.view is me:
            device.view = None


def _event(name: str, **what: object) -> str:
    at = round(time.monotonic() * 1000)
    return f"event: {name}\ndata: {json.dumps({'at': at, **what})}\n\n"
