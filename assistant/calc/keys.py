"""Straight keys: which key a shaft takes, and where the keyseat's floor has to be.

Two standards with two zeros (both are kept apart here, and everything is also given from the
top of the shaft, where the cutter is touched off):

- ASME B17.1: half the key's height, H/2, is the depth at the keyseat's *side wall*;
- DIN 6885-1: t1 is the depth from the *crown* of the shaft.

The chordal height Y = (D - sqrt(D^2 - W^2)) / 2 is what lies between the two. Lengths are
quantities; a result is in inches or millimetres as the shaft was given. Formulas: Machinery's
Handbook, 31st ed., keys and keyseats, p. 2552 (ASME B17.1); DIN 6885-1.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.exact import as_unit, in_unit, leg, positive, shown, system
from assistant.calc.key_tables import (
    FLOOR_MINUS,
    HUB_PLUS,
    Key,
    Limits,
    Standard,
    key_as_given,
    key_for_shaft,
    seat_width,
)
from assistant.errors import ImpossibleInput
from assistant.units import Quantity, mm, quantity

__all__ = [
    "HubKeyway",
    "Key",
    "Keyseat",
    "Limits",
    "Standard",
    "check_depth",
    "chordal_height",
    "hub_keyway",
    "key_as_given",
    "key_for_shaft",
    "keyseat",
    "max_lead",
    "seat_width",
]

HUB_CLEARANCE = Decimal("0.005")
"""ASME B17.1: clearance over a parallel key, already in T (inches)."""
TAPER_CLEARANCE = Decimal("-0.020")
"""ASME B17.1: takes the place of the clearance for a taper key, at the deep end (inches)."""


@dataclass(frozen=True, slots=True)
class Keyseat:
    """A keyseat in a shaft: everything that is cut or measured."""

    key: Key
    shaft: Quantity
    """The diameter it was worked from: measured where that was given."""
    width: Limits
    """Of the seat, not of the key."""
    height: Quantity
    """The key's height: measured where that was given."""
    chordal_height: Quantity
    side_depth: Quantity
    """Depth at the side wall."""
    depth_from_top: Limits
    """From the top of the shaft to the floor; nominal is the least."""
    floor_to_opposite: Limits
    """From the floor to the opposite side of the shaft; nominal is the most (S, or d - t1)."""
    over_key: Limits
    """From the opposite side to the top of the seated key; nominal is the most (M)."""
    source: str


@dataclass(frozen=True, slots=True)
class HubKeyway:
    """A keyway in a hub: what is measured."""

    key: Key
    bore: Quantity
    chordal_height: Quantity
    width: Limits
    """Of the keyway, not of the key."""
    depth_from_crown: Limits
    """From the top of the bore to the keyway's floor."""
    opposite_to_floor: Limits
    """Across the bore to the keyway's floor; nominal is the least (T, or d + t2)."""
    source: str


def chordal_height(diameter: Quantity, width: Quantity) -> Quantity:
    """Height of the arc that a key's width cuts off the shaft: (D - sqrt(D^2 - W^2)) / 2.

    Plane geometry; the 'height of arc' f of the US Navy
    training manual. Raises `ImpossibleInput` where the key is as wide as the shaft or wider.
    """
    unit = system(diameter)
    d = in_unit(positive("shaft diameter", diameter), unit)
    w = in_unit(positive("key width", width), unit)
    if w >= d:
        raise ImpossibleInput(
            "key width", shown(width), f"wider than the shaft of {shown(diameter)}: "
            "a key is about a quarter of the diameter wide",
        )  # fmt: skip
    return quantity((d - leg(d, w)) / 2, unit)


def keyseat(
    shaft: Quantity,
    key: Key | None = None,
    *,
    measured_shaft: Quantity | None = None,
    measured_key: Quantity | None = None,
    depth_from_top: Quantity | None = None,
    depth_plus: Quantity | None = None,
    fit: str | None = None,
) -> Keyseat:
    """The keyseat for `key` in a shaft, from the standard's own zero.

    `key` is the standard's where it is not given. A measured shaft and a measured key height
    take the place of the nominal ones: the depth is then as deep below the side wall (inch) or
    the crown (metric) as the standard wants it, and the size over the key is what this key will
    measure. `depth_from_top` overrides the standard's depth, as a drawing may;
    `depth_plus` the tolerance on the depth.

    Raises `ImpossibleInput` for a key wider than the shaft, and for a keyseat deeper than half
    of it or with no depth.
    """
    key = key or key_for_shaft(shaft)
    diameter = measured_shaft if measured_shaft is not None else shaft
    unit = system(shaft)
    d = in_unit(positive("shaft diameter", diameter), unit)
    arc = in_unit(chordal_height(diameter, key.width), unit)
    key_height = measured_key if measured_key is not None else key.height
    height = in_unit(positive("key height", key_height), unit)
    if depth_from_top is not None:
        depth = in_unit(positive("depth from the top", depth_from_top), unit)
    elif key.shaft_depth is not None:
        depth = in_unit(key.shaft_depth, unit)
    else:
        depth = arc + in_unit(key.height, unit) / 2
    check_depth(quantity(depth, unit), diameter)
    if depth_plus is not None:
        plus = in_unit(depth_plus, unit)
    elif key.depth_plus is not None:
        plus = in_unit(key.depth_plus, unit)
    else:
        plus = in_unit(quantity(FLOOR_MINUS, "inch"), unit)
    floor = d - depth

    def limits(nominal: Decimal, low: Decimal, high: Decimal) -> Limits:
        return Limits(*(quantity(size, unit) for size in (nominal, low, high)))

    return Keyseat(
        key=key,
        shaft=as_unit(diameter, unit),
        width=_in(seat_width(key, fit), unit),
        height=quantity(height, unit),
        chordal_height=quantity(arc, unit),
        side_depth=quantity(depth - arc, unit),
        depth_from_top=limits(depth, depth, depth + plus),
        floor_to_opposite=limits(floor, floor - plus, floor),
        over_key=limits(floor + height, floor + height - plus, floor + height),
        source=f"{key.standard}; key size: {key.source}",
    )


def _in(limits: Limits, unit: str) -> Limits:
    return Limits(*(as_unit(s, unit) for s in (limits.nominal, limits.low, limits.high)))


def check_depth(depth_from_top: Quantity, shaft: Quantity) -> None:
    """Raises `ImpossibleInput` where a keyseat would be deeper than half the shaft."""
    unit = system(shaft)
    depth, half = in_unit(depth_from_top, unit), in_unit(shaft, unit) / 2
    if depth >= half:
        raise ImpossibleInput(
            "keyseat depth", shown(depth_from_top),
            f"half the shaft of {shown(shaft)} or more: check the key's height, a standard "
            "keyseat is about an eighth of the diameter deep",
        )  # fmt: skip


def hub_keyway(
    bore: Quantity,
    key: Key | None = None,
    *,
    taper: bool = False,
    clearance: Quantity | None = None,
    fit: str | None = None,
) -> HubKeyway:
    """The keyway in a hub: T = D - Y + H/2 + clearance (inch), or d + t2 (metric).

    The inch clearance is 0.005 in over a parallel key and -0.020 in at the deep end of a taper
    key, unless given.
    """
    key = key or key_for_shaft(bore)
    unit = system(bore)
    d = in_unit(positive("bore", bore), unit)
    arc = in_unit(chordal_height(bore, key.width), unit)
    if key.hub_depth is not None and clearance is None:
        depth = in_unit(key.hub_depth, unit)
        plus = in_unit(key.depth_plus or mm(0), unit)
    else:
        play = quantity(TAPER_CLEARANCE if taper else HUB_CLEARANCE, "inch")
        play = clearance if clearance is not None else play
        depth = in_unit(key.height, unit) / 2 + in_unit(play, unit) - arc
        plus = in_unit(quantity(HUB_PLUS, "inch"), unit)
    if depth <= 0:
        raise ImpossibleInput(
            "key height", shown(key.height), f"leaves no keyway in a bore of {shown(bore)}"
        )

    def limits(least: Decimal) -> Limits:
        return Limits(quantity(least, unit), quantity(least, unit), quantity(least + plus, unit))

    return HubKeyway(
        key=key,
        bore=as_unit(bore, unit),
        chordal_height=quantity(arc, unit),
        width=_in(seat_width(key, fit or "JS9"), unit),
        depth_from_crown=limits(depth),
        opposite_to_floor=limits(d + depth),
        source=f"{key.standard}; key size: {key.source}",
    )


def max_lead(length: Quantity) -> Quantity:
    """How far a keyseat may run out of line over its length (skew), ASME B17.1.

    0.002 in to 4 in of length; 0.0005 in an inch above 4 to 10 in; 0.005 in above 10 in.
    Source: Machinery's Handbook, 31st ed., p. 2552.
    """
    inches_long = in_unit(positive("keyseat length", length), "inch")
    if inches_long <= 4:
        return quantity("0.002", "inch")
    if inches_long <= 10:
        return quantity(inches_long * Decimal("0.0005"), "inch")
    return quantity("0.005", "inch")
