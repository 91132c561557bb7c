"""Which key a shaft takes: ASME B17.1 in inches, DIN 6885-1 in millimetres.

Shaft ranges are "over ... to and including ...": a 7/8 in shaft takes a 3/16 key, and a 30 mm
shaft one 8 mm wide. The tables are in `calc/tables/`, each row with its source.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from assistant.calc.exact import in_unit, positive, shown, system
from assistant.calc.table import Row, rows
from assistant.errors import ImpossibleInput
from assistant.units import Quantity, mm, quantity


class Standard(StrEnum):
    """Whose key it is."""

    INCH = "ASME B17.1"
    METRIC = "DIN 6885-1"


SHAPES = ("square", "rectangular")
FITS = {
    "shaft": {"tight": "P9", "normal": "N9", "sliding": "H9"},
    "hub": {"tight": "P9", "normal": "JS9", "sliding": "D10"},
}
"""ISO 286 class of a metric keyway's width (DIN 6885-1)."""
FLOOR_MINUS = Decimal("0.015")
"""ASME B17.1: tolerance of S, floor to opposite side, plus nothing, minus this (inches)."""
HUB_PLUS = Decimal("0.010")
"""ASME B17.1: tolerance of T in the hub, plus this, minus nothing (inches)."""
SQUARE_TO = Decimal("6.5")
"""Inches of shaft diameter to which ASME B17.1 prefers square keys."""


@dataclass(frozen=True, slots=True)
class Limits:
    """A size with its limits."""

    nominal: Quantity
    low: Quantity
    high: Quantity


@dataclass(frozen=True, slots=True)
class Key:
    """A key from the table, or as given: width, height and where its depths come from."""

    standard: Standard
    width: Quantity
    height: Quantity
    shape: str
    """`square` or `rectangular`."""
    source: str
    """The published table, or `as given`."""
    shaft_depth: Quantity | None = None
    """DIN: t1, from the crown of the shaft; None where the inch rule H/2 holds."""
    hub_depth: Quantity | None = None
    """DIN: t2, from the crown of the bore."""
    depth_plus: Quantity | None = None
    """DIN: tolerance of t1 and t2, minus nothing."""


def _range(table: str, size: Decimal, **match: str) -> Row | None:
    """The row whose range 'over .. to and including ..' holds `size`."""
    for row in rows(table):
        if Decimal(row["over"]) < size <= Decimal(row["to"]) and all(
            row[column] == value for column, value in match.items()
        ):
            return row
    return None


def _standard(shaft: Quantity, standard: Standard | str | None) -> Standard:
    if standard is None:
        return Standard.METRIC if system(shaft) == "mm" else Standard.INCH
    return Standard(standard)


def key_for_shaft(
    shaft: Quantity, standard: Standard | str | None = None, shape: str | None = None
) -> Key:
    """The key that the standard gives a shaft, by ranges 'over .. to and including ..'.

    `standard` is taken from the shaft's unit where it is not given; `shape` matters for inch
    keys alone: square to 6-1/2 in where it is not given, rectangular above. Raises
    `ImpossibleInput` outside the table (inch: over 5/16 to 11; metric: 6 to 200 mm).
    """
    positive("shaft diameter", shaft)
    if _standard(shaft, standard) is Standard.METRIC:
        return _din_key(shaft)
    diameter = in_unit(shaft, "inch")
    row = _range("keys_b17_1", diameter)
    if row is None:
        raise ImpossibleInput(
            "shaft diameter", shown(shaft),
            "no standard key in the ASME B17.1 size table, which holds shafts over 5/16 in to "
            "11 in: give the key's width and height",
        )  # fmt: skip
    shape = shape or ("square" if diameter <= SQUARE_TO else "rectangular")
    if shape not in SHAPES or not row[shape]:
        known = [s for s in SHAPES if row[s]]
        raise ImpossibleInput("key shape", shape, f"this shaft takes {' or '.join(known)}")
    return Key(
        Standard.INCH,
        quantity(row["width"], "inch"),
        quantity(row[shape], "inch"),
        shape,
        row["source"],
    )


def inch_heights(shaft: Quantity) -> tuple[Quantity, Quantity | None]:
    """Heights of the square and the rectangular ASME B17.1 key for a shaft; None where the
    table has no rectangular one."""
    row = _range("keys_b17_1", in_unit(shaft, "inch"))
    if row is None:
        raise ImpossibleInput("shaft diameter", shown(shaft), "no standard key in the table")
    flat = row["rectangular"]
    return quantity(row["square"], "inch"), quantity(flat, "inch") if flat else None


def depth_tolerance(width: Quantity, part: str, standard: Standard | str) -> tuple[Quantity, ...]:
    """Plus and minus of what is measured for depth, in the `shaft` or the `hub`.

    Inch: S in the shaft (plus nothing, minus 0.015) and T in the hub (plus 0.010, minus
    nothing). Metric: t1 and t2, plus by key width, minus nothing.
    """
    nothing = quantity(0, "inch")
    if Standard(standard) is Standard.INCH:
        if part == "shaft":
            return nothing, quantity(FLOOR_MINUS, "inch")
        return quantity(HUB_PLUS, "inch"), nothing
    size = in_unit(width, "mm")
    for row in rows("keys_din6885"):
        if size <= Decimal(row["width"]):
            return mm(row["plus"]), mm(0)
    raise ImpossibleInput("key width", shown(width), "DIN 6885-1 keys here end at 45 mm")


def _din_key(shaft: Quantity) -> Key:
    diameter = in_unit(shaft, "mm")
    # The first range takes its own beginning too: the 'High Type' sheet lists a 6 mm shaft.
    row = rows("keys_din6885")[0] if diameter == 6 else _range("keys_din6885", diameter)
    if row is None:
        raise ImpossibleInput(
            "shaft diameter", shown(shaft),
            "no standard key in the DIN 6885-1 table, which holds shafts from 6 mm to 200 mm: "
            "give the key's width, height and depth",
        )  # fmt: skip
    return _din_row(row)


def _din_row(row: Row) -> Key:
    return Key(
        Standard.METRIC,
        mm(row["width"]),
        mm(row["height"]),
        "square" if row["width"] == row["height"] else "rectangular",
        row["source"],
        shaft_depth=mm(row["t1"]),
        hub_depth=mm(row["t2"]),
        depth_plus=mm(row["plus"]),
    )


def key_as_given(
    width: Quantity, height: Quantity | None = None, standard: Standard | str | None = None
) -> Key:
    """A key chosen by the drawing and not by the shaft; square where no height is given.

    A metric key of the table's width and height brings its t1 and t2 along; any other follows
    the inch rule, half its height at the side wall, unless the depth is given too.
    """
    height = height if height is not None else width
    positive("key width", width)
    positive("key height", height)
    kind = _standard(width, standard)
    if kind is Standard.METRIC:
        size = (in_unit(width, "mm"), in_unit(height, "mm"))
        for row in rows("keys_din6885"):
            if (Decimal(row["width"]), Decimal(row["height"])) == size:
                return _din_row(row)
    unit = system(width)
    shape = "square" if in_unit(width, unit) == in_unit(height, unit) else "rectangular"
    return Key(kind, width, height, shape, "as given")


def seat_width(key: Key, fit: str | None = None) -> Limits:
    """Limits of the keyseat's width.

    Inch: class 1 side fit of ASME B17.1, plus only. Metric: ISO 286 class `fit`, `N9` where it
    is not given (`P9` tight, `JS9` in the hub, `H9` or `D10` sliding).
    """
    unit = "mm" if key.standard is Standard.METRIC else "inch"
    width = in_unit(key.width, unit)
    if unit == "mm":
        row = _range("keyway_widths_iso286", width, fit=fit or "N9")
        if row is None:
            known = sorted({r["fit"] for r in rows("keyway_widths_iso286")})
            raise ImpossibleInput(
                "keyway fit", f"{fit} at {width} mm", f"known are {', '.join(known)} to 50 mm"
            )
        lower, upper = (Decimal(row[c]) / 1000 for c in ("lower", "upper"))
    else:
        row = _range("key_fits_b17_1", width, shape=key.shape)
        if row is None:
            raise ImpossibleInput(
                "key width", f"{width} in", "ASME B17.1 class 1 fits end at 2-1/2 in"
            )
        lower, upper = Decimal(0), Decimal(row["keyseat_plus"])
    return Limits(
        quantity(width, unit), quantity(width + lower, unit), quantity(width + upper, unit)
    )
