"""Colours, and the contrast between them."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.calc import legible
from assistant.drawing import Ink

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
            Ink.VOID: self.paper,
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
    strong=(0, 40, 126),
    quiet=(124, 122, 116),
    metal=(176, 180, 182),
    togo=(92, 94, 96),
    next=(0, 40, 126),
)
THEMES = {theme.name: theme for theme in (DARK, LIGHT)}

LEAST_CONTRAST = 12.0
"""For all text. WCAG 2.1 asks 7:1 for its highest level (success criterion 1.4.6)."""


def contrast(one: Colour, other: Colour) -> float:
    """Contrast ratio of two colours, 1 to 21 (WCAG 2.x)."""
    return float(legible.contrast(_hex(one), _hex(other)))


def _hex(colour: Colour) -> str:
    return f"#{colour[0]:02x}{colour[1]:02x}{colour[2]:02x}"
