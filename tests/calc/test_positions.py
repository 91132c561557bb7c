"""Edges, centres, patterns of holes, triangles."""

from __future__ import annotations

import cmath
import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calc import positions
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import inches, magnitude, mm, quantity

TINY = Decimal("1e-12")


def test_from_the_side_of_the_shaft_to_its_centre() -> None:
    """1 in shaft, 1/4 cutter, no paper: 0.625 (common practice, no source). The issue's part:
    0.750 + 0.1875 + 0.003 = 0.9405."""
    assert positions.side_to_centre(inches(1), inches("0.25")) == inches("0.625")
    centre = positions.side_to_centre(inches("1.5"), inches("0.375"), inches("0.003"))
    assert centre == inches("0.9405")


def test_the_middle_of_two_touches() -> None:
    boss = positions.centre_of(inches("0.250"), inches("3.450"), inches("0.200"))
    assert (boss.position, boss.size, boss.back) == (inches("1.85"), inches(3), inches("-1.6"))
    bore = positions.centre_of(mm(-10), mm(14), mm(6), inside=True)
    assert (bore.position, bore.size) == (mm(2), mm(30))
    with pytest.raises(ImpossibleInput, match="count the whole turns again"):
        positions.centre_of(inches(0), inches("0.1"), inches("0.2"))


def test_walls_of_a_witness_cut_tell_the_centre_correction() -> None:
    assert positions.centre_correction(inches("0.564"), inches("0.560")) == inches("0.002")


def test_an_edge_is_half_the_tip_away() -> None:
    assert positions.edge_to_spindle(inches("0.2"), inches("0.002")) == inches("0.102")


@given(
    st.integers(1, 60), st.decimals("0.5", "30", places=3), st.decimals("0", "360", places=2),
    st.booleans(),
)  # fmt: skip
def test_bolt_circle_agrees_with_a_rotation(
    holes: int, diameter: Decimal, angle: Decimal, clockwise: bool
) -> None:
    """Turning the first hole again and again by a rotation matrix (a complex number)."""
    points = positions.bolt_circle(
        inches(diameter),
        holes,
        quantity(angle, "degree"),
        inches(2),
        inches(-1),
        clockwise=clockwise,
    )
    turn = cmath.exp((-1 if clockwise else 1) * 2j * cmath.pi / holes)
    at = cmath.rect(float(diameter) / 2, math.radians(angle))
    for point in points:
        assert math.isclose(float(point.x.magnitude), at.real + 2, abs_tol=1e-9)
        assert math.isclose(float(point.y.magnitude), at.imag - 1, abs_tol=1e-9)
        at *= turn


@given(st.integers(2, 60), st.decimals("0.5", "30", places=3))
def test_the_check_chord_is_the_distance_of_neighbours(holes: int, diameter: Decimal) -> None:
    first, second = positions.bolt_circle(inches(diameter), holes)[:2]
    gap = positions.distance(first, second).magnitude
    assert abs(gap - positions.chord(inches(diameter), holes).magnitude) < TINY


def test_a_grid_goes_row_by_row_in_one_direction() -> None:
    points = positions.grid(3, 2, inches(1), inches("0.5"), inches("0.25"), inches("0.25"))
    assert [magnitude(p.x, "inch") for p in points] == [
        Decimal(x) for x in ("0.25", "1.25", "2.25", "0.25", "1.25", "2.25")
    ]
    assert [magnitude(p.y, "inch") for p in points] == [Decimal("0.25")] * 3 + [Decimal("0.75")] * 3


def test_a_row_does_not_add_up_rounding() -> None:
    third = quantity(Decimal(1) / 3, "inch")
    assert positions.row(31, third)[-1].magnitude == Decimal(1) / 3 * 30


@given(st.decimals("0.1", "50", places=3), st.decimals("0.1", "50", places=3))
def test_any_two_parts_give_the_same_triangle(base: Decimal, rise: Decimal) -> None:
    whole = positions.right_triangle(base=inches(base), rise=inches(rise))
    parts = [
        {"base": whole.base, "hypotenuse": whole.hypotenuse},
        {"rise": whole.rise, "hypotenuse": whole.hypotenuse},
        {"base": whole.base, "angle": whole.angle},
        {"rise": whole.rise, "angle": whole.angle},
        {"hypotenuse": whole.hypotenuse, "angle": whole.angle},
    ]
    for two in parts:
        again = positions.right_triangle(**two)  # type: ignore[arg-type]
        for name in ("base", "rise", "hypotenuse"):
            difference = getattr(again, name).magnitude - getattr(whole, name).magnitude
            assert abs(difference) < Decimal("1e-9")
        assert abs((again.angle - whole.angle).magnitude) < Decimal("1e-8")


def test_triangles_that_cannot_be_are_refused() -> None:
    with pytest.raises(BadInput, match="give two parts"):
        positions.right_triangle(base=inches(1))
    with pytest.raises(ImpossibleInput, match="longer than either"):
        positions.right_triangle(base=inches(2), hypotenuse=inches(1))
    with pytest.raises(ImpossibleInput, match="less than 90"):
        positions.right_triangle(base=inches(2), angle=quantity(90, "degree"))
    with pytest.raises(ImpossibleInput, match="wanted 1 to 1000 holes"):
        positions.bolt_circle(inches(1), 0)
