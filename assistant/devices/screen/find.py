"""Chooses the screen: a window where there is a display, else pictures, and says which."""

from __future__ import annotations

import os
import sys
from functools import partial
from pathlib import Path

import pygame

from assistant.devices.screen.display import display_size
from assistant.devices.screen.legible import Viewing, viewing
from assistant.devices.screen.png import PngScreen
from assistant.devices.screen.process import WindowProcess, ends_with_its_display
from assistant.devices.screen.window import WindowScreen
from assistant.errors import DeviceMissing
from assistant.present.glance import READING
from assistant.units import Quantity, mm

SUPPOSED = mm("609.6")
"""Diagonal of a screen of which nothing is known: 24 inches."""


def display_missing() -> str:
    """Why no window can be opened here, or '' where it seems possible."""
    named = ("SDL_VIDEODRIVER", "DISPLAY", "WAYLAND_DISPLAY")
    if sys.platform.startswith("linux") and not any(os.environ.get(name) for name in named):
        return "neither DISPLAY nor WAYLAND_DISPLAY is set"
    return ""


def viewing_here(distance: Quantity, width: Quantity | None = None) -> tuple[Viewing, str]:
    """How the screen is seen from `distance`, and how its size is known.

    `width` of the lit area as set by the operator; else what the display tells of itself; else
    24 inches are supposed.
    """
    pixels = desktop_pixels() or (1920, 1080)
    if width is not None:
        return viewing(distance, pixels, width=width), f"{width:~} wide, as set"
    told = display_size()
    if told is not None:
        return viewing(distance, pixels, width=told[0]), f"{told[0]:~} wide, as the display tells"
    return (
        viewing(distance, pixels, diagonal=SUPPOSED),
        "supposed to be 24 inches: set screen_width to what it is",
    )


def desktop_pixels() -> tuple[int, int] | None:
    """Pixels of the first display; None without one."""
    if display_missing():
        return None
    opened = pygame.display.get_init()
    try:
        if not opened:
            pygame.display.init()
        sizes = pygame.display.get_desktop_sizes()
    except pygame.error:
        return None
    finally:
        if not opened:
            pygame.display.quit()
    return sizes[0] if sizes and min(sizes[0]) > 0 else None


def find_window(
    view: Viewing | None,
    leads: str = READING,
    size: tuple[int, int] = (1280, 720),
    *,
    full: bool = False,
    wait: bool = True,
) -> tuple[WindowScreen | WindowProcess | None, str]:
    """A window, or None and why there is none.

    With `view` no type is smaller than is legible from there, if it all fits. `leads` is one of
    `LEADS`. Without `wait` a window may still be opening.
    """
    why = display_missing()
    if why:
        return None, why
    smallest = view.smallest if view is not None else None
    make = partial(WindowScreen, size, full=full, smallest=smallest, leads=leads)
    try:
        return (WindowProcess(make, wait=wait) if ends_with_its_display() else make()), ""
    except DeviceMissing as missing:
        return None, missing.why


def find_screen(
    pictures: Path,
    size: tuple[int, int] = (1280, 720),
    *,
    full: bool = False,
    view: Viewing | None = None,
    leads: str = READING,
    wait: bool = True,
) -> tuple[WindowScreen | WindowProcess | PngScreen, str]:
    """A screen, and one plain line that says what is missing ('' where nothing is).

    Pictures are for the file and are looked at from near: they are drawn in the usual sizes. The
    rest is as for `find_window`.
    """
    window, why = find_window(view, leads, size, full=full, wait=wait)
    if window is not None:
        return window, ""
    line = f"No display ({why}): each changed screen is saved as a picture in {pictures}"
    return PngScreen(pictures, size, leads=leads), line
