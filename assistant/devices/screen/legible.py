"""How large the type must be for a viewing distance, and how large it is."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

import pygame

from assistant.calc import legible, trig
from assistant.devices.screen.page import paint
from assistant.devices.screen.typeset import CAPITAL
from assistant.errors import ImpossibleInput
from assistant.present.glance import Glance, Moment
from assistant.units import Quantity, magnitude, mm

LEAST_ANGLE = Decimal(16)
"""Minutes of arc: least height of a character to be read at all."""
NUMBER_ANGLE = Decimal(60)
"""Minutes of arc aimed at for the large number."""
SOURCE = "NUREG-0700 Rev. 2, guideline 1.3.1-4: at least 16 minutes of arc, 20 to 22 preferred"


@dataclass(frozen=True, slots=True)
class Viewing:
    """From how far a screen is read, and how large its pixels are."""

    distance: Quantity
    pixel: Quantity
    """Width of one pixel."""

    def angle(self, pixels: float) -> Decimal:
        """Height of so many pixels in minutes of arc at the distance."""
        height = magnitude(self.pixel, "mm") * Decimal(pixels)
        return 120 * trig.atan(height / (2 * magnitude(self.distance, "mm")))

    def pixels(self, angle: Decimal) -> float:
        """Pixels that are `angle` minutes of arc high at the distance."""
        height = legible.character_height(self.distance, angle)
        return float(magnitude(height, "mm") / magnitude(self.pixel, "mm"))

    def smallest(self, size: tuple[int, int]) -> int:
        """The type size in pixels whose capitals are just legible; for any window size."""
        return max(1, round(self.pixels(LEAST_ANGLE) / CAPITAL + 0.5))


def viewing(
    distance: Quantity, screen: tuple[int, int], *, width: Quantity | None = None,
    diagonal: Quantity | None = None,
) -> Viewing:  # fmt: skip
    """From the screen's pixels and its real width or diagonal.

    Raises `ImpossibleInput` for a distance or size that can't be.
    """
    for name, value in (("viewing distance", distance), ("width", width), ("diagonal", diagonal)):
        if value is not None and value.magnitude <= 0:
            raise ImpossibleInput(name, f"{value:~}", "must be more than zero")
    if width is not None:
        return Viewing(distance, width / screen[0])
    if diagonal is None:
        raise ImpossibleInput("screen size", "not known", "give its width or its diagonal")
    across = (Decimal(screen[0]) ** 2 + Decimal(screen[1]) ** 2).sqrt()
    return Viewing(distance, diagonal / across)


@dataclass(frozen=True, slots=True)
class Legibility:
    """What a window of one size offers at a viewing distance."""

    number: Decimal
    """Height of the large number in minutes of arc."""
    smallest: Decimal
    """Height of the smallest capitals in minutes of arc."""
    number_pixels: int
    smallest_pixels: int

    @property
    def readable(self) -> bool:
        """Whether the smallest type can be read at all."""
        return self.smallest >= LEAST_ANGLE - Decimal("0.5")

    @property
    def verdict(self) -> str:
        """In a sentence, with what to do where it falls short."""
        if not self.readable:
            return (
                f"too small: the smallest type is {self.smallest:.0f} minutes of arc and "
                f"{LEAST_ANGLE} are needed; come nearer or take a larger screen"
            )
        if self.number < NUMBER_ANGLE:
            return (
                f"readable, but the number is {self.number:.0f} minutes of arc high, "
                f"where {NUMBER_ANGLE} are wanted"
            )
        return f"good: the number is {self.number:.0f} minutes of arc high"


def legibility(size: tuple[int, int], view: Viewing, number: str = "0.0000") -> Legibility:
    """Measured on a page with a number like `number`, drawn at `size`."""
    glance = Glance(Moment.MOVE, number=number, widest=number, unit="in", what="saddle in")
    page = paint(pygame.Surface(size), glance, smallest=view.smallest(size))
    assert page.number_box is not None
    small = round(page.small * CAPITAL)
    return Legibility(
        view.angle(page.number_box.height), view.angle(small), page.number_box.height, small
    )


STANDARD = viewing(mm(2000), (1920, 1080), diagonal=mm("609.6"))
"""Where nothing is known: 2 m from a screen of 24 inches."""
