"""Angles and setting up: sine bar, tilt, dovetails over pins, tramming, V-blocks.

Angles are quantities in degrees. Formulas are plane geometry; a source
is named, and whether from memory, where a function has one.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc import trig
from assistant.calc.exact import in_unit, positive, shown, system
from assistant.errors import ImpossibleInput
from assistant.units import Quantity, quantity

RIGHT = quantity(90, "degree")


def _degrees(field: str, angle: Quantity, low: int, high: int) -> Decimal:
    """An angle in degrees, between the limits and on neither."""
    value = in_unit(angle, "degree")
    if not low < value < high:
        raise ImpossibleInput(
            field, f"{value} deg", f"must be more than {low} and less than {high} degrees"
        )
    return value


def _angle(degrees: Decimal) -> Quantity:
    return quantity(degrees, "degree")


def sine_bar_stack(length: Quantity, angle: Quantity) -> Quantity:
    """Gauge block stack under a sine bar: length x sin(angle).

    Above 45 degrees set the complement: a small error in the stack grows. Source: Handbook of
    Machining and Metalworking Calculations, ch. 4.
    """
    unit = system(length)
    sine = trig.sin(_degrees("angle", angle, 0, 90))
    return quantity(in_unit(positive("sine bar length", length), unit) * sine, unit)


def sine_bar_angle(length: Quantity, stack: Quantity) -> Quantity:
    """The angle that a stack gives: asin(stack / length)."""
    unit = system(length)
    ratio = in_unit(positive("stack", stack), unit) / in_unit(positive("length", length), unit)
    if ratio >= 1:
        raise ImpossibleInput("stack", shown(stack), f"must be less than the bar, {shown(length)}")
    return _angle(trig.asin(ratio))


def tilt_rise(run: Quantity, angle: Quantity) -> Quantity:
    """Rise over a length at an angle, to set a head or vice by indicator: run x tan(angle)."""
    unit = system(run)
    tangent = trig.tan(_degrees("angle", angle, -90, 90))
    return quantity(in_unit(run, unit) * tangent, unit)


def tilt_angle(run: Quantity, rise: Quantity) -> Quantity:
    """The angle of a rise over a length: atan(rise / run)."""
    unit = system(run)
    return _angle(trig.atan(in_unit(rise, unit) / in_unit(positive("run", run), unit)))


@dataclass(frozen=True, slots=True)
class Dovetail:
    """A dovetail, and how it is measured with two pins in its corners."""

    narrow: Quantity
    """Across at the narrow end of its sides."""
    wide: Quantity
    """Across at the wide end."""
    over_pins: Quantity
    """Over two pins outside (male), or between two pins inside (female)."""
    largest_pin: Quantity
    """A larger pin would touch above the side and not on it."""


def dovetail(
    wide: Quantity, depth: Quantity, angle: Quantity, pin: Quantity, *, female: bool = False
) -> Dovetail:
    """Measurement of a dovetail over (male) or between (female) two pins.

    `wide` is the sharp-cornered width at the wide end, `angle` that of the sides to the base.
    Male: narrow + d (1 + cot(A/2)), with narrow = wide - 2 depth cot(A). Female: wide - d (1 +
    cot(A/2)). Source: from memory of Machinery's Handbook, dovetail slides.
    """
    unit = system(wide)
    side = _degrees("angle", angle, 0, 90)
    across, deep, d = (
        in_unit(positive(name, size), unit)
        for name, size in (("width", wide), ("depth", depth), ("pin", pin))
    )
    narrow = across - 2 * deep / trig.tan(side)
    if narrow <= 0:
        raise ImpossibleInput(
            "depth", shown(depth), f"the sides would meet in a width of {shown(wide)}"
        )
    reach = d * (1 + 1 / trig.tan(side / 2))
    measured = across - reach if female else narrow + reach
    if measured <= 0:
        raise ImpossibleInput("pin", shown(pin), "too large for two of them in this dovetail")
    # The pin touches the side d/2 (1 + cos A) above the base; that has to be on the side.
    largest = 2 * deep / (1 + trig.cos(side))
    if d > largest:
        raise ImpossibleInput(
            "pin", shown(pin), f"touches above the side: {shown(quantity(largest, unit))} at most"
        )
    return Dovetail(*(quantity(size, unit) for size in (narrow, across, measured, largest)))


def tram_correction(difference: Quantity, sweep: Quantity, across: Quantity) -> Quantity:
    """How far to move the far end of a part by, from an indicator swept over it.

    `difference` is the indicator's change over `sweep`, `across` the length between pivot and
    the place where it is corrected: difference x across / sweep. Also for a vice jaw.
    """
    unit = system(difference)
    length = in_unit(positive("sweep", sweep), unit)
    return quantity(in_unit(difference, unit) * in_unit(across, unit) / length, unit)


def v_block_top_shift(change: Quantity, included: Quantity = RIGHT) -> Quantity:
    """How far the top of a shaft moves in a V-block for a change of diameter.

    change x (1 + 1 / sin(A/2)) / 2: 1.207 times it in a 90 degree V. The centre stays in the
    middle of the V.
    """
    unit = system(change)
    sine = trig.sin(_degrees("V angle", included, 0, 180) / 2)
    return quantity(in_unit(change, unit) * (1 + 1 / sine) / 2, unit)


def v_block_centre_shift(change: Quantity, included: Quantity = RIGHT) -> Quantity:
    """How far the centre of a shaft rises in a V-block: change / (2 sin(A/2)), 0.7071 times it
    in a 90 degree V."""
    unit = system(change)
    sine = trig.sin(_degrees("V angle", included, 0, 180) / 2)
    return quantity(in_unit(change, unit) / (2 * sine), unit)


def vice_top_shift(change: Quantity) -> Quantity:
    """How far the top of a shaft on the bed of a vice moves: the whole change of diameter."""
    unit = system(change)
    return quantity(in_unit(change, unit), unit)


def vice_centre_shift(change: Quantity) -> Quantity:
    """How far the centre moves from the fixed jaw of a vice: half the change of diameter."""
    unit = system(change)
    return quantity(in_unit(change, unit) / 2, unit)


def from_square(angle_to_axis: Quantity) -> Quantity:
    """The other way of reading a swivel: 90 degrees less the angle. A compound at 29-1/2 from
    square to the axis reads 60-1/2 on some lathes."""
    value = in_unit(angle_to_axis, "degree")
    if not 0 <= value <= 90:
        raise ImpossibleInput("angle", f"{value} deg", "must be 0 to 90 degrees")
    return _angle(90 - value)
