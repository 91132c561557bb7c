"""The screen: a window, or pictures where there is no display."""

import os

os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")  # before pygame is imported anywhere
# A page is drawn in memory and put up whole: no need of the graphics driver, which takes 40 MB.
os.environ.setdefault("SDL_FRAMEBUFFER_ACCELERATION", "0")

from assistant.devices.screen.answering import display_answers
from assistant.devices.screen.display import display_size
from assistant.devices.screen.find import display_missing, find_screen, find_window, viewing_here
from assistant.devices.screen.legible import STANDARD, Legibility, Viewing, legibility, viewing
from assistant.devices.screen.png import PngScreen
from assistant.devices.screen.process import WindowProcess
from assistant.devices.screen.window import WindowScreen

__all__ = [
    "STANDARD",
    "Legibility",
    "PngScreen",
    "Viewing",
    "WindowProcess",
    "WindowScreen",
    "display_answers",
    "display_missing",
    "display_size",
    "find_screen",
    "find_window",
    "legibility",
    "viewing",
    "viewing_here",
]
