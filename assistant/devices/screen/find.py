"""Chooses the screen: a window where there is a display, else pictures, and says which."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from pathlib import Path

from assistant.devices.screen.png import PngScreen
from assistant.devices.screen.window import WindowScreen
from assistant.errors import DeviceMissing


def display_missing() -> str:
    """Why no window can be opened here, or '' where it seems possible."""
    named = ("SDL_VIDEODRIVER", "DISPLAY", "WAYLAND_DISPLAY")
    if sys.platform.startswith("linux") and not any(os.environ.get(name) for name in named):
        return "neither DISPLAY nor WAYLAND_DISPLAY is set"
    return ""


def find_screen(
    pictures: Path,
    size: tuple[int, int] = (1280, 720),
    *,
    full: bool = False,
    smallest: Callable[[tuple[int, int]], int] | None = None,
) -> tuple[WindowScreen | PngScreen, str]:
    """A screen, and one plain line that says what is missing ('' where nothing is)."""
    why = display_missing()
    if not why:
        try:
            return WindowScreen(size, full=full, smallest=smallest), ""
        except DeviceMissing as missing:
            why = missing.why
    line = f"No display ({why}): each changed screen is saved as a picture in {pictures}"
    return PngScreen(pictures, size, smallest=smallest), line
