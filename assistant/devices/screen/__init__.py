"""The screen: a window, or pictures where there is no display."""

from assistant.devices.screen.find import display_missing, find_screen
from assistant.devices.screen.png import PngScreen
from assistant.devices.screen.window import WindowScreen

__all__ = ["PngScreen", "WindowScreen", "display_missing", "find_screen"]
