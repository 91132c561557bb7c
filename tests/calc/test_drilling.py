"""Points, pecks, countersinks, counterbores, centres, reaming."""

from __future__ import annotations

from decimal import Decimal
from itertools import pairwise

import mpmath
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calc.drilling import (
    centre_depth,
    centre_drill,
    centre_drill_iso,
    centre_travel,
    counterbore,
    countersink_depth,
    drill_depth,
    peck_plan,
    pilot_drill,
    point_factor,
    point_length,
    reaming_allowance,
)
from assistant.calc.exact import in_unit
from assistant.calc.table import rows
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import Quantity, inches, mm, quantity

DIAMETERS = st.decimals("0.5", "50", places=2)
ANGLES = st.decimals("60", "150", places=1)


def _degrees(value: Decimal | int | str) -> Quantity:
    return quantity(value, "degree")


@given(DIAMETERS, ANGLES)
def test_point_length_against_mpmath(dia: Decimal, angle: Decimal) -> None:
    """By the slant height and cosine, and not by the tangent."""
    half = mpmath.radians(mpmath.mpf(str(angle))) / 2
    radius = mpmath.mpf(str(dia)) / 2
    expected = mpmath.sqrt((radius / mpmath.sin(half)) ** 2 - radius**2)
    got = in_unit(point_length(mm(dia), _degrees(angle)), "mm")
    assert abs(mpmath.mpf(str(got)) - expected) < mpmath.mpf("1e-12")


@given(ANGLES, st.decimals("1", "20", places=1))
def test_a_flatter_point_is_shorter(angle: Decimal, flatter: Decimal) -> None:
    assert point_factor(_degrees(angle + flatter)) < point_factor(_degrees(angle))


@given(DIAMETERS, ANGLES)
def test_a_countersink_with_no_hole_is_a_point(dia: Decimal, angle: Decimal) -> None:
    assert countersink_depth(mm(dia), mm(0), _degrees(angle)) == point_length(
        mm(dia), _degrees(angle)
    )


@given(DIAMETERS, ANGLES, st.decimals("0.1", "0.9", places=2))
def test_countersink_gives_its_diameter_back(dia: Decimal, angle: Decimal, share: Decimal) -> None:
    hole = mm(dia * share)
    depth = countersink_depth(mm(dia), hole, _degrees(angle))
    back = in_unit(hole + depth / point_factor(_degrees(angle)), "mm")
    assert abs(back - dia) < Decimal("1e-20")


def test_a_countersink_smaller_than_its_hole() -> None:
    with pytest.raises(ImpossibleInput, match="must be less than the 6 mm wanted"):
        countersink_depth(mm(6), mm(6), _degrees(90))
    with pytest.raises(ImpossibleInput, match="point angle"):
        point_factor(_degrees(180))


def test_drilling_through_lets_the_lips_clear() -> None:
    blind = drill_depth(inches(1), inches("0.5"), _degrees(118))
    through = drill_depth(inches(1), inches("0.5"), _degrees(118), through=True)
    assert in_unit(through.from_touch - blind.from_touch, "inch") == Decimal("0.05")
    assert blind.from_touch == blind.full_diameter + blind.point


def test_a_hole_of_a_hundred_diameters_is_a_slip() -> None:
    with pytest.raises(ImpossibleInput, match="100 diameters"):
        peck_plan(inches(10), mm(2))


@given(st.decimals("0.5", "50", places=1), DIAMETERS)
def test_pecks_reach_the_depth_and_only_get_shorter(depth: Decimal, dia: Decimal) -> None:
    ends = [Decimal(0), *(in_unit(end, "mm") for end in peck_plan(mm(depth), mm(dia)).depths)]
    steps = [b - a for a, b in pairwise(ends)]
    assert ends[-1] == depth
    assert all(step > 0 for step in steps)
    assert all(b <= a + dia / 4 for a, b in pairwise(steps))
    assert steps[0] <= dia * Decimal("3.25")
    assert peck_plan(mm(depth), mm(dia)).deep == (depth > 3 * dia)


@given(DIAMETERS)
def test_ranges_are_ranges(dia: Decimal) -> None:
    pilot = pilot_drill(mm(dia))
    assert 0 < pilot.least < pilot.most < mm(dia)
    for how in ("machine", "hand"):
        allowance = reaming_allowance(mm(dia), how)
        assert 0 < allowance.least < allowance.most < mm(dia)


def test_a_hand_reamer_takes_less_than_a_machine_reamer() -> None:
    for size in ("0.125", "0.25", "0.5", "0.75", "1.25", "2"):
        by_hand, by_machine = (reaming_allowance(inches(size), how) for how in ("hand", "machine"))
        assert by_hand.most <= by_machine.most
        assert by_hand.least < by_machine.least
    with pytest.raises(ImpossibleInput, match="2 in"):
        reaming_allowance(inches(3), "hand")
    with pytest.raises(BadInput, match="machine or hand"):
        reaming_allowance(inches(1), "drill press")


def test_counterbores_hold_the_head_and_clear_the_screw() -> None:
    for row in rows("counterbores"):
        found = counterbore(row["screw"])
        assert found.clearance_hole < found.dia
        below = counterbore(row["screw"], found.depth / 10)
        assert below.depth == found.depth + found.depth / 10
    assert in_unit(counterbore("m6", mm("0.5")).depth, "mm") == Decimal("6.5")
    with pytest.raises(BadInput, match="wanted one of"):
        counterbore("M7")


def test_centre_drills() -> None:
    three = centre_drill("3")
    assert (three.body, three.pilot) == (inches("0.25"), inches("0.109375"))
    assert centre_drill_iso(mm("2.5")).body == mm("6.3")
    with pytest.raises(BadInput, match="wanted 00"):
        centre_drill("9")
    with pytest.raises(BadInput, match="wanted one of"):
        centre_drill_iso(mm(7))
    for row in rows("centre_drills"):
        assert Decimal(row["pilot"]) < Decimal(row["body"])


def test_depth_of_a_centre() -> None:
    """A 60 degree cone from the pilot's 2.5 mm to 5 mm is 2.5 / (2 tan 30) high."""
    size = centre_drill_iso(mm("2.5"))
    depth = in_unit(centre_depth(size, mm(5)), "mm")
    assert round(depth - Decimal("3.125"), 4) == Decimal("2.1651")
    with pytest.raises(ImpossibleInput, match="mouth"):
        centre_depth(size, mm(7))
    assert centre_travel("A2.5", mm(5)) == centre_depth(size, mm(5))
    assert centre_travel("3", inches("0.2")) < inches("0.3")
    with pytest.raises(BadInput, match="wanted"):
        centre_travel("Ax", mm(5))
