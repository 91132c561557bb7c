"""One screen as a page of type: a heading, one very large number, sentences and a drawing.

What it holds is told by `content`, what each line needs by `needs`, where it stands by `layout`;
here it is drawn.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import pygame

from assistant.devices.screen import parts, typeset
from assistant.devices.screen.content import Content, content_of, leading
from assistant.devices.screen.frame import Frame
from assistant.devices.screen.inviting import draw_invite, split
from assistant.devices.screen.layout import Laid, lay
from assistant.devices.screen.needs import Need, Role, Sign
from assistant.devices.screen.setting import Line
from assistant.devices.screen.sketch import sketch
from assistant.devices.screen.theme import DARK, THEMES, Theme
from assistant.present.glance import READING, Glance

LEAST_SAID = 4
"""Room for what was heard, in multiples of the smallest type: under it, it has its own line."""


def usual_size(size: tuple[int, int]) -> int:
    """The smallest type size used where viewing distance and screen size are not known: that of
    16 minutes of arc at 2 m on a screen 24 inches across, in proportion."""
    return max(14, round(min(size[1] * 0.042, size[0] * 0.042)))


@dataclass(slots=True)
class Page:
    """A page that was drawn: what stands where, for tests and measurements."""

    surface: pygame.Surface
    theme: Theme
    frame: Frame
    leaf: int
    """Which leaf is shown, from 0."""
    leaves: int
    """Among how many."""
    step: int
    """How tight it is set, see `needs`."""
    lines: tuple[Line, ...]
    """What stands between head and foot."""
    drawings: tuple[pygame.Rect, ...] = ()
    number_box: pygame.Rect | None = None
    said: str = field(default="")
    """What stands in the foot of what was heard."""

    @property
    def small(self) -> int:
        """The smallest type size."""
        return self.frame.small

    @property
    def margin(self) -> int:
        """Empty space at the edges."""
        return self.frame.margin

    @property
    def left(self) -> int:
        """Left edge of the type."""
        return self.frame.margin

    @property
    def right(self) -> int:
        """Right edge of the type."""
        return self.frame.size[0] - self.frame.margin

    @property
    def bottom(self) -> int:
        """Top of the foot."""
        return self.frame.sign[1]


def least_type(size: tuple[int, int], smallest: int) -> int:
    """The smallest type size wanted in a window, where `smallest` is just legible (0: not known);
    much under the usual one it is not made."""
    usual = usual_size(size)
    return max(10, smallest, usual * 3 // 4) if smallest else usual


def laid_out(
    glance: Glance, size: tuple[int, int], *, smallest: int = 0, leads: str = READING
) -> tuple[Laid, Content, str]:
    """Where everything of a page stands, what it holds, and what of the last thing heard is in its
    foot."""
    content, _ = content_of(glance, leads)
    if glance.invite is not None:
        size = split(size)[0].size
    return _with_said(content, glance, size, least_type(size, smallest))


def _with_said(
    content: Content, glance: Glance, size: tuple[int, int], wanted: int
) -> tuple[Laid, Content, str]:
    """The layout with what was heard in the foot, or where that has no room, in a line above."""
    laid = lay(content, size, wanted)
    said, more = _said(glance, laid.frame)
    if more:
        fuller = replace(content, last=(*content.last, *more))
        again = lay(fuller, size, wanted)
        if glance.noted or (len(again.leaves), again.small) == (len(laid.leaves), laid.small):
            return again, fuller, said
    return laid, content, said


def _said(glance: Glance, frame: Frame) -> tuple[str, tuple[Need, ...]]:
    """For the foot: the last thing heard and what was made of it; and what has no room there.

    The words heard are cut short, and left off where they would cost a leaf; never what was made of
    them.
    """
    small, room = frame.small, frame.said[2]
    whole = " · ".join(text for text in (glance.heard, glance.noted) if text)
    if not whole or typeset.width_of(whole, small) <= room:
        return whole, ()
    if glance.noted:
        if typeset.width_of(glance.noted, small) <= room:
            return glance.noted, ()
        return "", (Need(Role.REMARK, glance.noted, paged=True),)
    if room >= LEAST_SAID * small:
        return typeset.shorten(glance.heard, small, room), ()
    heard = typeset.shorten(glance.heard, small, frame.room.width)
    return "", (Need(Role.REMARK, heard, paged=True),)


def paint(
    surface: pygame.Surface,
    glance: Glance,
    *,
    smallest: int = 0,
    fresh: bool = True,
    leaf: int = 0,
    leads: str = READING,
) -> Page:
    """Fill the surface with the page of `glance`, and with the invitation where there is one.

    `smallest` is the least legible type size in pixels, 0 for the usual one. `fresh` marks the
    number as changed just now. `leaf` counts from 0, round and round; `leads` is one of `LEADS`.
    """
    theme = THEMES.get(glance.theme, DARK)
    if glance.invite is not None:
        room, strip = split(surface.get_size())
        small = least_type(room.size, smallest)
        draw_invite(surface, strip, glance.invite, theme, small)
        surface = surface.subsurface(room)
    size = surface.get_size()
    content, drawings = content_of(glance, leads)
    laid, content, said = _with_said(content, glance, size, least_type(size, smallest))
    frame, leaf = laid.frame, leaf % len(laid.leaves)
    page = Page(surface, theme, frame, leaf, len(laid.leaves), laid.step, laid.leaves[leaf])
    page.said = said
    surface.fill(theme.paper)
    parts.heading(surface, frame, glance, theme, band=content.banded)
    paged = page.leaves > 1
    warned = any(need.sign is Sign.WARNING for need in content.last)
    parts.footing(surface, frame, glance, theme, said, warn=paged and warned and not said)
    if paged:
        parts.leaf_marks(surface, frame, theme, leaf, page.leaves)
    for line in page.lines:
        if line.need.role is Role.NUMBER:
            text, unit = leading(glance, leads)
            page.number_box = parts.number(
                surface, line, text, unit, theme, page.small, fresh=fresh
            )
        else:
            parts.line(surface, line, glance, theme, page.small)
    boxes = []
    for group, places in zip(drawings, laid.drawings, strict=False):
        for drawing, place in zip(group, places, strict=True):
            boxes.append(pygame.Rect(place))
            sketch(surface, boxes[-1], drawing, theme, page.small)
    page.drawings = tuple(boxes)
    return page
