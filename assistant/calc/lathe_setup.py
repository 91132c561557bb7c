"""Setting a lathe up: dialling in a chuck or a bore, bringing the tailstock into line, and how
springy the work stands.

Common practice, no source; the halving is geometry.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.exact import in_unit, positive, shown
from assistant.errors import ImpossibleInput
from assistant.units import Quantity


@dataclass(frozen=True, slots=True)
class DialIn:
    """Bringing a piece to run true against an indicator."""

    runout: Quantity
    """The whole swing of the indicator."""
    move: Quantity
    """How far to bring it over: half of the swing."""


def dial_in(high: Quantity, low: Quantity) -> DialIn:
    """Highest and lowest reading of a turn, outside or in a bore: move by half their difference.

    Turn the high spot to the indicator and move the piece until the needle has fallen by `move`.
    """
    runout = high - low
    if runout.magnitude < 0:
        raise ImpossibleInput("low", shown(low), f"must be at or below the high, {shown(high)}")
    return DialIn(runout=runout, move=runout / 2)


@dataclass(frozen=True, slots=True)
class TailstockShift:
    """Bringing the tailstock into line."""

    shift: Quantity
    """How far to move its centre; never negative."""
    towards_tool: bool
    """True: towards the tool (the operator's side, for a tool at the front)."""


def tailstock_shift(
    headstock_collar: Quantity,
    tailstock_collar: Quantity,
    spacing: Quantity,
    length: Quantity,
) -> TailstockShift:
    """Shift of the tailstock from two collars turned at one setting of the cross slide.

    `spacing` is between the collars, `length` from the chuck or headstock centre to the tailstock
    centre. A larger collar at the tailstock stood further from the tool: the centre comes towards
    it by half the difference, times length over spacing.
    """
    positive("headstock collar", headstock_collar)
    difference = positive("tailstock collar", tailstock_collar) - headstock_collar
    apart, whole = in_unit(positive("spacing", spacing), "mm"), in_unit(length, "mm")
    if whole < apart:
        raise ImpossibleInput(
            "length", shown(length), f"can't be less than the {shown(spacing)} between the collars"
        )
    return TailstockShift(
        shift=abs(difference) / 2 * whole / apart, towards_tool=difference.magnitude > 0
    )


@dataclass(frozen=True, slots=True)
class Slenderness:
    """How springy a piece between its supports is."""

    ratio: Decimal
    """Unsupported length over diameter."""
    advice: str
    """What is usual at that ratio; common practice, no source."""


def slenderness(length: Quantity, dia: Quantity, tailstock: bool) -> Slenderness:
    """Whether a piece `length` out of the chuck needs support; common practice, no source.

    Held in the chuck alone up to three diameters; with the tailstock up to ten; beyond that a
    travelling or fixed steady.
    """
    ratio = in_unit(positive("length", length), "mm") / in_unit(positive("diameter", dia), "mm")
    if ratio <= 3:
        advice = "stiff enough in the chuck"
    elif not tailstock:
        advice = "bring up the tailstock; without it light cuts only, the end springs away"
    elif ratio <= 10:
        advice = "on the tailstock: light finishing cuts, then spring passes, measure at the middle"
    else:
        advice = "use a steady: it springs in the middle and comes out large there"
    return Slenderness(ratio, advice)
