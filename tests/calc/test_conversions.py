"""Quick sums, readable figures, exact sizes."""

from __future__ import annotations

import math
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calc import conversions, exact, legible
from assistant.errors import BadInput
from assistant.units import inches, mm, quantity

sizes = st.decimals("0.0001", "100", places=4)


@given(sizes)
def test_inches_and_millimetres_go_there_and_back(size: Decimal) -> None:
    there = conversions.to_mm(inches(size))
    assert there == mm(size * Decimal("25.4"))
    assert conversions.to_inches(there) == inches(size)


@given(st.integers(0, 128), st.sampled_from([2, 4, 8, 16, 32, 64, 128]))
def test_fractions_of_a_rule_are_exact(numerator: int, denominator: int) -> None:
    fraction = Fraction(numerator, denominator)
    found = conversions.nearest_fraction(conversions.fraction_to_decimal(fraction), denominator)
    assert (found.fraction, found.difference) == (fraction, inches(0))


@given(sizes)
def test_the_nearest_fraction_is_within_half_a_division(size: Decimal) -> None:
    found = conversions.nearest_fraction(inches(size))
    assert abs(found.difference.magnitude) <= Decimal(1) / 128
    with pytest.raises(BadInput, match="choose one of 2, 4"):
        conversions.nearest_fraction(inches(size), 10)


@given(sizes, sizes)
def test_add_and_take_away_are_inverse(first: Decimal, second: Decimal) -> None:
    total = conversions.add(inches(first), mm(second))
    assert conversions.take_away(total, mm(second)) == inches(first)
    assert conversions.half(conversions.add(mm(first), mm(first))) == mm(first)


def test_twenty_five_point_four_millimetres_is_one_inch() -> None:
    """pint alone gives 0.9999999999999999999999999995."""
    assert exact.in_unit(mm("25.4"), "inch") == 1
    assert f"{exact.in_unit(mm('762'), 'inch')}" == "30"


@given(st.decimals("0.001", "50", places=3), st.decimals("0.0001", "1", places=4))
def test_a_setting_is_a_whole_number_of_steps(value: Decimal, step: Decimal) -> None:
    assert exact.to_step(value, step) % step == 0
    assert abs(exact.to_step(value, step) - value) <= step / 2


@given(st.decimals("100", "5000", places=0), st.decimals("5", "120", places=1))
def test_figures_are_as_high_as_the_printed_formula_says(far: Decimal, angle: Decimal) -> None:
    """NUREG-0700 prints 6.283 D MA / 21600, good to its four figures at small angles."""
    printed = 6.283 * float(far) * float(angle) / 21600
    height = legible.character_height(mm(far), angle)
    assert math.isclose(float(height.magnitude), printed, rel_tol=2e-4)


def test_contrast_is_the_same_either_way_and_21_at_most() -> None:
    """WCAG 2.x: black and white are 21 to 1, a colour with itself 1 to 1."""
    assert abs(legible.contrast("#000000", "#FFFFFF") - 21) < Decimal("1e-9")
    assert legible.contrast("#FFBF00", "000000") == legible.contrast("#000000", "#FFBF00")
    assert legible.contrast("#123456", "#123456") == 1
    with pytest.raises(BadInput, match="six hexadecimal"):
        legible.contrast("amber", "#000000")


def test_three_decibels_halve_the_time() -> None:
    """NIOSH: 85 dB(A) for 8 hours, 3 dB exchange."""
    assert legible.noise_time(Decimal(85)) == quantity(8, "hour")
    assert legible.noise_time(Decimal(94)) == quantity(1, "hour")


def test_an_unknown_guideline_lists_those_there_are() -> None:
    with pytest.raises(BadInput, match="preferred-character-angle"):
        legible.guideline("size")
