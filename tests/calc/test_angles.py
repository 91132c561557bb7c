"""Angles and setting up, against mpmath and plane geometry done another way."""

from __future__ import annotations

import math
from decimal import Decimal

import mpmath
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calc import angles, trig
from assistant.errors import ImpossibleInput
from assistant.units import inches, mm, quantity

degrees = st.decimals("0.01", "89.99", places=4)
TINY = Decimal("1e-12")


@given(degrees)
def test_trigonometry_agrees_with_mpmath(angle: Decimal) -> None:
    """mpmath at 30 digits; 14 places are enough for a hundred inches to a millionth."""
    with mpmath.workdps(30):
        exact = mpmath.mpf(str(angle)) * mpmath.pi / 180
        for ours, theirs in ((trig.sin, mpmath.sin), (trig.cos, mpmath.cos)):
            assert abs(mpmath.mpf(str(ours(angle))) - theirs(exact)) < 1e-14
        tangent = mpmath.tan(exact)
        assert abs(mpmath.mpf(str(trig.tan(angle))) - tangent) < 1e-14 + 2e-12 * tangent


@given(degrees)
def test_a_stack_and_its_angle_are_inverse(angle: Decimal) -> None:
    stack = angles.sine_bar_stack(inches(5), quantity(angle, "degree"))
    # near 90 degrees a sine says little of its angle
    back = angles.sine_bar_angle(inches(5), stack).magnitude
    assert abs(back - angle) < Decimal("1e-9")


@given(degrees)
def test_rise_and_angle_are_inverse(angle: Decimal) -> None:
    rise = angles.tilt_rise(mm(100), quantity(angle, "degree"))
    assert abs(angles.tilt_angle(mm(100), rise).magnitude - angle) < Decimal("1e-9")


@given(
    st.decimals("1.5", "6", places=3), st.decimals("0.3", "0.6", places=3),
    st.decimals("45", "70", places=1),
)  # fmt: skip
def test_dovetail_pins_touch_base_and_side(wide: Decimal, depth: Decimal, angle: Decimal) -> None:
    """The pin's centre is its radius from the base and from the side, by coordinates."""
    pin = depth / 2
    found = angles.dovetail(inches(wide), inches(depth), quantity(angle, "degree"), inches(pin))
    narrow, over = float(found.narrow.magnitude), float(found.over_pins.magnitude)
    r, a = float(pin) / 2, math.radians(angle)
    x = over / 2 - r - narrow / 2  # centre, from the sharp corner along the base
    to_side = abs(x * math.sin(a) - r * math.cos(a))  # distance of (x, r) from the side's line
    assert math.isclose(to_side, r, rel_tol=1e-9)
    female = angles.dovetail(
        inches(wide), inches(depth), quantity(angle, "degree"), inches(pin), female=True
    )
    gap = found.over_pins - found.narrow + female.over_pins
    assert abs((gap - inches(wide)).magnitude) < TINY


def test_a_dovetail_by_hand() -> None:
    """60 degrees, 3 in wide, 1/2 deep, 3/8 pins: narrow 3 - 2 x 0.5 x 0.57735 = 2.42265; over
    pins 2.42265 + 0.375 x 2.73205 = 3.44717. Formula: Machinery's Handbook, dovetail slides."""
    found = angles.dovetail(inches(3), inches("0.5"), quantity(60, "degree"), inches("0.375"))
    assert abs(found.over_pins.magnitude - Decimal("3.44717")) < Decimal("0.00001")
    with pytest.raises(ImpossibleInput, match="touches above the side"):
        angles.dovetail(inches(3), inches("0.2"), quantity(60, "degree"), inches("0.375"))


def test_a_v_block_moves_the_top_by_1_207() -> None:
    """1.207 times the difference in 90 degree V-blocks (TRADE, common practice); by geometry
    the centre rises D / (2 sin 45) and the top half the difference more."""
    top = angles.v_block_top_shift(inches("0.1"))
    assert abs(top.magnitude - Decimal("0.12071")) < Decimal("0.00001")
    centre = angles.v_block_centre_shift(inches("0.1"))
    assert abs((top - centre).magnitude - Decimal("0.05")) < TINY
    assert angles.vice_centre_shift(inches("0.012")) == inches("0.006")
    assert angles.vice_top_shift(inches("0.012")) == inches("0.012")


def test_tram_and_swivel() -> None:
    assert angles.tram_correction(inches("0.004"), inches(8), inches(12)) == inches("0.006")
    assert angles.from_square(quantity("29.5", "degree")) == quantity("60.5", "degree")


@pytest.mark.parametrize("angle", ["0", "90", "-5", "120"])
def test_angles_a_sine_bar_cannot_stand_at_are_refused(angle: str) -> None:
    with pytest.raises(ImpossibleInput, match="less than 90"):
        angles.sine_bar_stack(inches(5), quantity(angle, "degree"))
    with pytest.raises(ImpossibleInput, match="less than the bar"):
        angles.sine_bar_angle(inches(5), inches(5))
