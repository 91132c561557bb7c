"""Tapers by angle, by foot, by diameters; setting over and putting right."""

from __future__ import annotations

from decimal import Decimal

import mpmath
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calc.exact import in_unit
from assistant.calc.table import rows
from assistant.calc.tapers import (
    compound_reading,
    infeed_for_gauge,
    offset_from_diameters,
    offset_from_foot,
    standard_taper,
    tailstock_correction,
    tailstock_offset,
    taper,
    taper_correction,
    taper_from_angle,
    taper_from_diameters,
    taper_per_foot,
)
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import inches, mm, quantity

FEET = st.decimals("0.05", "6", places=3)
LENGTHS = st.decimals("10", "500", places=1)


@given(FEET)
def test_angle_and_foot_are_inverse(per_foot: Decimal) -> None:
    there = taper_per_foot(per_foot)
    back = taper_from_angle(there.included_angle)
    assert abs(in_unit(back.taper_per_foot, "inch/foot") - per_foot) < Decimal("1e-12")


@given(FEET)
def test_half_angle_against_mpmath(per_foot: Decimal) -> None:
    """As the argument of a complex number, and not by an arc tangent of ours."""
    expected = mpmath.degrees(mpmath.arg(mpmath.mpc(24, mpmath.mpf(str(per_foot)))))
    got = in_unit(taper_per_foot(per_foot).half_angle, "degree")
    assert abs(mpmath.mpf(str(got)) - expected) < mpmath.mpf("1e-12")


@given(st.decimals("12", "80", places=2), st.decimals("0.5", "10", places=2), LENGTHS)
def test_inch_and_metric_agree(large: Decimal, step: Decimal, length: Decimal) -> None:
    metric = taper_from_diameters(mm(large), mm(large - step), mm(length))
    inch = taper_from_diameters(
        mm(large).to("inch"), mm(large - step).to("inch"), mm(length).to("inch")
    )
    assert abs(metric.ratio - inch.ratio) < Decimal("1e-20")


@given(FEET, st.decimals("0.01", "1", places=3))
def test_steeper_is_more_angle(per_foot: Decimal, more: Decimal) -> None:
    assert taper_per_foot(per_foot + more).half_angle > taper_per_foot(per_foot).half_angle


@given(FEET, LENGTHS)
def test_both_ways_to_the_offset_agree(per_foot: Decimal, length: Decimal) -> None:
    ratio = per_foot / 12
    assert abs(
        in_unit(offset_from_foot(mm(length), per_foot) - tailstock_offset(mm(length), ratio), "mm")
    ) < Decimal("1e-20")


def test_the_taper_on_part_of_the_work() -> None:
    """F. D. Jones, Turning and Boring (1914): offset = L (D - d) / (2 l)."""
    found = offset_from_diameters(inches(10), inches("1.25"), inches(1), inches(4))
    assert in_unit(found, "inch") == Decimal("0.3125")
    with pytest.raises(ImpossibleInput, match="can't be less than the taper"):
        offset_from_diameters(inches(3), inches("1.25"), inches(1), inches(4))


# Half angles as printed in two reference pages (check values), degrees.
@pytest.mark.parametrize(("size", "half"), [("0", "1.4908"), ("3", "1.4377"), ("4", "1.4876")])
def test_morse_half_angles(size: str, half: str) -> None:
    found = standard_taper("morse", size)
    assert abs(in_unit(found.half_angle, "degree") - Decimal(half)) < Decimal("0.0001")
    assert in_unit(found.included_angle, "degree") == 2 * in_unit(found.half_angle, "degree")


def test_every_standard_taper_is_near_its_family() -> None:
    """Morse 0.6 and Brown & Sharpe 0.5 in a foot, No. 10 apart; 7/24 exactly."""
    for row in rows("tapers"):
        per_foot = Decimal(row["taper_per_foot"])
        if row["family"] == "morse":
            assert Decimal("0.598") < per_foot < Decimal("0.632")
        elif row["family"] == "7/24":
            assert per_foot == Decimal("3.5")
            assert not standard_taper("7/24", row["size"]).by_compound
        elif row["size"] != "10":
            assert abs(per_foot - Decimal("0.5")) < Decimal("0.004")
    assert in_unit(standard_taper("brown-sharpe", "10").taper_per_foot, "inch/foot") == Decimal(
        "0.51612"
    )


def test_large_ends_grow_with_the_size() -> None:
    for family in ("morse", "7/24"):
        ends = [Decimal(row["large_end"]) for row in rows("tapers") if row["family"] == family]
        assert ends == sorted(ends)


@given(st.decimals("0.5", "5", places=2), st.decimals("-0.2", "0.2", places=3))
def test_correction_leads_to_the_angle_wanted(half: Decimal, error: Decimal) -> None:
    """What was cut plus the correction is what was wanted."""
    cut = taper_from_angle(quantity(2 * (half + error), "degree"))
    small = Decimal(20)
    large = small + cut.ratio * 50
    found = taper_correction(mm(large), mm(small), mm(50), quantity(half, "degree"))
    change = in_unit(found.half_angle_change, "degree")
    assert abs(change + error) < Decimal("1e-10")
    assert found.steeper == (change > 0)


@given(FEET, st.decimals("-0.02", "0.02", places=4))
def test_tailstock_correction_leads_to_the_offset_wanted(per_foot: Decimal, error: Decimal) -> None:
    wanted = per_foot / 12
    cut = wanted + error * wanted
    found = tailstock_correction(mm(20 + cut * 50), mm(20), mm(50), mm(300), wanted)
    total = tailstock_offset(mm(300), cut) + found
    assert abs(in_unit(total - tailstock_offset(mm(300), wanted), "mm")) < Decimal("1e-18")


def test_proving_and_fitting() -> None:
    # 3-4-5 triangle: 5 along the compound at asin 0.6 is 3 square to the axis.
    angle = quantity("36.869897645844", "degree")
    assert abs(in_unit(compound_reading(mm(5), angle), "mm") - 3) < Decimal("1e-12")
    # A gauge 4 mm off on 1 in 20 goes home when 0.2 mm is off the diameter.
    assert in_unit(infeed_for_gauge(mm(4), Decimal("0.05")), "mm") == Decimal("0.1")


@pytest.mark.parametrize("ratio", ["0", "-1", "2"])
def test_no_such_taper(ratio: str) -> None:
    with pytest.raises(ImpossibleInput, match="taper"):
        taper(Decimal(ratio))


def test_bad_input() -> None:
    with pytest.raises(ImpossibleInput, match="must be more than the small one"):
        taper_from_diameters(mm(10), mm(10), mm(50))
    with pytest.raises(ImpossibleInput, match="length"):
        taper_from_diameters(mm(12), mm(10), mm(0))
    with pytest.raises(BadInput, match="wanted one of morse"):
        standard_taper("other", "1")
    with pytest.raises(BadInput, match="wanted one of 0, 1"):
        standard_taper("morse", "8")
    with pytest.raises(ImpossibleInput, match="included angle"):
        taper_from_angle(quantity(90, "degree"))
