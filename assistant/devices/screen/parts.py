"""The parts of a page, each placed in what is left of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pygame

from assistant.devices.screen import ear_sign, typeset
from assistant.devices.screen.sketch import sketch
from assistant.present.drawings.dial import direction_arrow, turn_discs
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
    said = _said(glance, small, rest)
    page.bottom = top - page.gap(0.5)
    if glance.noted and typeset.width_of(said, small) > rest:
        # what was made of it is never cut: it has a line of its own above
        for line in reversed(typeset.wrap(glance.noted, small, page.right - page.left)):
            page.bottom -= typeset.line_height(small)
            typeset.write(page.surface, line, (page.left, page.bottom), small, theme.ink)
        page.bottom -= page.gap(0.3)
    elif said and rest > 5 * small:
        heard = typeset.shorten(said, small, rest)
        typeset.write(page.surface, heard, (page.right, text_top), small, theme.ink, anchor="right")
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


def _said(glance: Glance, small: int, width: int) -> str:
    """The last thing heard and what was made of it; where both are too wide, the latter."""
    if not (glance.heard and glance.noted):
        return glance.noted or glance.heard
    both = f"{glance.heard} · {glance.noted}"
    return both if typeset.width_of(both, small) <= width else glance.noted


def label_size(page: Page) -> int:
    """Type size of what the number is."""
    return round(page.small * (1.25 if page.tight else 1.7))


def label(page: Page, glance: Glance, left: int) -> None:
    """What the number is, and which part of the step this is."""
    size = label_size(page)
    what = glance.what[:1].upper() + glance.what[1:]
    right = page.right
    if glance.phase and page.wide:
        right = typeset.write(
            page.surface, glance.phase, (page.right, page.top), page.small, page.theme.ink,
            anchor="right",
        ).left  # fmt: skip
    rest = right - left - page.small
    size = typeset.fit_line(what, rest, size, page.small, bold=True)
    for line in typeset.wrap(what, size, rest, bold=True):
        typeset.write(page.surface, line, (left, page.top), size, page.theme.ink, bold=True)
        page.top += typeset.line_height(size)
    page.top -= typeset.line_height(size) - round(size * CAPITAL) - page.gap(0.55)


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
    lines = typeset.wrap(glance.dial, size, page.right - left, bold=True)
    top = page.top + (high - round(size * CAPITAL)) // 2
    for line in lines:  # never cut: how far to come back stands at the end
        typeset.write(page.surface, line, (left, top), size, page.theme.ink, bold=True)
        top += typeset.line_height(size)
    page.top += high + typeset.line_height(size) * (len(lines) - 1) + page.gap(0.6)
