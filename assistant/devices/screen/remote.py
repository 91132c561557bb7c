"""The page for a second screen: a picture of the size of its window, and the same as text."""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from io import BytesIO

os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")  # before pygame is imported

import pygame
from PIL import Image

from assistant.devices.screen.content import content_of, leading
from assistant.devices.screen.needs import Need, Role
from assistant.devices.screen.page import paint
from assistant.devices.screen.turning import Turning
from assistant.present.glance import READING, Glance

COLOURS = 64
"""Of a picture: a page has seven, and the shades between them."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A page as one second screen is given it."""

    png: bytes
    text: str
    """All that the page says, for whoever has it read aloud."""


class RemoteView:
    """What one second screen shows: marks what is new and turns the leaves as a window does."""

    def __init__(self, leads: str = READING, clock: Callable[[], float] = time.monotonic) -> None:
        self._leads, self._clock = leads, clock
        self._turning = Turning()
        self._drawn: tuple[object, ...] | None = None

    def picture(self, glance: Glance, size: tuple[int, int], since: float) -> Picture | None:
        """The page in a window of `size` pixels; None where it is the last one still. `since` is
        the time by the clock at which its number changed."""
        fresh, leaf = self._turning.at(glance, self._clock(), since)
        wanted = (glance, size, fresh, leaf)
        if wanted == self._drawn:
            return None
        png, self._turning.leaves = _drawn(glance, size, fresh, leaf, self._leads)
        self._drawn = wanted
        return Picture(png, page_text(glance, self._leads))


@lru_cache(maxsize=32)
def _drawn(
    glance: Glance, size: tuple[int, int], fresh: bool, leaf: int, leads: str
) -> tuple[bytes, int]:
    """The picture and the number of leaves; devices of one size share it."""
    pygame.font.init()
    surface = pygame.Surface(size)
    page = paint(surface, glance, fresh=fresh, leaf=leaf, leads=leads)
    image = Image.frombytes("RGB", size, pygame.image.tobytes(surface, "RGB"))
    few = image.quantize(COLOURS, dither=Image.Dither.NONE, method=Image.Quantize.FASTOCTREE)
    held = BytesIO()
    few.save(held, "PNG", compress_level=3)
    return held.getvalue(), page.leaves


def page_text(glance: Glance, leads: str = READING) -> str:
    """Everything that stands on the page, a line each, in the order in which it is read."""
    return "\n".join(line for line in _lines(glance, leads) if line)


def _lines(glance: Glance, leads: str) -> Iterator[str]:
    content, _ = content_of(glance, leads)
    yield " · ".join([content.word, *content.place])
    yield glance.job
    for need in (*content.above, *content.flow, *content.undrawn, *content.below, *content.last):
        yield _said(need, glance, leads)
    yield content.ear
    yield content.say
    yield " · ".join(text for text in (glance.heard, glance.noted) if text)


def _said(need: Need, glance: Glance, leads: str) -> str:
    if need.role is Role.NUMBER:  # the layout has the widest that may stand there
        return " ".join(leading(glance, leads)).strip()
    if need.role is Role.CHOICES:
        return " / ".join(need.text.split("\n"))
    return f"{need.text} ({need.aside})" if need.aside else need.text
