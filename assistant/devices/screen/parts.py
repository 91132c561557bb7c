"""The parts of a page, each placed in what is left of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pygame

from assistant.devices.screen import ear_sign, typeset
from assistant.devices.screen.sketch import sketch
from assistant.present.drawings import draw
from assistant.present.drawings.bar import depth_bar, limits_chart
from assistant.present.drawings.dial import dial_sector, direction_arrow, turn_discs
from assistant.present.drawings.model import Drawing
from assistant.present.glance import Glance, Moment

if TYPE_CHECKING:
    from assistant.devices.screen.page import Page

CAPITAL = typeset.CAPITAL


def heading(page: Page, word: str, glance: Glance, *, band: bool) -> None:
    """The kind of moment, the job, and the place in it."""
    small, theme = page.small, page.theme
    big = round(small * (1.1 if page.tight else 1.4)) if band else small
    capital = round(big * CAPITAL)
    pad = page.gap(0.45)
    top = page.margin if not band else pad
    low = top + capital - round(small * CAPITAL)
    colour = theme.ink
    if band:
        colour = theme.paper
        strip = pygame.Rect(0, 0, page.surface.get_width(), capital + 2 * pad)
        pygame.draw.rect(page.surface, theme.strong, strip)
    place = " · ".join(text for text in (glance.place, glance.pass_place) if text)
    right = page.right
    if place:
        if typeset.width_of(place, small) > (page.right - page.left) * 0.7:
            place = glance.pass_place or glance.place
        right = typeset.write(
            page.surface, place, (page.right, low), small, colour, anchor="right"
        ).left
    box = typeset.write(page.surface, word, (page.left, top), big, colour, bold=True)
    rest = right - box.right - 2 * small
    if glance.job and rest > 6 * small:
        job = typeset.shorten(glance.job, small, rest)
        typeset.write(page.surface, job, (box.right + small, low), small, colour)
    page.top = top + capital + (2 * pad if band else pad)
    if not band:
        line = pygame.Rect(page.left, page.top, page.right - page.left, max(1, small // 14))
        pygame.draw.rect(page.surface, theme.quiet, line)
        page.top = line.bottom + pad
    page.top += page.gap(0.15)


def footing(page: Page, glance: Glance) -> None:
    """The ear's state in shape and words, the last thing heard, and what is missing."""
    small, theme = page.small, page.theme
    sign = round(small * 1.15)
    top = page.surface.get_height() - page.margin - sign
    middle = top + sign // 2
    text_top = middle - round(small * CAPITAL / 2)
    box = pygame.Rect(page.left, top, sign, sign)
    ear_sign.draw_ear(page.surface, box, glance.ear, glance.level, theme)
    words = f"{glance.ear.value}: {glance.waits_for}" if glance.waits_for else glance.ear.value
    if glance.moment is Moment.QUIET:
        words = f'{words}: say "listen"'
    after = typeset.write(
        page.surface, words, (box.right + round(small * 0.5), text_top), small, theme.ink, bold=True
    )
    rest = page.right - after.right - 2 * small
    if glance.heard and rest > 5 * small:
        heard = typeset.shorten(glance.heard, small, rest)
        typeset.write(page.surface, heard, (page.right, text_top), small, theme.ink, anchor="right")
    page.bottom = top - page.gap(0.5)
    for line in reversed(glance.trouble[:2] if glance.moment is not Moment.TROUBLE else ()):
        page.bottom -= sign
        box = pygame.Rect(page.left, page.bottom, sign, sign)
        ear_sign.draw_warning(page.surface, box, theme)
        left = box.right + round(small * 0.5)
        typeset.write(
            page.surface,
            typeset.shorten(line, small, page.right - left),
            (left, page.bottom + sign // 2 - round(small * CAPITAL / 2)),
            small,
            theme.ink,
        )
        page.bottom -= round(small * 0.3)


def label(page: Page, glance: Glance, left: int) -> None:
    """What the number is, and which part of the step this is."""
    size = round(page.small * (1.25 if page.tight else 1.7))
    what = glance.what[:1].upper() + glance.what[1:]
    right = page.right
    if glance.phase and page.wide:
        right = typeset.write(
            page.surface, glance.phase, (page.right, page.top), page.small, page.theme.ink,
            anchor="right",
        ).left  # fmt: skip
    text = typeset.shorten(what, size, right - left - page.small, bold=True)
    typeset.write(page.surface, text, (left, page.top), size, page.theme.ink, bold=True)
    page.top += round(size * CAPITAL) + page.gap(0.55)


def turns(page: Page, glance: Glance) -> None:
    """The way to move, the turns as discs, and turns and reading in words."""
    assert glance.move is not None
    small = page.small
    high = round(small * (1.15 if page.tight else 1.7))
    if page.bottom - page.top < high:
        return
    arrow = pygame.Rect(page.left, page.top, high, high)
    sketch(page.surface, arrow, direction_arrow(glance.move.direction), page.theme, small)
    left = arrow.right + round(small * 0.6)
    discs = turn_discs(glance.move)
    width = round(discs.width / discs.height * high)
    least = typeset.width_of(glance.dial, round(small * 1.3), bold=True)
    if left + width + small + least <= page.right:
        box = pygame.Rect(left, page.top, width, high)
        sketch(page.surface, box, discs, page.theme, small, "left")
        left = box.right + small
    largest = round(small * (1.2 if page.tight else 1.9))
    size = typeset.fit_line(glance.dial, page.right - left, largest, small, bold=True)
    words = typeset.shorten(glance.dial, size, page.right - left, bold=True)
    top = page.top + (high - round(size * CAPITAL)) // 2
    typeset.write(page.surface, words, (left, top), size, page.theme.ink, bold=True)
    page.top += high + page.gap(0.6)


def middle(page: Page, glance: Glance) -> None:
    """Below the number: the sentence and details, with the drawings beside or under them."""
    room = page.room()
    drawings = _drawings(glance)
    small = page.small
    text = room.copy()
    if drawings and page.wide and room.height >= small * 2.2:
        width = min(round(room.width * 0.48), round(room.height * _aspect(drawings)))
        art = pygame.Rect(room.right - width, room.top, width, room.height)
        text.width = room.width - width - small
        _place(page, art, drawings)
    elif drawings and not page.wide and room.height >= small * 9:
        text.height = max(small * 4, round(room.height * 0.38))
        art = pygame.Rect(room.left, text.bottom, room.width, room.height - text.height)
        art.inflate_ip(0, -small)
        _place(page, art, drawings)
    _words(page, glance, text)


def _words(page: Page, glance: Glance, box: pygame.Rect) -> None:
    """The sentence and what stands under it."""
    box = box.copy()
    if glance.moment is Moment.ASK and glance.choices:
        box.height -= _choices(page, glance, box)
    if box.height < round(page.small * CAPITAL) or not glance.instruction:
        return
    block = typeset.fit_block(
        glance.instruction, glance.detail, box.size, round(page.small * (2.3 if page.wide else 3)),
        page.small,
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
    room = page.room()
    small = page.small
    drawings = _drawings(glance)
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
        case Moment.MEASURE:
            drawings.append(limits_chart(glance.limits) if glance.limits else None)
            if not any(drawings):
                drawings.append(draw(glance.drawing_kind, glance.drawing))
        case Moment.CUT | Moment.TOUCH | Moment.HOLES | Moment.INDEX | Moment.MOVE:
            drawings.append(draw(glance.drawing_kind, glance.drawing))
    if glance.bar is not None and glance.pass_place and any(drawings):
        drawings.append(depth_bar(glance.bar))
    return [drawing for drawing in drawings if drawing is not None]


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
    x = box.right - used
    top = box.top + (box.height - height) // 2
    for drawing in drawings:
        width = round(_one_aspect(drawing) * height)
        sketch(page.surface, pygame.Rect(x, top, width, height), drawing, page.theme, page.small)
        x += width + gap
