"""Flats, slots and one spur gear."""

from __future__ import annotations

from decimal import Decimal

import mpmath
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calc.exact import in_unit
from assistant.calc.gears import (
    cutter_number,
    extra_depth,
    module_of,
    span_over_teeth,
    spur_gear,
    spur_gear_by,
)
from assistant.calc.polygons import flat_depth, flat_width, largest_polygon, polygon, stock_for
from assistant.calc.slots import slitting, t_slot
from assistant.calc.table import rows
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import Quantity, inches, mm, quantity

SIZES = st.decimals("5", "100", places=1)
SIDES = st.integers(3, 24)
TWENTY = quantity(20, "degree")


def _float(size: Quantity) -> mpmath.mpf:
    return mpmath.mpf(str(in_unit(size, "mm")))


@given(SIDES, SIZES)
def test_corners_by_complex_roots(sides: int, stock: Decimal) -> None:
    """The corners are roots of unity: side and distance of a side from the centre from them."""
    found = largest_polygon(sides, mm(stock))
    one = mpmath.mpf(str(stock)) / 2
    two = one * mpmath.expjpi(mpmath.mpf(2) / sides)
    assert abs(_float(found.flat_width) - abs(one - two)) < mpmath.mpf("1e-11")
    assert abs(_float(found.across_flats) - abs(one + two)) < mpmath.mpf("1e-11")


@given(SIDES, SIZES)
def test_the_stock_for_a_polygon_gives_it_back(sides: int, across: Decimal) -> None:
    back = largest_polygon(sides, stock_for(sides, mm(across))).across_flats
    assert abs(in_unit(back, "mm") - across) < Decimal("1e-12")


@given(SIZES, st.decimals("0.01", "0.49", places=2))
def test_flat_width_and_depth_are_inverse(stock: Decimal, share: Decimal) -> None:
    depth = stock * share
    width = flat_width(mm(stock), mm(depth))
    assert abs(in_unit(flat_depth(mm(stock), width), "mm") - depth) < Decimal("1e-18")


@given(SIDES, SIZES, st.decimals("0.5", "0.99", places=2))
def test_round_corners_are_said(sides: int, stock: Decimal, share: Decimal) -> None:
    across = stock * share
    found = polygon(sides, mm(across), mm(stock))
    assert found.full_corners == (found.across_corners <= mm(stock))
    assert in_unit(found.depth, "mm") == (stock - across) / 2
    # A flat is no wider than the side of the whole polygon, nor than the chord of its depth.
    chord = flat_width(mm(stock), found.depth)
    assert in_unit(found.flat_width, "mm") <= in_unit(chord, "mm") + Decimal("1e-12")


def test_flats_that_can_not_be() -> None:
    with pytest.raises(ImpossibleInput, match="must be less than the stock"):
        polygon(6, mm(20), mm(20))
    with pytest.raises(ImpossibleInput, match="sides"):
        polygon(2, mm(10), mm(20))
    with pytest.raises(ImpossibleInput, match="half of the diameter"):
        flat_width(mm(20), mm(11))
    with pytest.raises(ImpossibleInput, match="can't be wider"):
        flat_depth(mm(20), mm(21))


def test_slitting_by_the_circle() -> None:
    """A saw of 100 mm 20 mm deep: its rim meets the face 40 mm from below the arbor (3-4-5)."""
    found = slitting(mm(100), mm(40), mm(20), mm(60))
    assert (found.reach, found.run_in, found.travel) == (mm(30), mm(40), mm(140))
    with pytest.raises(ImpossibleInput, match="go 30 mm deep"):
        slitting(mm(100), mm(40), mm(31), mm(60))
    with pytest.raises(ImpossibleInput, match="collar"):
        slitting(mm(40), mm(40), mm(1), mm(60))


def test_t_slots_hold_together() -> None:
    for row in rows("t_slots"):
        found = t_slot(mm(row["throat"]))
        assert found.throat < found.head_width[0] < found.head_width[1]
        assert found.head_height[0] < found.head_height[1] < found.slot_depth[0]
    with pytest.raises(BadInput, match="wanted one of 5, 6"):
        t_slot(mm(7))


@given(st.integers(12, 200), st.sampled_from(["1", "1.5", "2", "3"]))
def test_chordal_sizes_by_the_tooth_s_corners(teeth: int, module: str) -> None:
    """The tooth's sides at the pitch circle are a quarter of a pitch off on either hand."""
    found = spur_gear(teeth, mm(module), TWENTY)
    radius = mpmath.mpf(module) * teeth / 2
    corner = radius * mpmath.expjpi(mpmath.mpf(1) / (2 * teeth))
    assert abs(_float(found.chordal_thickness) - 2 * corner.imag) < mpmath.mpf("1e-11")
    top = radius + mpmath.mpf(module)
    assert abs(_float(found.chordal_addendum) - (top - corner.real)) < mpmath.mpf("1e-11")


@given(st.integers(20, 120))
def test_span_steps_by_a_base_pitch(teeth: int) -> None:
    """One tooth more over the anvils is one base pitch, pi m cos a, whatever the gear."""
    step = span_over_teeth(teeth, mm(2), TWENTY, 4) - span_over_teeth(teeth, mm(2), TWENTY, 3)
    base = 2 * mpmath.pi * mpmath.cos(mpmath.radians(20))
    assert abs(_float(step) - base) < mpmath.mpf("1e-11")


def test_span_of_a_known_gear() -> None:
    """24 teeth of module 1, 20 degrees, over 3: 7.7165 (handbook span tables, from memory)."""
    assert round(in_unit(span_over_teeth(24, mm(1), TWENTY, 3), "mm"), 4) == Decimal("7.7165")


def test_cutters_leave_no_gap() -> None:
    """Numbers 8 to 1 for 12 teeth to a rack, each tooth count once: handbook, from memory."""
    numbers = [cutter_number(teeth)[0] for teeth in range(12, 400)]
    assert numbers == sorted(numbers, reverse=True)
    assert set(numbers) == set(range(1, 9))
    assert cutter_number(54) == (3, "35 to 54 teeth")
    assert cutter_number(55) == (2, "55 to 134 teeth")
    assert cutter_number(135) == (1, "135 teeth to a rack")


def test_depths_by_pressure_angle() -> None:
    fourteen = spur_gear(30, module_of(Decimal(12)), quantity("14.5", "degree"))
    assert round(in_unit(fourteen.whole_depth, "inch"), 4) == Decimal("0.1798")
    assert in_unit(spur_gear(30, mm(2), TWENTY).whole_depth, "mm") == Decimal("4.5")
    assert in_unit(fourteen.blank, "inch").quantize(Decimal("1e-9")) == Decimal("2.666666667")


def test_extra_depth_thins_the_tooth() -> None:
    depth = extra_depth(mm("3.2"), mm("3.0"), TWENTY)
    thinner = 2 * in_unit(depth, "mm") * Decimal("0.363970234266202")  # tan 20
    assert abs(thinner - Decimal("0.2")) < Decimal("1e-12")
    with pytest.raises(ImpossibleInput, match="already thinner"):
        extra_depth(mm(3), mm("3.1"), TWENTY)


def test_gears_that_can_not_be() -> None:
    with pytest.raises(ImpossibleInput, match="start at 12"):
        spur_gear(11, mm(2), TWENTY)
    with pytest.raises(BadInput, match=r"14\.5 or 20"):
        spur_gear(20, mm(2), quantity(25, "degree"))
    with pytest.raises(BadInput, match="module"):
        spur_gear_by(20, TWENTY)
    with pytest.raises(ImpossibleInput, match="diametral pitch"):
        module_of(Decimal(0))
    with pytest.raises(ImpossibleInput, match="spanned"):
        span_over_teeth(20, mm(2), TWENTY, 10)
    assert spur_gear_by(20, TWENTY, diametral_pitch=Decimal(10)).blank == inches("2.2")
