"""The heading and the foot of a page, and the room that they leave between them."""

from __future__ import annotations

from dataclasses import dataclass

import pygame

from assistant.devices.screen import typeset
from assistant.devices.screen.content import Content
from assistant.devices.screen.needs import CAPITAL
from assistant.devices.screen.setting import Row
from assistant.present.glance import Ear

SPARSE = 19
"""A window of so many rows of its smallest type, and less, has narrower gaps."""
USUAL_EAR = Ear.LISTENING.value
"""Room is kept for this: the page must not move as the ear goes from listening to hearing."""


@dataclass(frozen=True, slots=True)
class Frame:
    """Head and foot of a page; all places from the window's top left."""

    size: tuple[int, int]
    small: int
    """The smallest type size."""
    margin: int
    head: tuple[Row, ...]
    """The kind of moment, and the place in the job."""
    job: tuple[int, int, int]
    """Left, top and width of the room for the title of the job."""
    rule: int
    """Where the heading ends: the foot of its band, or its line."""
    foot: tuple[Row, ...]
    """State of the ear, and the words that are wanted."""
    sign: tuple[int, int, int]
    """Left, top and side of the ear's sign."""
    said: tuple[int, int, int]
    """Left, top and width of the room for what was heard."""
    room: pygame.Rect
    """Between head and foot."""


def frame_of(content: Content, size: tuple[int, int], small: int) -> Frame:
    """Head and foot in a window of that size (pixels), in that smallest type."""
    width, height = size
    tight = height < small * SPARSE
    squeeze = 0.55 if tight else 1.0
    margin = max(4, round(small * 0.8 * min(1.0, width / (small * 24))))
    pad = round(small * 0.45 * squeeze)
    head, job, rule = _head(content, width, small, margin, pad, tight=tight)
    foot, sign, said, top = _foot(content, size, small, margin)
    begin = rule + round(small * 0.6 * squeeze)
    end = top - round(small * 0.5 * squeeze)
    room = pygame.Rect(margin, begin, width - 2 * margin, end - begin)
    return Frame(size, small, margin, head, job, rule, foot, sign, said, room)


def _head(
    content: Content, width: int, small: int, margin: int, pad: int, *, tight: bool
) -> tuple[tuple[Row, ...], tuple[int, int, int], int]:
    """The kind of moment at the left, the place at the right, in as many rows as it takes."""
    big = round(small * (1.1 if tight else 1.4)) if content.banded else small
    wide = typeset.width_of(content.word, big, bold=True)
    top = pad if content.banded else min(margin, pad * 2)
    low = top + round(big * CAPITAL) - round(small * CAPITAL)
    rows = [Row(content.word, margin, top, big, wide, bold=True)]
    room = width - 2 * margin - wide - small
    left, step = width - margin, typeset.line_height(small)
    places = typeset.wrap(" · ".join(content.place), small, room)
    if any(typeset.width_of(text, small) > room for text in places):
        low += step
        places = typeset.wrap(" · ".join(content.place), small, width - 2 * margin)
    for number, text in enumerate(places):
        across = typeset.width_of(text, small)
        rows.append(Row(text, width - margin - across, low + number * step, small, across))
        if not number:
            left = rows[-1].left
    start = margin + wide + small
    end = max(row.top + round(row.size * CAPITAL) for row in rows) + pad
    return (
        tuple(rows),
        (start, rows[0].top + round((big - small) * CAPITAL), left - start - small),
        end,
    )


def _foot(
    content: Content, size: tuple[int, int], small: int, margin: int
) -> tuple[tuple[Row, ...], tuple[int, int, int], tuple[int, int, int], int]:
    """The ear's state, then the words that are wanted: beside it, or on rows under it."""
    width, height = size
    side, step = round(small * 1.15), typeset.line_height(small)
    start = margin + side + small // 2
    rows: list[tuple[str, int, bool]] = []
    right = width - margin
    ear = typeset.wrap(content.ear, small, right - start, bold=True)
    rows += [(text, start, True) for text in ear]
    last = typeset.width_of(ear[-1], small, bold=True)
    if len(ear) == 1:
        last = max(last, typeset.width_of(USUAL_EAR, small, bold=True))
    begin, line = start + last + small, len(ear) - 1
    placed = [(text, left, number, bold) for number, (text, left, bold) in enumerate(rows)]
    if content.say:
        wide = typeset.width_of(content.say, small)
        if begin + wide <= right:
            placed.append((content.say, begin, line, False))
            begin += wide + small
        else:
            for text in typeset.wrap(content.say, small, right - margin):
                line += 1
                placed.append((text, margin, line, False))
                begin = margin + typeset.width_of(text, small) + small
    edge = max(2, round(min(margin, small * 0.6)))
    top = height - edge - side - line * step
    text_top = top + (side - round(small * CAPITAL)) // 2
    foot = tuple(
        Row(text, left, text_top + number * step, small,
            typeset.width_of(text, small, bold=bold), bold)
        for text, left, number, bold in placed
    )  # fmt: skip
    said = (begin, text_top + line * step, max(0, right - begin))
    return foot, (margin, top, side), said, top
