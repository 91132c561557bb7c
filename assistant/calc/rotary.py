"""A rotary table without plates: turns of the handwheel, then degrees, minutes and seconds."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from assistant.calc.indexing import exact_degrees
from assistant.errors import ImpossibleInput
from assistant.units import Quantity


@dataclass(frozen=True, slots=True)
class TableSetting:
    """Where the handwheel of a rotary table stands, from zero."""

    turns: int
    """Whole turns of the handwheel."""
    degrees: int
    """On its dial, after the whole turns."""
    minutes: int
    seconds: Decimal
    """Zero to under 60; set to the dial's finest reading where one was given."""
    error_arcsec: Decimal
    """What setting it to the dial's finest reading adds (positive) or leaves out."""

    @property
    def dial_degrees(self) -> Decimal:
        """Degrees, minutes and seconds on the dial, together as decimal degrees."""
        return self.degrees + (self.minutes * 60 + self.seconds) / Decimal(3600)


def table_angle(ratio: int, angle: Quantity, finest_arcsec: int | None = None) -> TableSetting:
    """Turns and dial for an angle, 0 up to 360 degrees, on a table of `ratio` to 1.

    A turn of the handwheel is 360 / ratio degrees: 4 on a table of 90 to 1. `finest_arcsec` is
    the finest reading of dial or vernier, and is what the setting is rounded to.
    """
    degrees = exact_degrees(angle)
    if not 0 <= degrees <= 360:
        raise ImpossibleInput("angle", f"{float(degrees)} deg", "wanted 0 to 360 degrees")
    return _setting(ratio, degrees * 3600, finest_arcsec)


def table_position(
    ratio: int, divisions: int, index: int, finest_arcsec: int | None = None
) -> TableSetting:
    """Setting from zero for space `index` of `divisions`: always from zero, never added up.

    Space 0 is zero itself and `divisions` is once round.
    """
    if divisions < 1:
        raise ImpossibleInput("divisions", divisions, "wanted one or more")
    if not 0 <= index <= divisions:
        raise ImpossibleInput("index", index, f"wanted 0 to {divisions}")
    return _setting(ratio, Fraction(1_296_000 * index, divisions), finest_arcsec)


def degrees_per_turn(ratio: int) -> Fraction:
    """Degrees of the table to a turn of the handwheel: 360 / ratio."""
    if not 1 <= ratio <= 1000:
        raise ImpossibleInput("ratio", ratio, "wanted the table's ratio to 1: 40, 60, 72, 90")
    return Fraction(360, ratio)


def _setting(ratio: int, exact: Fraction, finest: int | None) -> TableSetting:
    if finest is not None and finest < 1:
        raise ImpossibleInput("finest reading", finest, "wanted one arc second or more")
    # The dial shows the part of a turn: it is that part which is rounded to what can be read.
    turn = degrees_per_turn(ratio) * 3600
    turns, rest = divmod(exact, turn)
    shown = Fraction(round(rest / finest) * finest) if finest else rest
    if shown >= turn:
        turns, shown = turns + 1, shown - turn
    error = turns * turn + shown - exact
    degrees, rest = divmod(shown, 3600)
    minutes, seconds = divmod(rest, 60)
    return TableSetting(
        turns=turns,
        degrees=degrees,
        minutes=minutes,
        seconds=Decimal(seconds.numerator) / Decimal(seconds.denominator),
        error_arcsec=Decimal(error.numerator) / Decimal(error.denominator),
    )


def turn_in_degrees(ratio: int) -> Decimal:
    """`degrees_per_turn` as a decimal number."""
    degrees = degrees_per_turn(ratio)
    return Decimal(degrees.numerator) / Decimal(degrees.denominator)
