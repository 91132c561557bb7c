"""Measuring an external 60 degree thread over three wires.

M = E + 3 W - 0.866025 P, the wires of diameter W lying in the grooves. As usually printed this
leaves out that the wires lie askew in the helix; `helix_correction` gives what is left out. It is
a tenth or less on ordinary coarse threads, and is not left out by those who work to class 3A.
Source: Machinery's Handbook, measuring screw threads, three-wire method; ASME B1.2.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.exact import in_unit, positive, shown
from assistant.calc.table import rows
from assistant.calc.threads import H_PER_PITCH, SQRT3
from assistant.calc.trig import PI, cos
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import Quantity, inches, magnitude

_SMALLEST = Decimal("0.505182")
"""Of the pitch: M must stand above the crests, 3 W > (0.649519 + 0.866025) P."""
_LARGEST = Decimal("1.010363")
"""Of the pitch: a larger wire rides on the crest's corners, W cos 30 > 7/8 P."""


def best_wire(pitch: Quantity) -> Quantity:
    """The wire that touches the flanks at the pitch diameter: P / sqrt 3 = 0.57735 P."""
    wire: Quantity = positive("pitch", pitch) / SQRT3
    return wire


def usable_wires(pitch: Quantity) -> tuple[Quantity, Quantity]:
    """The smallest and the largest wire that can measure a thread of `pitch` at all."""
    positive("pitch", pitch)
    return pitch * _SMALLEST, pitch * _LARGEST


def pick_wire(pitch: Quantity, wires: Sequence[Quantity]) -> Quantity:
    """Of the wires at hand the one nearest to the best.

    Raises `ImpossibleInput` where none of them will do.
    """
    low, high = usable_wires(pitch)
    fit = [wire for wire in wires if low <= wire <= high]
    if not fit:
        raise ImpossibleInput(
            "wires", ", ".join(map(shown, wires)) or "none",
            f"wanted one from {shown(low)} to {shown(high)}, best {shown(best_wire(pitch))}",
        )  # fmt: skip
    best = best_wire(pitch)
    return min(fit, key=lambda wire: abs(in_unit(wire - best, "mm")))


def usual_wires() -> tuple[Quantity, ...]:
    """The wires of a usual set, smallest first; measure the ones at hand."""
    return tuple(inches(row["wire"]) for row in rows("thread_wires"))


def wire_at_hand(pitch: Quantity, wires: Sequence[Quantity] | None = None) -> Quantity:
    """`pick_wire` from the wires given, or from a usual set."""
    return pick_wire(pitch, wires or usual_wires())


def size_over_wires(pitch_dia: Quantity, pitch: Quantity, wire: Quantity) -> Quantity:
    """Reading over three wires for a thread of `pitch_dia`: E + 3 W - 0.866025 P.

    Raises `ImpossibleInput` for a wire that sinks below the crests or rides on their corners.
    """
    positive("pitch diameter", pitch_dia)
    _check(pitch, wire)
    size: Quantity = pitch_dia + 3 * wire - H_PER_PITCH * pitch
    return size


def pitch_dia_from_wires(over_wires: Quantity, pitch: Quantity, wire: Quantity) -> Quantity:
    """Pitch diameter from a reading over three wires: M - 3 W + 0.866025 P."""
    _check(pitch, wire)
    size: Quantity = positive("size over wires", over_wires) - 3 * wire + H_PER_PITCH * pitch
    if size.magnitude <= 0:
        raise ImpossibleInput("size over wires", shown(over_wires), "smaller than the three wires")
    return size


def helix_correction(pitch_dia: Quantity, lead: Quantity, wire: Quantity) -> Quantity:
    """What the printed formula leaves out, to be added to the size over wires.

    W / 2 x tan^2 (lead angle) x cos 30 x cot 30 = 3/4 W (lead / (pi E))^2. `lead` is the pitch,
    or the pitch times the starts.
    """
    slope = in_unit(positive("lead", lead), "mm")
    slope /= PI * in_unit(positive("pitch diameter", pitch_dia), "mm")
    correction: Quantity = positive("wire", wire) * slope**2 * 3 / 4
    return correction


@dataclass(frozen=True, slots=True)
class ToGo:
    """What is still to come off a thread, from a reading over wires."""

    over: Quantity
    """The reading less the size wanted; negative where the thread is already small."""
    infeed: Quantity
    """Square to the axis: half of it."""
    compound: Quantity
    """Along a compound set over by its angle from square: infeed / cos."""


def to_go(measured: Quantity, wanted: Quantity, compound: Quantity) -> ToGo:
    """How much further to feed when `measured` over the wires and `wanted` are known.

    `compound` is how far the compound is set over from square to the axis, 0 to under 90 degrees;
    0 where the cross slide feeds. The pitch diameter falls by twice the infeed, and the size over
    wires with it.
    """
    angle = magnitude(compound, "degree")
    if not 0 <= angle < 90:
        raise BadInput("compound", f"{angle} deg", "wanted 0 to less than 90 degrees from square")
    over = positive("measured", measured) - positive("wanted", wanted)
    return ToGo(over=over, infeed=over / 2, compound=over / 2 / cos(angle))


def _check(pitch: Quantity, wire: Quantity) -> None:
    positive("wire", wire)
    low, high = usable_wires(pitch)
    if not low <= wire <= high:
        raise ImpossibleInput(
            "wire", shown(wire),
            f"wanted {shown(low)} to {shown(high)} for this pitch, best {shown(best_wire(pitch))}",
        )  # fmt: skip
