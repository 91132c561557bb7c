"""Dividing heads and rotary tables, by brute force."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calc.index_plates import (
    SETS,
    covered,
    divide,
    plate_circles,
    plate_set,
    turn_by,
    usual_plates,
)
from assistant.calc.indexing import (
    Choice,
    index_angle,
    index_divisions,
    index_error,
    possible,
)
from assistant.calc.rotary import degrees_per_turn, table_angle, table_position
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import quantity

RATIOS = st.sampled_from([40, 60, 72, 90])
PLATES = st.sampled_from(SETS)


def _by_walking(ratio: int, divisions: int, circles: tuple[int, ...]) -> set[tuple[int, int, int]]:
    """Every (turns, holes, circle) that lands on the first division, found by trying each hole."""
    found = set()
    for circle in circles:
        for holes in range((ratio // divisions + 1) * circle + 1):
            if holes * divisions == ratio * circle:
                found.add((holes // circle, holes % circle, circle))
    return found


@given(RATIOS, st.integers(1, 400), PLATES)
def test_every_choice_by_brute_force(ratio: int, divisions: int, plates: str) -> None:
    circles = plate_set(plates)
    found = index_divisions(ratio, divisions, circles)
    walked = _by_walking(ratio, divisions, circles)
    assert found.exact == bool(walked) == possible(ratio, divisions, circles)
    if found.exact and found.choices:
        assert {(found.turns, c.holes, c.circle) for c in found.choices} == walked
    elif found.exact:
        assert {turns for turns, holes, _ in walked if holes == 0} == {found.turns}


@given(RATIOS, st.integers(1, 400), PLATES)
def test_going_round_closes(ratio: int, divisions: int, plates: str) -> None:
    found = index_divisions(ratio, divisions, plate_set(plates))
    for choice in found.choices if found.exact else ():
        once = found.turns + Fraction(choice.holes, choice.circle)
        assert once * divisions == ratio


@given(RATIOS, st.integers(2, 400), PLATES)
def test_the_nearest_hole_is_the_nearest(ratio: int, divisions: int, plates: str) -> None:
    found = index_divisions(ratio, divisions, plate_set(plates))
    if found.exact:
        return
    wanted = Fraction(ratio, divisions)
    best = min(
        abs(Fraction(round(wanted * circle), circle) - wanted) for circle in plate_set(plates)
    )
    arcsec = best * 360 * 3600 / ratio
    assert abs(Fraction(found.error_arcsec)) == pytest.approx(float(arcsec), rel=1e-12)
    assert found.total_error_arcsec == found.error_arcsec * divisions


def test_the_error_that_a_manual_works_out() -> None:
    """OD1644: 24 minutes by one hole in 23 is 31.3 seconds short."""
    error = index_error(40, quantity("0.4", "degree"), 1, 23)
    assert round(error, 1) == Decimal("-31.3")


def test_127_is_said_not_to_go() -> None:
    found = divide(40, 127, "three plate")
    assert not found.exact
    assert len(found.choices) == 1
    assert abs(found.error_arcsec) > 1


def test_the_sector_arms_hold_one_hole_more() -> None:
    """The hole that the pin is in is not counted: common practice, no source."""
    assert Choice(15, 21).sector_holes == 16


@given(RATIOS, st.integers(1, 360 * 60))
def test_angles_by_brute_force(ratio: int, minutes: int) -> None:
    angle = quantity(Fraction(minutes, 60), "degree")
    circles = plate_set("two sided")
    found = index_angle(ratio, angle, circles)
    crank = Fraction(minutes * ratio, 360 * 60)
    fits = {c for c in circles if (crank * c).denominator == 1}
    if crank.denominator == 1:
        assert (found.exact, found.turns, found.choices) == (True, int(crank), ())
    elif fits:
        assert {c.circle for c in found.choices} == fits
        assert all(found.turns + Fraction(c.holes, c.circle) == crank for c in found.choices)
    else:
        assert not found.exact


def test_an_angle_of_six_decimals_means_whole_seconds() -> None:
    assert turn_by(40, quantity("8.833333", "degree"), "two sided").pairs == ((53, 54),)


def test_coverage_is_as_the_maker_says() -> None:
    """Two-sided plate: every number to 60, even numbers and fives to 120 (from memory)."""
    assert covered(40, "two sided", 60, 120, (2, 5)).missing == ()
    assert 61 in covered(40, "two sided", 61, 61, (1,)).missing


def test_plates() -> None:
    assert plate_circles("two sided").third is None
    assert plate_circles("three plate").third == (37, 39, 41, 43, 47, 49)
    both = usual_plates(40, divisions=7)
    assert both.three_plate == ((15, 21), (35, 49))
    assert both.two_sided == ((20, 28), (30, 42), (35, 49))
    own = divide(40, 7, "three plate", (49, 21, 21))
    assert own.pairs == ((15, 21), (35, 49))
    with pytest.raises(BadInput, match="wanted one of"):
        plate_set("four plate")
    with pytest.raises(BadInput, match="give divisions or an angle"):
        usual_plates(40)


@pytest.mark.parametrize(
    ("ratio", "divisions", "circles"), [(0, 7, (21,)), (40, 0, (21,)), (40, 7, (1,)), (40, -3, ())]
)
def test_what_can_not_be(ratio: int, divisions: int, circles: tuple[int, ...]) -> None:
    with pytest.raises(ImpossibleInput):
        index_divisions(ratio, divisions, circles)


def test_without_plates_only_whole_turns() -> None:
    assert index_divisions(40, 20, ()).exact
    found = index_divisions(40, 7, ())
    assert (found.exact, found.turns, found.choices) == (False, 6, ())


class TestRotary:
    def test_the_manuals_example(self) -> None:
        """16 deg 42' 20\" on a table of 90 to 1: four turns and 42' 20\" (maker's manual)."""
        found = table_angle(90, quantity("16.705556", "degree"))
        assert (found.turns, found.degrees, found.minutes, found.seconds) == (4, 0, 42, 20)

    @given(RATIOS, st.integers(1, 200), st.data())
    def test_positions_are_from_zero(self, ratio: int, divisions: int, data: st.DataObject) -> None:
        index = data.draw(st.integers(0, divisions))
        exact = table_position(ratio, divisions, index)
        total = exact.turns * Fraction(360, ratio) + exact.degrees
        total += Fraction(exact.minutes, 60)
        apart = float(total) + float(exact.seconds) / 3600 - 360 * index / divisions
        assert abs(apart) < 1e-9
        assert exact.error_arcsec == 0

    @given(RATIOS, st.integers(1, 200), st.sampled_from([1, 5, 10, 30, 60]), st.data())
    def test_rounding_never_adds_up(
        self, ratio: int, divisions: int, finest: int, data: st.DataObject
    ) -> None:
        index = data.draw(st.integers(0, divisions))
        found = table_position(ratio, divisions, index, finest)
        # The last graduation of a turn may be short: 8640 arc seconds is no multiple of 50.
        assert abs(found.error_arcsec) <= Decimal(finest) / 2 + Decimal("1e-9")
        assert 0 <= found.seconds < 60
        assert 0 <= found.minutes < 60
        assert found.dial_degrees < Decimal(360) / ratio

    def test_once_round(self) -> None:
        assert table_position(90, 7, 7).turns == 90
        assert degrees_per_turn(72) == 5

    def test_bad_input(self) -> None:
        with pytest.raises(ImpossibleInput, match="index"):
            table_position(90, 7, 8)
        with pytest.raises(ImpossibleInput, match="angle"):
            table_angle(90, quantity(-1, "degree"))
        with pytest.raises(ImpossibleInput, match="finest"):
            table_angle(90, quantity(1, "degree"), 0)
