"""Colours, and the contrast between them by the WCAG formula."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.present.drawings.model import Ink

Colour = tuple[int, int, int]


@dataclass(frozen=True, slots=True)
class Theme:
    """One set of colours. Text is only ever `ink`, `strong` on `paper`, or `paper` on `strong`."""

    name: str
    paper: Colour
    ink: Colour
    strong: Colour
    """The number when it has just changed, bands and marks: text and ground, so 12:1 as well."""
    quiet: Colour
    """Lines that only guide the eye."""
    metal: Colour
    """Fill of the work."""
    togo: Colour
    """Hatching of what is still to be cut."""
    next: Colour
    """Fill of what this pass takes."""

    def of(self, ink: Ink) -> Colour:
        """The colour of a drawing's ink."""
        return {
            Ink.METAL: self.metal,
            Ink.TOGO: self.togo,
            Ink.NEXT: self.next,
            Ink.TOOL: self.ink,
            Ink.GHOST: self.ink,
            Ink.EDGE: self.ink,
            Ink.MARK: self.strong,
            Ink.FAINT: self.quiet,
        }[ink]


DARK = Theme(
    name="dark",
    paper=(12, 15, 18),
    ink=(240, 238, 230),
    strong=(255, 214, 92),
    quiet=(120, 126, 130),
    metal=(86, 96, 106),
    togo=(176, 182, 186),
    next=(255, 214, 92),
)
LIGHT = Theme(
    name="light",
    paper=(250, 248, 242),
    ink=(16, 18, 20),
    strong=(9, 38, 102),
    quiet=(124, 122, 116),
    metal=(176, 180, 182),
    togo=(92, 94, 96),
    next=(9, 38, 102),
)
THEMES = {theme.name: theme for theme in (DARK, LIGHT)}

LEAST_CONTRAST = 12.0
"""For all text. WCAG 2.1 asks 7:1 for its highest level (success criterion 1.4.6)."""


def luminance(colour: Colour) -> float:
    """Relative luminance, 0 to 1 (WCAG 2.1, definition of relative luminance)."""

    def linear(channel: int) -> float:
        share = channel / 255
        return share / 12.92 if share <= 0.04045 else float(((share + 0.055) / 1.055) ** 2.4)

    red, green, blue = (linear(channel) for channel in colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: Colour, other: Colour) -> float:
    """Contrast ratio, 1 to 21 (WCAG 2.1, definition of contrast ratio)."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)
