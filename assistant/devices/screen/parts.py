"""The parts of a page, drawn where the layout has put them."""

from __future__ import annotations

import pygame

from assistant.devices.screen import ear_sign, typeset
from assistant.devices.screen.frame import Frame
from assistant.devices.screen.needs import CAPITAL, Role, Sign
from assistant.devices.screen.setting import Line, Row
from assistant.devices.screen.sketch import sketch
from assistant.devices.screen.theme import Colour, Theme
from assistant.present.drawings.dial import direction_arrow, turn_discs
from assistant.present.glance import Glance


def write_row(
    surface: pygame.Surface, row: Row, colour: Colour, at: tuple[int, int] = (0, 0)
) -> None:
    """One row of type, counted from `at`."""
    place = (at[0] + row.left, at[1] + row.top)
    typeset.write(surface, row.text, place, row.size, colour, bold=row.bold)


def heading(
    surface: pygame.Surface, frame: Frame, glance: Glance, theme: Theme, *, band: bool
) -> None:
    """The kind of moment, the job, and the place in it."""
    width, small = frame.size[0], frame.small
    colour = theme.ink
    if band:
        colour = theme.paper
        pygame.draw.rect(surface, theme.strong, (0, 0, width, frame.rule))
    else:
        line = (frame.margin, frame.rule, width - 2 * frame.margin, max(1, small // 14))
        pygame.draw.rect(surface, theme.quiet, line)
    for row in frame.head:
        write_row(surface, row, colour)
    left, top, room = frame.job
    if glance.job and room > 6 * small:
        job = typeset.shorten(glance.job, small, room)
        typeset.write(surface, job, (left, top), small, colour)


def footing(
    surface: pygame.Surface, frame: Frame, glance: Glance, theme: Theme, said: str, *, warn: bool
) -> None:
    """The ear's state in shape and words, the words that are wanted, and the last thing heard.

    With `warn` the sign of a warning stands by: what is missing is on another leaf.
    """
    left, top, side = frame.sign
    box = pygame.Rect(left, top, side, side)
    ear_sign.draw_ear(surface, box, glance.ear, glance.level, theme)
    for row in frame.foot:
        write_row(surface, row, theme.ink)
    left, top, room = frame.said
    right = left + room
    if warn and room >= side:
        right -= side
        box = pygame.Rect(right, frame.sign[1], side, side)
        ear_sign.draw_warning(surface, box, theme)
        right -= frame.small // 2
    if said:
        small = frame.small
        typeset.write(surface, said, (right, top), small, theme.ink, anchor="right")


def leaf_marks(surface: pygame.Surface, frame: Frame, theme: Theme, leaf: int, leaves: int) -> None:
    """Over the foot: a stroke for every leaf, the one that is shown heavy."""
    room, thin = frame.room, max(1, frame.small // 14)
    gap = frame.small // 3
    each = (room.width - gap * (leaves - 1)) / leaves
    middle = (room.bottom + frame.sign[1]) // 2
    for number in range(leaves):
        thick = thin * 4 if number == leaf else thin
        colour = theme.strong if number == leaf else theme.quiet
        left = room.left + round(number * (each + gap))
        pygame.draw.rect(surface, colour, (left, middle - thick // 2, round(each), thick))


def line(surface: pygame.Surface, placed: Line, glance: Glance, theme: Theme, small: int) -> None:
    """A line that is no number, with its sign."""
    at = (placed.left, placed.top)
    if placed.need.role is Role.CHOICES:
        _frames(surface, placed, theme, small)
    if placed.sign_width:
        _sign(surface, placed, glance, theme, small)
    for row in placed.rows:
        write_row(surface, row, theme.ink, at)


def _frames(surface: pygame.Surface, placed: Line, theme: Theme, small: int) -> None:
    pad, high = placed.size // 2, round(placed.size * 1.7)
    for row in placed.rows:
        box = (placed.left + row.left - pad, placed.top, row.width + 2 * pad, high)
        pygame.draw.rect(surface, theme.ink, box, max(2, small // 12), small // 3)


def _sign(surface: pygame.Surface, placed: Line, glance: Glance, theme: Theme, small: int) -> None:
    need, size = placed.need, placed.size
    if need.sign is Sign.BAR:
        thick = max(2, small // 8)
        height = placed.height - (typeset.line_height(size) - round(size * 0.95))
        pygame.draw.rect(surface, theme.strong, (placed.left, placed.top, thick, height))
        return
    side = round(size * 0.85)
    top = placed.top + (round(size * CAPITAL) - side) // 2
    box = pygame.Rect(placed.left, top, placed.sign_width - round(size * 0.35), side)
    match need.sign:
        case Sign.WARNING:
            ear_sign.draw_warning(surface, box, theme)
        case Sign.WAY:
            sketch(surface, box, direction_arrow(glance.way), theme, small)
        case Sign.DISCS if glance.move is not None:
            sketch(surface, box, turn_discs(glance.move), theme, small, "left")


def number(
    surface: pygame.Surface,
    placed: Line,
    text: str,
    unit: str,
    theme: Theme,
    small: int,
    *,
    fresh: bool,
) -> pygame.Rect:
    """The large number with the mark of a change beside it; the box of number and unit."""
    colour = theme.strong if fresh else theme.ink
    at = (placed.left + placed.sign_width, placed.top)
    box = typeset.write_number(surface, text, unit, at, placed.size, colour, theme.paper, small)
    wide = max(3, round(placed.sign_width * 0.45))
    bar = (placed.left, box.top, wide if fresh else max(1, wide // 3), box.height)
    pygame.draw.rect(surface, colour, bar)
    return box
