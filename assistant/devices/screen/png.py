"""Where there is no display: each changed screen is saved as a picture."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")

import pygame

from assistant.devices.screen.page import paint
from assistant.errors import DeviceFailed
from assistant.present.glance import READING, Glance


class PngScreen:
    """The `Screen` without a display: `0001-move.png`, `0002-cut.png` ... in `folder`; a page of
    several leaves takes as many pictures.

    The ear's level alone makes no new picture.
    """

    def __init__(
        self,
        folder: Path,
        size: tuple[int, int] = (1280, 720),
        *,
        smallest: Callable[[tuple[int, int]], int] | None = None,
        leads: str = READING,
    ) -> None:
        self.name = f"pictures in {folder}"
        self.folder = folder
        self.saved: list[Path] = []
        self._size = size
        self._smallest, self._leads = smallest, leads
        self._shown: Glance | None = None
        pygame.font.init()
        try:
            folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise DeviceFailed("screen pictures", f"{folder}: {error.strerror}") from None

    def show(self, glance: Glance) -> None:
        """Save the page if it differs from the last one."""
        if self._shown is not None and _same(glance, self._shown):
            return
        fresh = self._shown is None or (glance.number, glance.what) != (
            self._shown.number,
            self._shown.what,
        )
        surface = pygame.Surface(self._size)
        smallest = self._smallest(self._size) if self._smallest else 0
        leaf, leaves = 0, 1
        while leaf < leaves:
            page = paint(
                surface, glance, smallest=smallest, fresh=fresh, leaf=leaf, leads=self._leads
            )
            leaf, leaves = leaf + 1, page.leaves
            path = self.folder / f"{len(self.saved) + 1:04d}-{glance.moment.value}.png"
            try:
                pygame.image.save(surface, str(path))
            except (pygame.error, OSError) as error:
                raise DeviceFailed("screen pictures", f"{path}: {error}") from None
            self.saved.append(path)
        self._shown = glance

    def keys(self) -> Sequence[str]:
        """No keys without a window."""
        return ()

    def close(self) -> None:
        """Nothing to close."""


def _same(one: Glance, other: Glance) -> bool:
    """Whether they differ in nothing that is worth a picture."""
    return replace(one, level=0.0) == replace(other, level=0.0)
