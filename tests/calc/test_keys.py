"""Keys and keyseats against handbook tables, an open data set and facts of the trade."""

from __future__ import annotations

import ast
import csv
from decimal import Decimal
from importlib.metadata import files
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calc import keys
from assistant.calc.key_tables import SHAPES
from assistant.errors import ImpossibleInput
from assistant.units import Quantity, inches, magnitude, mm
from tests.calc.outside import bd_warehouse_rows

REFERENCE = Path(__file__).parent.parent / "reference"


def read(name: str) -> list[dict[str, str]]:
    lines = (REFERENCE / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def near(size: Quantity, value: str, within: str = "0.00005") -> bool:
    return abs(magnitude(size, str(size.units)) - Decimal(value)) <= Decimal(within)


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("row", read("b17_1_depths.csv"), ids=lambda row: row["shaft"])
def test_floor_to_opposite_side_is_the_handbook_value(row: dict[str, str], shape: str) -> None:
    """Machinery's Handbook, 31st ed., p. 2552: S to three places, one in the last allowed."""
    shaft = inches(row["shaft"])
    seat = keys.keyseat(shaft, keys.key_for_shaft(shaft, shape=shape))
    assert near(seat.floor_to_opposite.nominal, row[shape], "0.00055")


def test_the_one_inch_shaft_with_a_quarter_key() -> None:
    """Common practice, no source: 1.109 over the key (1.110 was good enough), cut 0.142 deep
    (within 0.0015), 0.625 from side to centre with a 1/4 cutter and no paper."""
    seat = keys.keyseat(inches(1))
    assert seat.key.width == inches("0.25")
    assert near(seat.over_key.nominal, "1.109", "0.0005")
    assert near(seat.over_key.nominal, "1.110", "0.001")
    assert near(seat.depth_from_top.nominal, "0.142", "0.0015")
    assert seat.side_depth == inches("0.125")


def test_the_keyseat_of_the_issue() -> None:
    """1-1/2 in shaft, 3/8 key, by hand: sqrt(2.25 - 0.140625) = 1.45237, Y = 0.02382; depth from
    the top 0.02382 + 0.1875 = 0.2113; floor 1.5 - 0.2113 = 1.2887 (Machinery's Handbook: 1.289);
    over the key 1.2887 + 0.375 = 1.6637, plus nothing, minus 0.015: 1.666 is two over."""
    seat = keys.keyseat(inches("1.5"))
    assert near(seat.depth_from_top.nominal, "0.2113")
    assert near(seat.over_key.high, "1.664", "0.0005")
    assert seat.over_key.high == seat.over_key.nominal
    assert near(seat.over_key.low, "1.649", "0.0005")
    over = inches("1.666") - seat.over_key.high
    assert near(over, "0.002", "0.0005")


def test_the_metric_keyseat_is_measured_from_the_crown() -> None:
    """DIN 6885-1: 30 mm shaft, 8 x 7 key, t1 = 4.0 +0.2; check size d - t1 = 26.0 -0.2."""
    seat = keys.keyseat(mm(30))
    assert (seat.key.width, seat.key.height) == (mm(8), mm(7))
    assert (seat.depth_from_top.low, seat.depth_from_top.high) == (mm(4), mm("4.2"))
    assert (seat.floor_to_opposite.low, seat.floor_to_opposite.high) == (mm("25.8"), mm(26))
    assert (seat.over_key.low, seat.over_key.high) == (mm("32.8"), mm(33))
    assert near(seat.side_depth, "3.4568", "0.0001")
    assert (seat.width.low, seat.width.high) == (mm("7.964"), mm(8))  # N9


def test_a_measured_shaft_and_key_take_the_place_of_the_nominal() -> None:
    nominal = keys.keyseat(inches("1.5"))
    small = keys.keyseat(
        inches("1.5"), measured_shaft=inches("1.498"), measured_key=inches("0.374")
    )
    assert small.side_depth == nominal.side_depth
    change = nominal.floor_to_opposite.nominal - small.floor_to_opposite.nominal
    assert near(change, "0.00203", "0.00005")
    assert small.over_key.nominal == small.floor_to_opposite.nominal + inches("0.374")


def test_shafts_over_six_and_a_half_inches_get_a_rectangular_key() -> None:
    assert keys.key_for_shaft(inches("6.5")).height == inches("1.5")
    big = keys.key_for_shaft(inches(7))
    assert (big.width, big.height, big.shape) == (inches("1.75"), inches("1.5"), "rectangular")


def test_the_last_row_of_the_inch_table() -> None:
    """Over 9 to 11 in: 2-1/2 wide, 2-1/2 or 1-3/4 high, 1-1/4 or 7/8 deep at the sides
    (recommended ANSI standard keys and keyseats, per ANSI B17.1, engineering reference page)."""
    for shaft in ("9.01", "11"):
        flat = keys.key_for_shaft(inches(shaft))
        assert (flat.width, flat.height) == (inches("2.5"), inches("1.75"))
        assert keys.keyseat(inches(shaft), flat).side_depth == inches("0.875")
        square = keys.key_for_shaft(inches(shaft), shape="square")
        assert keys.keyseat(inches(shaft), square).side_depth == inches("1.25")


def test_a_size_in_the_other_unit_meets_the_same_boundary() -> None:
    """22.225 mm is 7/8 in exactly, and takes the 3/16 key of the range it ends."""
    assert keys.key_for_shaft(mm("22.225"), "ASME B17.1").width == inches("0.1875")
    assert keys.key_for_shaft(inches("30") * Decimal("0.1"), "DIN 6885-1").width == mm(22)


@pytest.mark.parametrize(
    ("shaft", "standard"), [("0.3125", "ASME B17.1"), ("11.1", "ASME B17.1"), ("8", "DIN 6885-1")]
)
def test_a_shaft_outside_the_table_is_not_guessed(shaft: str, standard: str) -> None:
    with pytest.raises(ImpossibleInput, match="no standard key in the"):
        keys.key_for_shaft(inches(shaft), standard)


def test_geometry_that_cannot_be_is_refused_in_a_sentence() -> None:
    with pytest.raises(ImpossibleInput, match=r"wider than the shaft of 0\.5 in"):
        keys.chordal_height(inches("0.5"), inches("0.5"))
    with pytest.raises(ImpossibleInput, match="half the shaft"):
        keys.keyseat(inches(1), keys.key_as_given(inches("0.25"), inches(1)))
    with pytest.raises(ImpossibleInput, match="more than zero"):
        keys.keyseat(inches(1), depth_from_top=inches(0))
    with pytest.raises(ImpossibleInput, match="takes square"):
        keys.key_for_shaft(inches("0.375"), shape="rectangular")
    with pytest.raises(ImpossibleInput, match="known are"):
        keys.seat_width(keys.key_for_shaft(mm(30)), "Z9")


def test_hub_keyways_hold_the_clearance_already() -> None:
    """MH 31 p. 2552 (T 1.669) and the Pocket Companion (taper 1.089); DIN d + t2."""
    parallel = keys.hub_keyway(inches("1.5"))
    assert near(parallel.opposite_to_floor.nominal, "1.669", "0.0005")
    assert parallel.opposite_to_floor.high - parallel.opposite_to_floor.low == inches("0.010")
    taper = keys.hub_keyway(inches(1), taper=True)
    assert near(taper.opposite_to_floor.nominal, "1.089", "0.0005")
    assert keys.hub_keyway(mm(60)).opposite_to_floor.nominal == mm("64.4")


def test_lead_grows_with_length_between_its_ends() -> None:
    assert keys.max_lead(inches(4)) == inches("0.002")
    assert keys.max_lead(inches(8)) == inches("0.004")
    assert keys.max_lead(inches(12)) == inches("0.005")


@given(st.decimals("0.32", "9", places=4))
def test_inch_and_metric_agree_on_an_inch_keyseat(diameter: Decimal) -> None:
    given_inch = keys.keyseat(inches(diameter))
    in_mm = keys.keyseat(mm(diameter * Decimal("25.4")), keys.key_for_shaft(inches(diameter)))
    difference = given_inch.over_key.nominal - in_mm.over_key.nominal.to("inch")
    assert abs(difference) < inches("1e-15")


@given(st.decimals("0.32", "9", places=3), st.decimals("0.01", "0.9", places=3))
def test_chord_and_its_height_close_the_circle(diameter: Decimal, share: Decimal) -> None:
    """Intersecting chords: (W/2)^2 = Y (D - Y), another way than the formula's."""
    width = diameter * share
    arc = keys.chordal_height(inches(diameter), inches(width)).magnitude
    assert abs(arc * (diameter - arc) - (width / 2) ** 2) < Decimal("1e-20")


@given(st.decimals("0.32", "8.9", places=3))
def test_depth_and_floor_make_up_the_shaft(diameter: Decimal) -> None:
    seat = keys.keyseat(inches(diameter))
    assert seat.depth_from_top.nominal + seat.floor_to_opposite.nominal == seat.shaft
    assert seat.side_depth + seat.chordal_height == seat.depth_from_top.nominal
    wider = keys.chordal_height(inches(diameter), seat.key.width * Decimal("1.01"))
    assert wider > seat.chordal_height


# --- an independent table -------------------------------------------------------------------

KNOWN_ERRORS = {
    ("24", "din6885:t2_tol+"): "0.1 printed where the 8 x 7 key has +0.2 (all its other rows)",
}
"""Entries of bd_warehouse's shaft_key_parameters.csv that are wrong, by shaft and column."""


def test_din_keys_agree_with_bd_warehouse() -> None:
    """bd_warehouse's table; it calls the hub depth t2 and the shaft depth t4, and ends at 50."""
    wrong = set()
    for row in bd_warehouse_rows("shaft_key_parameters.csv"):
        key = keys.key_for_shaft(mm(row["Size"]))
        assert key.shaft_depth is not None
        assert key.hub_depth is not None
        assert key.depth_plus is not None
        ours = {
            "din6885:b": key.width, "din6885:h": key.height,
            "din6885:t2": key.hub_depth, "din6885:t4": key.shaft_depth,
            "din6885:t2_tol+": key.depth_plus, "din6885:t4_tol+": key.depth_plus,
        }  # fmt: skip
        wrong |= {(row["Size"], column) for column, size in ours.items() if size != mm(row[column])}
    assert wrong == set(KNOWN_ERRORS)


def test_keyway_widths_agree_with_bd_warehouse() -> None:
    """Its ISO 286-1 limits of hole classes to 18 mm, read from the source without importing it:
    upper size, IT9, IT10, lower deviation of D, upper deviation of P, in micrometres."""
    bd_warehouse_rows("shaft_key_parameters.csv")  # skips by name where it is not installed
    (source,) = [file for file in files("bd_warehouse") or [] if file.name == "shaft_key.py"]
    (assigned,) = [
        node.value
        for node in ast.parse(source.read_text(encoding="utf-8")).body
        if isinstance(node, ast.Assign)
        and getattr(node.targets[0], "id", "") == "_ISO_286_HOLE_RANGES"
    ]
    ranges = ast.literal_eval(assigned)
    assert len(ranges) == 4
    for size, it9, it10, d_lower, p_upper in ranges:
        key = keys.key_as_given(mm(size), mm(size), "DIN 6885-1")
        expected = {
            "P9": (p_upper - it9, p_upper), "H9": (0, it9), "D10": (d_lower, d_lower + it10),
            "JS9": (-Decimal(it9) / 2, Decimal(it9) / 2),
        }  # fmt: skip
        for fit, (low, high) in expected.items():
            found = keys.seat_width(key, fit)
            assert (found.low - mm(size)).magnitude * 1000 == low, (size, fit)
            assert (found.high - mm(size)).magnitude * 1000 == high, (size, fit)
