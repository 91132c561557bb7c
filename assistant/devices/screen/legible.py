"""How large the type must be for a viewing distance, and how large it is."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc import legible, trig
from assistant.devices.screen.needs import CAPITAL, Role
from assistant.devices.screen.page import laid_out
from assistant.errors import ImpossibleInput
from assistant.present.glance import READING, Glance, Moment, Stop
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
    """What a window of one size offers at a viewing distance, on the fullest of usual pages."""

    number: Decimal
    """Height of the large number in minutes of arc, where it is least."""
    smallest: Decimal
    """Height of the smallest capitals in minutes of arc: of a line that has to be read, as turns or
    a caution are."""
    leaves: int
    """The most leaves that a page takes: its sentences then come by turns."""

    @property
    def readable(self) -> bool:
        """Whether the least of the lines can be read at all."""
        return self.smallest >= LEAST_ANGLE - Decimal("0.5")

    @property
    def verdict(self) -> str:
        """In a sentence, about the least line; with what to do where it falls short."""
        if not self.readable:
            return (
                f"too small: turns and cautions are {self.smallest:.0f} minutes of arc high on a "
                f"full page, and {LEAST_ANGLE} are needed; come nearer or take a larger screen"
            )
        least = f"the least line is {self.smallest:.0f} minutes of arc high"
        if self.leaves > 1:
            return (
                f"readable: {least}, the number {self.number:.0f}; the sentences of a full page "
                f"come by turns, {self.leaves} at most"
            )
        if self.number < NUMBER_ANGLE:
            return (
                f"readable: {least}, but the number is {self.number:.0f} on a full page, "
                f"where {NUMBER_ANGLE} are wanted"
            )
        return f"good: {least}, the number {self.number:.0f} or more"


def legibility(size: tuple[int, int], view: Viewing, leads: str = READING) -> Legibility:
    """Measured on pages as full as those of a usual job, laid out at `size`."""
    angles, leaves, small = [], 1, size[1]
    for glance in FULL_PAGES:
        laid, _, _ = laid_out(glance, size, smallest=view.smallest(size), leads=leads)
        leaves, small = max(leaves, len(laid.leaves)), min(small, laid.small)
        angles += [
            view.angle(line.size * CAPITAL)
            for line in laid.leaves[0]
            if line.need.role is Role.NUMBER
        ]
    return Legibility(min(angles), view.angle(round(small * CAPITAL)), leaves)


_FULL = Glance(
    Moment.MOVE,
    number="0.9405",
    unit="in",
    widest="0.0000",
    what="saddle in",
    stop=Stop("4 turns + 140½, past zero, stop at", "140½", "000½"),
    way="in",
    instruction="Don't back it off. Drop the knee 10 turns. Then saddle in. Lock it.",
    place="step 11 of 35",
    trouble=("No speaker",),
    say="I'm set",
)
FULL_PAGES = (
    _FULL,
    Glance(
        Moment.TOUCH,
        instruction="Now touch the top: knee up, gently, from below.",
        cautions=(
            "Feelers: spindle stopped and isolated, cutter turned backwards by hand.",
            "Turning cutter: only oiled paper stuck on, hands well away.",
        ),
        place="step 14 of 36",
        trouble=("No speaker",),
        say="touched",
    ),
)
"""A move and a touch of a keyseat, with a device missing: what a screen must have room for."""

STANDARD = viewing(mm(2000), (1920, 1080), diagonal=mm("609.6"))
"""Where nothing is known: 2 m from a screen of 24 inches."""
