"""Woodruff keys: the half-round key, its cutter, and where the keyseat's floor has to be.

ASME B17.2 gives the keyseat's depth at the *side wall*: B = least key height - W/2, so that half
the key's width stands above the edge; from the crown of the shaft it is B + the chordal height.
ISO 3912 gives t1 from the *crown*. Formulas: ASME B17.2, and the US Navy training manual for the
depth from the crown.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from assistant.calc.exact import as_unit, in_unit, positive, shown, system
from assistant.calc.key_tables import Standard, key_as_given, seat_width
from assistant.calc.keys import Limits, check_depth, chordal_height
from assistant.calc.table import Row, rows
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import Quantity, inches, mm, quantity

SEAT_PLUS = Decimal("0.005")
"""ASME B17.2: tolerance of the keyseat's depth B, plus this, minus nothing (inches)."""
HEIGHT_MINUS = Decimal("0.005")
"""ASME B17.2: the key's height C, plus nothing, minus this (inches)."""
HUB_CLEARANCE = Decimal("0.006")
"""ASME B17.2: hub keyseat depth is W/2 + this, at the side (inches)."""
WIDER = Decimal("0.0005")
"""ASME B17.2: the seat may be so much wider than its key (inches; from memory: 0.1880 for 3/16)."""


@dataclass(frozen=True, slots=True)
class WoodruffKey:
    """A Woodruff key, and so the cutter for its keyseat."""

    name: str
    """`608` (ASME B17.2), or `6 x 9 x 22` (ISO 3912)."""
    width: Quantity
    diameter: Quantity
    """Of the key's circle and of the cutter."""
    height: Limits
    """Of the key."""
    source: str
    shaft_depth: Limits | None = None
    """ISO: t1 from the crown; None for an inch key."""
    hub_depth: Limits | None = None
    """ISO: t2 from the crown."""


@dataclass(frozen=True, slots=True)
class WoodruffSeat:
    """A Woodruff keyseat in a shaft: what is cut and what is measured."""

    key: WoodruffKey
    shaft: Quantity
    chordal_height: Quantity
    side_depth: Limits
    """At the side wall (inch: B)."""
    depth_from_top: Limits
    """From the top of the shaft to the bottom of the seat: how far the cutter is sunk."""
    protrusion: Limits
    """How far the key stands above the keyseat's edge."""
    over_key: Limits
    """From the opposite side of the shaft to the top of the key."""
    hub_depth: Quantity
    """Keyway in the hub: at the side (inch), or from the crown (metric)."""
    source: str


def key_size(number: str) -> tuple[Quantity, Quantity]:
    """Width and diameter that a key number stands for: the last two digits are the diameter in
    eighths of an inch, those before them the width in thirty-seconds (ASME B17.2)."""
    digits = number.strip().lstrip("#")
    if not digits.isdigit() or not 3 <= len(digits) <= 4 or int(digits[-2:]) == 0:
        raise BadInput("key number", number, "wanted three or four digits, such as 608")
    return inches(Decimal(int(digits[:-2])) / 32), inches(Decimal(int(digits[-2:])) / 8)


def key(number: str) -> WoodruffKey:
    """The Woodruff key of an ASME B17.2 number, such as `608`."""
    width, diameter = key_size(number)
    name = str(int(number.strip().lstrip("#")))
    for row in rows("woodruff_b17_2"):
        if row["number"] == name:
            high = Decimal(row["height"])
            height = Limits(inches(high), inches(high - HEIGHT_MINUS), inches(high))
            return WoodruffKey(name, width, diameter, height, row["source"])
    known = ", ".join(row["number"] for row in rows("woodruff_b17_2"))
    raise BadInput("key number", number, f"not in the table, which holds {known}")


def metric_key(width: Quantity, height: Quantity) -> WoodruffKey:
    """The ISO 3912 key of this width and height."""
    size = (in_unit(width, "mm"), in_unit(height, "mm"))
    for row in rows("woodruff_iso3912"):
        if (Decimal(row["width"]), Decimal(row["height"])) == size:
            return _metric(row)
    known = ", ".join(f"{row['width']} x {row['height']}" for row in rows("woodruff_iso3912"))
    raise BadInput("key", f"{size[0]} x {size[1]} mm", f"ISO 3912 holds {known}")


def _metric(row: Row) -> WoodruffKey:
    size = {name: Decimal(row[name]) for name in row if name != "source"}

    def plus(nominal: str, tolerance: str) -> Limits:
        low, high = size[nominal], size[nominal] + size[tolerance]
        return Limits(mm(low), mm(low), mm(high))

    return WoodruffKey(
        f"{row['width']} x {row['height']} x {row['diameter']}",
        mm(size["width"]),
        mm(size["diameter"]),
        Limits(mm(size["height"]), mm(size["height"]), mm(size["height"])),
        row["source"],
        shaft_depth=plus("t1", "t1_plus"),
        hub_depth=plus("t2", "t2_plus"),
    )


def suggested_keys(shaft: Quantity) -> tuple[WoodruffKey, ...]:
    """Keys that suit a shaft, the smallest first: B17.2 numbers for inches, ISO 3912 for mm."""
    diameter = in_unit(positive("shaft diameter", shaft), system(shaft))
    metric = system(shaft) == "mm"
    table = rows("woodruff_iso3912" if metric else "woodruff_suggested")
    for row in table:
        first = metric and row is table[0] and diameter == Decimal(row["over"])
        if first or Decimal(row["over"]) < diameter <= Decimal(row["to"]):
            if metric:
                return (_metric(row),)
            return tuple(key(number) for number in row["numbers"].split("|"))
    ends = f"{table[0]['over']} to {table[-1]['to']} {'mm' if metric else 'in'}"
    raise ImpossibleInput("shaft diameter", shown(shaft), f"keys are suggested for shafts {ends}")


def shaft_range(width: Quantity) -> tuple[Quantity, Quantity]:
    """Shaft diameters, from and to, that suit an inch key's width."""
    size = in_unit(width, "inch")
    for row in rows("woodruff_shafts"):
        if Decimal(row["width"]) == size:
            return inches(row["from"]), inches(row["to"])
    known = ", ".join(row["width"] for row in rows("woodruff_shafts"))
    raise BadInput("key width", shown(width), f"tabled are {known} in")


def seat(
    shaft: Quantity,
    woodruff: WoodruffKey,
    *,
    measured_shaft: Quantity | None = None,
    measured_height: Quantity | None = None,
) -> WoodruffSeat:
    """The keyseat for a Woodruff key in a shaft.

    The depth is the standard's; `measured_height` is the key in hand and changes only what it
    will measure over the key. Raises `ImpossibleInput` for a key wider than the shaft or a seat
    deeper than half of it.
    """
    unit = system(shaft)
    diameter = measured_shaft if measured_shaft is not None else shaft
    d, width = in_unit(diameter, unit), in_unit(woodruff.width, unit)
    arc = in_unit(chordal_height(diameter, woodruff.width), unit)
    if woodruff.shaft_depth is not None:
        least, most = (
            in_unit(size, unit) - arc
            for size in (woodruff.shaft_depth.low, woodruff.shaft_depth.high)
        )
    else:
        least = in_unit(woodruff.height.low, unit) - width / 2
        most = least + in_unit(inches(SEAT_PLUS), unit)
    check_depth(quantity(least + arc, unit), diameter)
    if measured_height is not None:
        tall = short = in_unit(positive("key height", measured_height), unit)
    else:
        tall, short = (in_unit(s, unit) for s in (woodruff.height.high, woodruff.height.low))
    if woodruff.hub_depth is not None:
        hub = in_unit(woodruff.hub_depth.nominal, unit)
        stands = tall - least
    else:
        hub = width / 2 + in_unit(inches(HUB_CLEARANCE), unit)
        stands = width / 2

    def limits(nominal: Decimal, low: Decimal, high: Decimal) -> Limits:
        return Limits(*(quantity(size, unit) for size in (nominal, low, high)))

    edge = d - arc  # from the opposite side to the keyseat's edge
    return WoodruffSeat(
        key=woodruff,
        shaft=as_unit(diameter, unit),
        chordal_height=quantity(arc, unit),
        side_depth=limits(least, least, most),
        depth_from_top=limits(least + arc, least + arc, most + arc),
        protrusion=limits(stands, short - most, tall - least),
        over_key=limits(edge + stands, edge + short - most, edge + tall - least),
        hub_depth=quantity(hub, unit),
        source=f"{'ISO 3912' if woodruff.shaft_depth else 'ASME B17.2'}; key: {woodruff.source}",
    )


def stem_clearance(cutter: Quantity, stem: Quantity, depth_from_top: Quantity) -> Quantity:
    """What is left between the cutter's stem and the shaft at full depth:
    (cutter - stem) / 2 - depth. Negative: the stem rubs before the depth is reached.

    Common practice, no source; the collar counts as stem where it is the larger.
    """
    unit = system(cutter)
    reach = (
        in_unit(positive("cutter diameter", cutter), unit)
        - in_unit(positive("stem diameter", stem), unit)
    ) / 2
    if reach <= 0:
        raise ImpossibleInput("stem diameter", shown(stem), f"the cutter is only {shown(cutter)}")
    return quantity(reach - in_unit(depth_from_top, unit), unit)


def widest_seat(key: WoodruffKey) -> Quantity:
    """The most that the seat may be wide: ASME B17.2, to four places; ISO 3912 in the normal fit
    N9."""
    if system(key.width) == "mm":
        width = key_as_given(key.width, key.height.nominal, Standard.METRIC)
        return seat_width(width, "N9").high
    return inches((in_unit(key.width, "inch") + WIDER).quantize(Decimal("0.0001"), ROUND_HALF_UP))
