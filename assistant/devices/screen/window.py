"""A window on the display, through pygame. Used from the main thread."""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Sequence

os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")  # before pygame is imported

import pygame

from assistant.devices.screen import typeset
from assistant.devices.screen.page import paint
from assistant.devices.screen.turning import Turning
from assistant.errors import DeviceFailed, DeviceMissing
from assistant.present.glance import READING, Glance

KEYS = {
    pygame.K_SPACE: "space",
    pygame.K_RETURN: "enter",
    pygame.K_KP_ENTER: "enter",
    pygame.K_ESCAPE: "escape",
    pygame.K_UP: "up",
    pygame.K_DOWN: "down",
    pygame.K_LEFT: "left",
    pygame.K_RIGHT: "right",
    pygame.K_F1: "f1",
    pygame.K_PAGEUP: "page up",
    pygame.K_PAGEDOWN: "page down",
    pygame.K_BACKSPACE: "backspace",
    pygame.K_HOME: "home",
    pygame.K_END: "end",
    pygame.K_INSERT: "insert",
    **{getattr(pygame, f"K_F{number}"): f"f{number}" for number in (*range(2, 11), 12)},
}
UNSEEN = ("offscreen", "dummy")
"""SDL's drivers that need no display."""
LEAST = (320, 200)


class WindowScreen:
    """The `Screen` on a display: resizable, F11 for the full screen."""

    def __init__(
        self,
        size: tuple[int, int] = (1280, 720),
        *,
        full: bool = False,
        smallest: Callable[[tuple[int, int]], int] | None = None,
        leads: str = READING,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        """`smallest` gives the least type size in pixels for a window size; `leads` is what of a
        move is the large number.

        Raises `DeviceMissing` where no window can be opened.
        """
        self.name = "window"
        self._size, self._full = size, full
        self._smallest, self._leads, self._clock = smallest, leads, clock
        self._drawn: tuple[object, ...] | None = None
        self._turning = Turning()
        self._glance: Glance | None = None
        self._down: dict[int, str] = {}
        """Keys that are held, as words."""
        self.redraws = 0
        """How many times the page was drawn."""
        try:
            pygame.display.init()
            _refuse_what_nobody_sees()
            pygame.font.init()
            pygame.display.set_caption("Wheelcall")
            self._open()
        except pygame.error as error:
            raise DeviceMissing(
                "display", str(error), "each changed screen is saved as a picture instead"
            ) from None
        pygame.key.set_repeat()
        pygame.mouse.set_visible(False)

    def _open(self) -> None:
        if self._full:
            self._surface = pygame.display.set_mode((0, 0), pygame.FULLSCREEN)
        else:
            self._surface = pygame.display.set_mode(self._size, pygame.RESIZABLE)
        self._drawn = None

    def show(self, glance: Glance) -> None:
        """Draw the page if it, its size or the mark of a change differs from what is shown.

        Raises `DeviceFailed` where the display is gone, as `keys` does.
        """
        fresh, leaf = self._turning.at(glance, self._clock())
        wanted = (glance, self._surface.get_size(), fresh, leaf)
        self._glance = glance
        if wanted == self._drawn:
            return
        smallest = self._smallest(self._surface.get_size()) if self._smallest else 0
        try:
            page = paint(
                self._surface, glance, smallest=smallest, fresh=fresh, leaf=leaf, leads=self._leads
            )
            pygame.display.flip()
        except pygame.error as error:
            raise DeviceFailed("display", str(error)) from error
        self._drawn, self._turning.leaves = wanted, page.leaves
        self.redraws += 1

    def keys(self) -> Sequence[str]:
        """Keys since the last call, as words; a digit or letter is itself. A key that is let go is
        told, too, as `f9 released`.

        Also lets the window answer the display: call it at least a few times a second.
        """
        words: list[str] = []
        try:
            events = pygame.event.get()
        except pygame.error as error:
            raise DeviceFailed("display", str(error)) from error
        for event in events:
            if event.type == pygame.QUIT:
                words.append("quit")
            elif event.type in (pygame.VIDEORESIZE, pygame.WINDOWSIZECHANGED):
                self._resized()
            elif event.type == pygame.VIDEOEXPOSE:
                self._drawn = None
            elif event.type == pygame.KEYDOWN:
                if event.key == pygame.K_F11:
                    self._full = not self._full
                    self._open()
                elif event.key in KEYS:
                    words.append(KEYS[event.key])
                    self._down[event.key] = KEYS[event.key]
                elif event.unicode and event.unicode.isprintable():
                    words.append(event.unicode)
                    self._down[event.key] = event.unicode
            elif event.type == pygame.KEYUP and event.key in self._down:
                words.append(f"{self._down.pop(event.key)} released")
        if self._glance is not None:
            self.show(self._glance)
        return words

    def _resized(self) -> None:
        self._surface = pygame.display.get_surface()
        if not self._full:
            width, height = self._surface.get_size()
            if width < LEAST[0] or height < LEAST[1]:
                size = (max(width, LEAST[0]), max(height, LEAST[1]))
                self._surface = pygame.display.set_mode(size, pygame.RESIZABLE)
            self._size = self._surface.get_size()
        self._drawn = None

    def picture(self) -> pygame.Surface:
        """A copy of what is shown."""
        return self._surface.copy()

    def close(self) -> None:
        """Close the window."""
        typeset.forget_fonts()
        pygame.display.quit()
        pygame.font.quit()


def _refuse_what_nobody_sees() -> None:
    """SDL draws into memory where no display answers: only by wish is that a window."""
    driver = pygame.display.get_driver()
    if driver in UNSEEN and os.environ.get("SDL_VIDEODRIVER") != driver:
        pygame.display.quit()
        raise pygame.error("no display answers")
