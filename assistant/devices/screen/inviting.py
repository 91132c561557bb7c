"""How a second screen is let in, in a strip beside the page: a QR picture, and the same to type.

The page keeps the rest of the window and is laid out there as in any window of that size, so that
it has all that it must have.
"""

from __future__ import annotations

import pygame

from assistant.devices.screen import typeset
from assistant.devices.screen.theme import Theme
from assistant.present.glance import Invite

SHARE = 0.3
"""Of the longer side of the window, that the strip takes."""
TITLE, HOW, HIDE = "Second screen", "Scan this, or type:", "F2 hides this"
DARK, BRIGHT = (0, 0, 0), (255, 255, 255)
"""Of the picture, in any theme: cameras look for dark on bright."""
LEAST_DOT = 2
"""Pixels a side: under it no camera reads it."""


def split(size: tuple[int, int]) -> tuple[pygame.Rect, pygame.Rect]:
    """The room of the page and that of the invitation, in a window of that size in pixels."""
    width, height = size
    if width >= height:
        strip = round(width * SHARE)
        return pygame.Rect(0, 0, width - strip, height), pygame.Rect(
            width - strip, 0, strip, height
        )
    strip = round(height * SHARE)
    return pygame.Rect(0, 0, width, height - strip), pygame.Rect(0, height - strip, width, strip)


def draw_invite(
    surface: pygame.Surface, box: pygame.Rect, invite: Invite, theme: Theme, small: int
) -> list[pygame.Rect]:
    """Draw it; `small` is the smallest type of the page. The boxes of its parts, the picture
    first."""
    surface.fill(theme.paper, box)
    edge = max(1, small // 14)
    beside = box.width > box.height
    rule = (box.left, box.top, box.width, edge) if beside else (box.left, box.top, edge, box.height)
    pygame.draw.rect(surface, theme.quiet, rule)
    pad = max(4, small // 2)
    inner = box.inflate(-2 * pad, -2 * pad)
    count = len(invite.picture)
    rows = 5 + (len(invite.address) > len("http://"))
    room = inner.height if beside else inner.height - rows * typeset.line_height(small)
    dot = max(LEAST_DOT, min(min(inner.width, room), inner.width // 2 if beside else room) // count)
    side = dot * count
    left = inner.left if beside else inner.left + (inner.width - side) // 2
    picture = pygame.Rect(left, inner.top, side, side)
    _picture(surface, picture, invite.picture, dot)
    words = inner.copy()
    if beside:
        words.left, words.width = picture.right + pad, inner.right - picture.right - pad
    else:
        words.top, words.height = picture.bottom + pad, inner.bottom - picture.bottom - pad
    return [picture, *_words(surface, words, invite, theme, small)]


def _picture(surface: pygame.Surface, box: pygame.Rect, rows: tuple[str, ...], dot: int) -> None:
    surface.fill(BRIGHT, box)
    for down, row in enumerate(rows):
        for along, sign in enumerate(row):
            if sign == "1":
                surface.fill(DARK, (box.left + along * dot, box.top + down * dot, dot, dot))


def _words(
    surface: pygame.Surface, box: pygame.Rect, invite: Invite, theme: Theme, small: int
) -> list[pygame.Rect]:
    """Title, address and code, one under the other, each as large as the width allows."""
    head, _, host = invite.address.rpartition("/")
    lines = [
        (TITLE, small, True), (HOW, small, False), (f"{head}/", small, False), (host, small, True),
        (invite.code, small * 2, True), (HIDE, small, False),
    ]  # fmt: skip
    lines = [(text, size, bold) for text, size, bold in lines if text != "/"]
    fitted = [
        (text, _fitting(text, size, box.width, bold=bold), bold) for text, size, bold in lines
    ]
    high = sum(typeset.line_height(size) for _, size, _ in fitted)
    if high > box.height:
        scale = box.height / high
        fitted = [(text, max(6, int(size * scale)), bold) for text, size, bold in fitted]
    top, boxes = box.top, []
    for text, size, bold in fitted:
        boxes.append(typeset.write(surface, text, (box.left, top), size, theme.ink, bold=bold))
        top += typeset.line_height(size)
    return boxes


def _fitting(text: str, size: int, width: int, *, bold: bool) -> int:
    """The type size, smaller where the width wants it."""
    while size > 6 and typeset.width_of(text, size, bold=bold) > width:
        size -= 1
    return size
