"""Woodruff keys against Shigley's table, and hub keyways by broach."""

from __future__ import annotations

from decimal import Decimal
from itertools import pairwise

import pytest

from assistant.calc import broach, keys, woodruff
from assistant.calc.table import rows
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import Quantity, inches, magnitude, mm
from tests.calc.test_keys import near, read


@pytest.mark.parametrize("row", read("woodruff_depths.csv"), ids=lambda row: row["number"])
def test_keys_and_depths_are_the_printed_ones(row: dict[str, str]) -> None:
    """Shigley, Table 7-7, p. 393, to a tenth of a thou in depth."""
    key = woodruff.key(row["number"])
    assert near(key.height.high, row["height"])
    seat = woodruff.seat(inches(2), key)
    assert near(seat.side_depth.nominal, row["shaft"], "0.0001")
    assert near(seat.hub_depth, row["hub"], "0.0001")


def test_the_depth_from_the_top_is_the_side_depth_and_the_arc() -> None:
    """US Navy training manual, Fig. 7-74: 606 in a 3/4 in shaft, total depth 0.226; over the
    key D - f + W/2 = 0.832, plus or minus 0.005 by ASME B17.2."""
    seat = woodruff.seat(inches("0.75"), woodruff.key("606"))
    assert near(seat.depth_from_top.nominal, "0.2262", "0.0003")
    assert near(seat.over_key.nominal, "0.8318", "0.0001")
    assert near(seat.over_key.high - seat.over_key.nominal, "0", "0.0051")
    assert near(seat.over_key.nominal - seat.over_key.low, "0.010", "0.0051")


def test_a_measured_key_says_what_it_will_measure() -> None:
    seat = woodruff.seat(inches("0.75"), woodruff.key("606"), measured_height=inches("0.310"))
    spread = seat.over_key.high - seat.over_key.low
    assert spread == inches("0.005")  # only the seat's own tolerance is left


def test_metric_seats_are_sunk_from_the_crown() -> None:
    """ISO 3912 (from memory): 5 x 6.5 x 16 in a 17 mm shaft, t1 = 4.5 +0.2, t2 = 2.3."""
    (key,) = woodruff.suggested_keys(mm(17))
    assert key.name == "5 x 6.5 x 16"
    seat = woodruff.seat(mm(17), key)
    assert (seat.depth_from_top.low, seat.depth_from_top.high) == (mm("4.5"), mm("4.7"))
    assert seat.over_key.high == mm("19")  # 17 - 4.5 + 6.5
    assert seat.hub_depth == mm("2.3")


def test_metric_keys_leave_their_clearance_over_the_key() -> None:
    """t1 + t2 is more than the key's height in every row, by 0.1 to 0.5 mm."""
    for row in rows("woodruff_iso3912"):
        clearance = Decimal(row["t1"]) + Decimal(row["t2"]) - Decimal(row["height"])
        assert Decimal("0.1") <= clearance <= Decimal("0.5"), row


def test_metric_keys_are_half_moons_that_fit_their_circle() -> None:
    for row in rows("woodruff_iso3912"):
        assert Decimal(row["height"]) < Decimal(row["diameter"]) / 2


def test_suggested_keys_go_up_with_the_shaft() -> None:
    found = [woodruff.suggested_keys(inches(size))[0] for size in ("0.375", "0.5", "1", "2")]
    assert [key.name for key in found] == ["204", "304", "606", "1011"]
    for key in found:
        woodruff.shaft_range(key.width)


def test_stem_clearance_is_what_is_left_at_full_depth() -> None:
    left = woodruff.stem_clearance(inches(1), inches("0.5"), inches("0.226"))
    assert left == inches("0.024")
    assert woodruff.stem_clearance(inches(1), inches("0.6"), inches("0.226")) < inches(0)


@pytest.mark.parametrize("number", ["6", "60", "six", "600", "99999", "913"])
def test_a_number_that_is_no_key_is_refused(number: str) -> None:
    with pytest.raises(BadInput):
        woodruff.key(number)


def test_seats_that_cannot_be_are_refused() -> None:
    with pytest.raises(ImpossibleInput, match="half the shaft"):
        woodruff.seat(inches("0.5"), woodruff.key("1212"))
    with pytest.raises(ImpossibleInput, match="suggested for shafts"):
        woodruff.suggested_keys(inches(5))


def test_broach_passes_end_on_the_check_size() -> None:
    """1-1/8 in bore, 1/4 key: T 1.241 (Machinery's Handbook, p. 2552); 0.1159 deep from the
    top of the bore is two passes of a broach that cuts 0.060, with a shim of 0.0559."""
    way = keys.hub_keyway(inches("1.125"))
    plan = broach.broach_plan(way, inches("0.060"))
    assert (plan.passes, plan.shims) == (2, 1)
    assert near(plan.shim, "0.0559")
    assert plan.readings[-1] == plan.check_low == way.opposite_to_floor.low
    assert near(plan.readings[-1], "1.241", "0.0005")


@pytest.mark.parametrize("cut", ["0.012", "0.030", "0.2"])
def test_broach_passes_never_cut_more_than_the_broach(cut: str) -> None:
    plan = broach.broach_plan(keys.hub_keyway(inches("1.125")), inches(cut))
    steps: list[Quantity] = [plan.readings[0] - inches("1.125")]
    steps += [b - a for a, b in pairwise(plan.readings)]
    assert all(magnitude(step, "inch") <= Decimal(cut) for step in steps)
    with pytest.raises(ImpossibleInput, match="passes"):
        broach.broach_plan(keys.hub_keyway(inches("1.125")), inches("0.001"))
