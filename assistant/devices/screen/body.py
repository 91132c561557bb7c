"""The middle of a page: sentence and details, with the drawings beside or under them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import pygame

from assistant.devices.screen import typeset
from assistant.devices.screen.parts import label_size
from assistant.devices.screen.sketch import sketch
from assistant.present.drawings import draw
from assistant.present.drawings.bar import depth_bar, limits_chart
from assistant.present.drawings.dial import dial_sector
from assistant.present.drawings.model import Drawing
from assistant.present.glance import Glance, Moment

if TYPE_CHECKING:
    from assistant.devices.screen.page import Page

CAPITAL = typeset.CAPITAL
SET_UPS = ("angle", "centre", "collars", "dial-in", "swept")
"""Kinds of drawing that show where an indicator goes: worth more there than a band of limits."""
LEAST_NUMBER = 0.235
"""Of the window's height: what the number keeps beside a column (60 minutes of arc at 4 m on a
screen 24 inches across)."""
WIDEST_COLUMN = 0.36
"""Of the window's width."""


def column(page: Page, glance: Glance, template: str) -> bool:
    """The drawings in a column at the right, from heading to footing, where they are clearly larger
    there than under the number; whether they were drawn."""
    drawings = _drawings(glance)
    if not drawings or not page.wide or glance.answer:
        return False
    room, height = page.room(), page.surface.get_height()
    aspect = _aspect(drawings)
    least = height * LEAST_NUMBER / CAPITAL
    number = typeset.number_width(template, round(least)) + least * 0.2
    if glance.unit:
        number += typeset.width_of(glance.unit, typeset.unit_size(round(least)), bold=True)
    widest = min(room.width * WIDEST_COLUMN, room.width - number - 1.7 * page.small)
    tall = min(room.height, widest / aspect)
    # under the number: what number, label and dial leave
    rest = room.height - height * LEAST_NUMBER * 1.15 - 2 * page.small
    rest -= 2.2 * page.small if glance.move is not None else 0
    if widest <= 0 or tall < 1.25 * min(rest, room.width * 0.48 / aspect):
        return False
    width = min(round(widest), round(tall * aspect))
    left = room.width - width - 3 * page.small
    what, phase = typeset.width_of(glance.what, label_size(page), bold=True), 0
    if glance.phase:
        phase = typeset.width_of(glance.phase, page.small) + page.small
    if what + phase > left or typeset.width_of(glance.dial, page.small, bold=True) > left:
        return False  # half a line would be worse than a smaller drawing
    _place(page, pygame.Rect(room.right - width, room.top, width, room.height), drawings)
    page.reserved = width + round(page.small * 0.8)
    return True


def middle(page: Page, glance: Glance, *, drawn: bool = False) -> None:
    """Below the number: the sentence and details, with the drawings beside or under them."""
    if glance.answer and not _answered(page, glance, bold=False):
        return
    room = page.room()
    drawings = [] if drawn or glance.answer else _drawings(glance)
    small = page.small
    text = room.copy()
    if drawings and page.wide and room.height >= small * 2.2:
        for share in SHARES:
            width = min(round(room.width * share), round(room.height * _aspect(drawings)))
            text.width = room.width - width - small
            if _fits_largest(page, glance, text):
                break
        art = pygame.Rect(room.right - width, room.top, width, room.height)
        _place(page, art, drawings)
    elif drawings and not page.wide and room.height >= small * 9:
        text.height = max(small * 4, round(room.height * 0.38))
        art = pygame.Rect(room.left, text.bottom, room.width, room.height - text.height)
        art.inflate_ip(0, -small)
        more = _under(glance)
        if more and art.height >= small * 12:
            upper = pygame.Rect(art.left, art.top, art.width, round(art.height * 0.42))
            _place(page, upper, drawings)
            art.height -= upper.height + small
            art.top = upper.bottom + small
            drawings = more
        _place(page, art, drawings)
    _words(page, glance, text)


ANSWER_SHARE = 0.5
"""Of the room under the number, for what was just answered."""


def _answered(page: Page, glance: Glance, *, bold: bool) -> bool:
    """What was just answered, in a frame where the drawing stands else: beside the sentence, or on
    a tall page under it. Where one of the two would lose a word there, the answer has the room
    alone till the next command; whether the sentence is still to be set."""
    room, small, theme = page.room(), page.small, page.theme
    pad = round(small * 0.5)
    if page.wide:
        width = round(room.width * ANSWER_SHARE)
        frame = pygame.Rect(room.right - width, room.top, width, room.height)
        rest = (room.width - width - small, room.height)
    else:
        height = round(room.height * ANSWER_SHARE)
        frame = pygame.Rect(room.left, room.bottom - height, room.width, height)
        rest = (room.width, room.height - height - small)
    block = _answer_block(page, glance, frame, pad)
    beside = typeset.fit_block(
        glance.instruction, glance.detail, rest, small, small, bold=bold, small_bold=not bold
    )
    both = _whole(block, glance.answer) and _whole(beside, (glance.instruction, *glance.detail))
    if not both:
        frame = room
        block = _answer_block(page, glance, frame, pad)
    lines = len(block.lines) * typeset.line_height(block.size)
    lines += len(block.below) * typeset.line_height(block.small)
    frame.height = min(frame.height, lines + 2 * pad)
    pygame.draw.rect(page.surface, theme.ink, frame, max(2, small // 10), small // 3)
    inner = frame.inflate(-2 * pad, -2 * pad)
    _write_block(page, inner, block, bold=True, small_bold=False)
    if page.wide:
        page.reserved = page.right - frame.left + small
    else:
        page.bottom = frame.top - small
    return both


def _answer_block(page: Page, glance: Glance, frame: pygame.Rect, pad: int) -> typeset.Block:
    box = (frame.width - 2 * pad, frame.height - 2 * pad)
    largest = round(page.small * 2.6)
    return typeset.fit_block(
        glance.answer[0], glance.answer[1:], box, largest, page.small, bold=True
    )


def _whole(block: typeset.Block, texts: Sequence[str]) -> bool:
    """Whether a block has every word of the texts."""
    return " ".join((*block.lines, *block.below)).split() == " ".join(texts).split()


SHARES = (0.66, 0.57, 0.48)
"""Of the width, for the drawings beside a sentence: as much as leaves the sentence its size."""


def _sentence_size(page: Page) -> int:
    """The largest type of a sentence under a number."""
    return round(page.small * (2.3 if page.wide else 3))


def _fits_largest(page: Page, glance: Glance, box: pygame.Rect) -> bool:
    """Whether the sentence alone can be set in its largest type, and nothing stands under it."""
    if glance.detail or glance.choices:
        return False
    size = _sentence_size(page)
    lines = typeset.wrap(glance.instruction, size, box.width)
    fits = all(typeset.width_of(line, size) <= box.width for line in lines)
    return fits and len(lines) * typeset.line_height(size) <= box.height


def _words(page: Page, glance: Glance, box: pygame.Rect) -> None:
    """The sentence and what stands under it."""
    box = box.copy()
    if glance.moment is Moment.ASK and glance.choices:
        box.height -= _choices(page, glance, box)
    if box.height < round(page.small * CAPITAL) or not glance.instruction:
        return
    block = typeset.fit_block(
        glance.instruction, glance.detail, box.size, _sentence_size(page), page.small,
        small_bold=True,
    )  # fmt: skip
    _write_block(page, box, block, bold=False, small_bold=True)


def _write_block(
    page: Page, box: pygame.Rect, block: typeset.Block, *, bold: bool, small_bold: bool
) -> None:
    y = box.top
    for line in block.lines:
        typeset.write(page.surface, line, (box.left, y), block.size, page.theme.ink, bold=bold)
        y += typeset.line_height(block.size)
    for line in block.below:
        typeset.write(
            page.surface, line, (box.left, y), block.small, page.theme.ink, bold=small_bold
        )
        y += typeset.line_height(block.small)


def _choices(page: Page, glance: Glance, box: pygame.Rect) -> int:
    """The answers a question takes, at the foot of the box; the height used."""
    size = round(page.small * (1.1 if page.tight else 1.6))
    high = round(size * 1.7)
    if high + page.gap(0.5) + typeset.line_height(page.small) > box.height:
        return 0  # the sentence says them too
    x, top = box.left, box.bottom - high
    for choice in glance.choices:
        width = typeset.width_of(choice, size, bold=True) + size
        if x + width > box.right:
            break
        frame = pygame.Rect(x, top, width, high)
        pygame.draw.rect(
            page.surface, page.theme.ink, frame, max(2, page.small // 12), page.small // 3
        )
        capital = round(size * CAPITAL)
        typeset.write(
            page.surface, choice, (frame.centerx, top + (high - capital) // 2), size,
            page.theme.ink, bold=True, anchor="centre",
        )  # fmt: skip
        x = frame.right + page.small
    return high + page.gap(0.5)


def sentence(page: Page, glance: Glance) -> None:
    """A page without a number: the sentence is the large thing."""
    if glance.answer and not _answered(page, glance, bold=True):
        return
    room = page.room()
    small = page.small
    drawings = [] if glance.answer else _drawings(glance)
    text = room.copy()
    text.height -= page.gap(0.3)
    if drawings and page.wide:
        width = min(round(room.width * 0.42), round(room.height * _aspect(drawings)))
        art = pygame.Rect(room.right - width, room.top, width, room.height)
        text.width -= width + small
        _place(page, art, drawings)
    elif drawings:
        text.height = round(room.height * 0.5)
        _place(
            page,
            pygame.Rect(room.left, text.bottom, room.width, room.height - text.height),
            drawings,
        )
    if glance.choices:
        text.height -= _choices(page, glance, text)
    more = [*glance.detail, *(glance.trouble if glance.moment is Moment.TROUBLE else ())]
    words = glance.instruction or (more.pop(0) if more else "")
    block = typeset.fit_block(words, more, text.size, small * 4, small, bold=True)
    text.top += page.gap(0.3)
    _write_block(page, text, block, bold=True, small_bold=False)


def _drawings(glance: Glance) -> list[Drawing]:
    """What is drawn for this kind of moment, the most telling first."""
    drawings: list[Drawing | None] = []
    match glance.moment:
        case Moment.MOVE | Moment.QUIET if glance.move is not None:
            drawings.append(dial_sector(glance.move))
        case Moment.MEASURE if glance.drawing_kind not in SET_UPS:
            drawings.append(limits_chart(glance.limits) if glance.limits else None)
            if not any(drawings):
                drawings.append(draw(glance.drawing_kind, glance.drawing))
        case _ if glance.moment not in (Moment.ASK, Moment.TROUBLE, Moment.DONE):
            drawings.append(draw(glance.drawing_kind, glance.drawing))
    if glance.bar is not None and len(glance.bar.marks) > 1 and glance.pass_place and any(drawings):
        drawings.append(depth_bar(glance.bar))
    return [drawing for drawing in drawings if drawing is not None]


def _under(glance: Glance) -> list[Drawing]:
    """What a tall page has room for under a dial or a band of limits: the work itself."""
    charted = glance.moment is Moment.MEASURE and glance.drawing_kind not in SET_UPS
    if not (charted and glance.limits) and not (glance.moment is Moment.MOVE and glance.move):
        return []
    work = draw(glance.drawing_kind, glance.drawing)
    return [work] if work is not None else []


_BAR_ASPECT = 0.28
_CHART_ASPECT = 2.6


def _one_aspect(drawing: Drawing) -> float:
    if not drawing.stretch:
        return drawing.width / drawing.height
    return _BAR_ASPECT if drawing.width < 3 else _CHART_ASPECT


def _aspect(drawings: list[Drawing]) -> float:
    return sum(_one_aspect(drawing) for drawing in drawings) + 0.12 * (len(drawings) - 1)


def _place(page: Page, box: pygame.Rect, drawings: list[Drawing]) -> None:
    """The drawings side by side, of one height."""
    gap = round(page.small * 0.6)
    aspect = sum(_one_aspect(drawing) for drawing in drawings)
    height = min(box.height, round((box.width - gap * (len(drawings) - 1)) / aspect))
    used = round(aspect * height) + gap * (len(drawings) - 1)
    # beside a sentence they stand at the edge of the page, under it in the middle
    x = box.right - used if page.wide else box.centerx - used // 2
    top = box.top + (box.height - height) // 2
    for drawing in drawings:
        width = round(_one_aspect(drawing) * height)
        sketch(page.surface, pygame.Rect(x, top, width, height), drawing, page.theme, page.small)
        x += width + gap
