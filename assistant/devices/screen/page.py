"""One screen as a page of type: a heading, one number, a sentence and a drawing.

The page is laid out from the top down in multiples of the smallest legible type size, so it is
the same page at every window size. What has no room is left off from the bottom of its
importance: the number, the instruction and the ear's state always stay.
"""

from __future__ import annotations

from dataclasses import dataclass

import pygame

from assistant.devices.screen import body, parts, typeset
from assistant.devices.screen.theme import DARK, THEMES, Theme
from assistant.present.glance import STOPPED, Glance, Moment

HEADINGS = {
    Moment.CHECK: "Check",
    Moment.TOUCH: "Touch off",
    Moment.MOVE: "Move",
    Moment.CUT: "Cut",
    Moment.MEASURE: "Measure",
    Moment.NOTE: "Note",
    Moment.HOLES: "Holes",
    Moment.INDEX: "Index",
    Moment.ASK: "Question",
    Moment.SAY: "Say",
    Moment.QUIET: "Not listening",
    Moment.TROUBLE: "Trouble",
    Moment.DONE: "Finished",
}
BANDED = (Moment.ASK, Moment.QUIET, Moment.TROUBLE)
"""Moments whose heading is a solid band: the operator is waited for."""
MAPPED = (Moment.HOLES, Moment.INDEX)
"""Moments whose drawing is looked at as much as the number."""
NUMBER_SHARE = 0.36
"""Most of the window's height that the number takes."""
TIGHT_SHARE = 0.26
"""The same where small type is large: still 60 minutes of arc at 4 m on 24 inches."""


def usual_size(size: tuple[int, int]) -> int:
    """The smallest type size used where viewing distance and screen size are not known: that of
    16 minutes of arc at 2 m on a screen 24 inches across, in proportion."""
    return max(14, round(min(size[1] * 0.042, size[0] * 0.042)))


@dataclass(slots=True)
class Page:
    """A surface being filled: what is left of it, and the sizes of this page."""

    surface: pygame.Surface
    theme: Theme
    small: int
    """The smallest type size."""
    top: int = 0
    """Everything above is used."""
    bottom: int = 0
    """Everything below is used."""
    reserved: int = 0
    """Width taken by a column at the right, between heading and footing."""
    number_box: pygame.Rect | None = None
    """Where the number stands, for tests and measurements."""

    @property
    def margin(self) -> int:
        """Empty space at the edges."""
        return round(self.small * 0.8)

    @property
    def left(self) -> int:
        """Left edge of the type."""
        return self.margin

    @property
    def right(self) -> int:
        """Right edge of the type."""
        return int(self.surface.get_width()) - self.margin - self.reserved

    @property
    def wide(self) -> bool:
        """Landscape: sentence and drawing side by side."""
        return bool(self.surface.get_width() >= self.surface.get_height())

    @property
    def tight(self) -> bool:
        """Whether the smallest type is large for this window, as it is from far away."""
        return bool(self.surface.get_height() < self.small * 19)

    def gap(self, share: float) -> int:
        """Space between parts, as a share of the smallest type size; less where it is tight."""
        return round(self.small * share * (0.55 if self.tight else 1.0))

    def room(self) -> pygame.Rect:
        """What is left in the middle."""
        return pygame.Rect(
            self.left, self.top, self.right - self.left, max(0, self.bottom - self.top)
        )


def paint(
    surface: pygame.Surface, glance: Glance, *, smallest: int = 0, fresh: bool = True
) -> Page:
    """Fill the surface with the page of `glance`.

    `smallest` is the least type size in pixels, 0 for the usual one. Larger than a twelfth of the
    window it can't be, and much under the usual one it is not made. `fresh` marks the number as
    changed just now.
    """
    theme = THEMES.get(glance.theme, DARK)
    width, height = surface.get_size()
    small = max(smallest, usual_size((width, height)) * 3 // 4 if smallest else 0)
    small = small or usual_size((width, height))
    small = max(10, min(small, round(min(width * 0.085, height * 0.085))))
    page = Page(surface, theme, small, bottom=height)
    surface.fill(theme.paper)
    word = "Stop" if glance.phase == STOPPED else HEADINGS[glance.moment]
    parts.heading(page, word, glance, band=glance.moment in BANDED)
    parts.footing(page, glance)
    if glance.number:
        drawn_beside = body.column(page, glance, _template(glance))
        _number(page, glance, fresh)
        if glance.move is not None:
            parts.turns(page, glance)
        body.middle(page, glance, drawn=drawn_beside)
    else:
        body.sentence(page, glance)
    return page


def _template(glance: Glance) -> str:
    """What decides the size of the figures: the widest number that may stand there."""
    longer = len(glance.widest) < len(glance.number)
    return glance.number if longer else glance.widest


def _number(page: Page, glance: Glance, fresh: bool) -> None:
    """What it is, then the number as large as the width allows, the mark of a change beside it."""
    height = page.surface.get_height()
    mark = max(4, round(page.small * 0.32))
    left = page.left + mark + round(page.small * 0.45)
    if glance.what:
        parts.label(page, glance, left)
    size = typeset.number_size(
        _template(glance),
        glance.unit,
        page.right - left,
        round(height * (TIGHT_SHARE if page.tight or glance.moment in MAPPED else NUMBER_SHARE)),
    )
    colour = page.theme.strong if fresh else page.theme.ink
    box = typeset.write_number(
        page.surface, glance.number, glance.unit, (left, page.top), size, colour, page.theme.paper
    )
    bar = pygame.Rect(page.left, box.top, mark if fresh else max(2, mark // 3), box.height)
    pygame.draw.rect(page.surface, colour, bar)
    page.number_box = box
    page.top = box.bottom + max(
        page.gap(0.9),
        typeset.unit_drop(glance.unit, size) + page.gap(0.4),
    )
