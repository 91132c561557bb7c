"""Handwheels: turns, divisions and readings. Facts marked so are common practice, no source."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calc import dial
from assistant.calc.dial import Toward
from assistant.errors import ImpossibleInput
from assistant.units import Quantity, inches, mm, quantity

TURNS_INCH = [(Decimal(t), Decimal(g)) for t, g in (
    ("0.200", "0.001"), ("0.100", "0.001"), ("0.125", "0.001"), ("0.050", "0.001"),
    ("0.250", "0.0005"), ("1", "0.01"),
)]  # fmt: skip
TURNS_MM = [(Decimal(t), Decimal(g)) for t, g in (
    ("4", "0.02"), ("2", "0.01"), ("5", "0.05"), ("2.5", "0.02"), ("3", "0.01"), ("1", "0.01"),
)]  # fmt: skip


@st.composite
def wheels(draw: st.DrawFn) -> tuple[Quantity, Quantity, int]:
    unit = draw(st.sampled_from(["inch", "mm"]))
    turn, step = draw(st.sampled_from(TURNS_INCH if unit == "inch" else TURNS_MM))
    return quantity(turn, unit), quantity(step, unit), draw(st.sampled_from([1, -1]))


@st.composite
def settled(draw: st.DrawFn, wheel: tuple[Quantity, Quantity, int]) -> Quantity:
    """A travel the dial can show, in halves of a division."""
    halves = draw(st.integers(-20_000, 20_000))
    return quantity(wheel[1].magnitude / 2 * halves, str(wheel[1].units))


def test_a_tenth_of_an_inch_on_a_wheel_of_fifty_thou_is_two_turns() -> None:
    """Common practice, no source."""
    two = dial.move(inches("0.100"), inches("0.050"), inches("0.001"))
    assert (two.turns, two.part, two.divisions) == (2, 0, 0)
    assert two.reading == inches(0)


def test_the_move_to_the_centre_line_of_the_keyseat_in_the_issue() -> None:
    """0.9405 on 0.200 a turn: four turns and one-forty and a half (issue: the tone)."""
    centre = dial.move(inches("0.9405"), inches("0.200"), inches("0.001"))
    assert (centre.turns, centre.part, centre.divisions) == (
        4, Decimal("0.1405"), Decimal("140.5"),
    )  # fmt: skip
    assert centre.reading == inches("0.1405")


def test_a_move_that_starts_off_zero_says_the_reading_to_stop_at() -> None:
    """Check values dial.turns.from_reading and dial.turns.back."""
    on = dial.move(inches("0.450"), inches("0.200"), inches("0.001"), start=inches("0.135"))
    assert (on.reading, on.crossings, on.turns) == (inches("0.185"), 2, 2)
    back = dial.move(inches("-0.230"), inches("0.100"), inches("0.001"), start=inches("0.050"))
    assert (back.reading, back.crossings, back.turns) == (inches("0.020"), 2, 2)


def test_arriving_on_zero_counts_as_meeting_it_from_either_side() -> None:
    up = dial.move(inches("0.150"), inches("0.100"), inches("0.001"), start=inches("0.050"))
    down = dial.move(inches("-0.150"), inches("0.100"), inches("0.001"), start=inches("0.050"))
    assert (up.crossings, down.crossings) == (2, 2)


def test_a_dial_whose_numbers_fall_reads_the_rest_of_the_turn() -> None:
    one = dial.move(inches("0.030"), inches("0.100"), inches("0.001"), rises=-1)
    assert one.reading == inches("0.070")


def test_metric_travel_on_an_inch_dial_is_set_to_the_dial_first() -> None:
    """25.4 mm is one inch: ten turns of 0.100, not nine and a rounding error."""
    travel = dial.settle(mm("25.4"), inches("0.001"))
    assert dial.split(travel, inches("0.100"), inches("0.001")) == dial.Split(
        10, Decimal(0), Decimal(0)
    )
    assert dial.settle(mm("25.4"), inches("0.001"), Toward.DEEPER) == inches(1)


@pytest.mark.parametrize(
    ("target", "toward", "at"),
    [
        ("0.21132", Toward.DEEPER, "0.2115"),
        ("0.21132", Toward.NEAREST, "0.2115"),
        ("0.21120", Toward.NEAREST, "0.2110"),
        ("0.21132", Toward.SHALLOWER, "0.2110"),
        ("-0.21101", Toward.DEEPER, "-0.2115"),
        ("0.2115", Toward.DEEPER, "0.2115"),
    ],
)
def test_settling_rounds_the_way_it_is_told(target: str, toward: Toward, at: str) -> None:
    assert dial.settle(inches(target), inches("0.001"), toward) == inches(at)


def test_a_graduation_that_does_not_divide_the_turn_is_refused_with_one_that_would() -> None:
    with pytest.raises(ImpossibleInput, match=r"0\.001 in would, with 125 divisions"):
        dial.divisions_per_turn(inches("0.125"), inches("0.0011"))
    assert dial.divisions_per_turn(inches("0.125"), inches("0.001")) == 125
    assert dial.divisions_per_turn(mm(4), mm("0.02")) == 200


@pytest.mark.parametrize("shown", ["0.200", "0.2005", "-0.001", "1.5"])
def test_a_reading_the_dial_cannot_show_is_refused(shown: str) -> None:
    with pytest.raises(ImpossibleInput, match="dial reads from 0 up to"):
        dial.travel_from_turns(1, inches(shown), inches("0.200"))


@given(st.data())
def test_turns_and_divisions_make_up_the_travel(data: st.DataObject) -> None:
    wheel = data.draw(wheels())
    per_turn, graduation, rises = wheel
    travel = data.draw(settled(wheel))
    made = dial.move(travel, per_turn, graduation, rises)
    total = made.turns * per_turn.magnitude + made.divisions * graduation.magnitude
    assert total == abs(travel.magnitude)
    assert (made.divisions * 2) % 1 == 0
    assert 0 <= made.reading.magnitude < per_turn.magnitude


@given(st.data())
def test_the_dial_tells_back_the_travel_it_was_given(data: st.DataObject) -> None:
    wheel = data.draw(wheels())
    per_turn, graduation, rises = wheel
    start = abs(data.draw(settled(wheel))) % per_turn
    travel = data.draw(settled(wheel))
    made = dial.move(travel, per_turn, graduation, rises, start)
    way = 1 if travel.magnitude >= 0 else -1
    assert dial.travel_from_turns(made.turns, made.reading, per_turn, way, rises, start) == travel
    # Believed within less than half a turn, the reading alone is enough.
    near = travel + per_turn * data.draw(st.sampled_from([Decimal("-0.49"), 0, Decimal("0.49")]))
    assert dial.travel_from_reading(made.reading, near, per_turn, rises, start) == travel


@given(st.data())
def test_moves_one_after_another_read_as_their_sum(data: st.DataObject) -> None:
    wheel = data.draw(wheels())
    per_turn, graduation, rises = wheel
    first, second = data.draw(settled(wheel)), data.draw(settled(wheel))
    there = dial.move(first, per_turn, graduation, rises)
    on = dial.move(second, per_turn, graduation, rises, there.reading)
    assert on.reading == dial.reading(first + second, per_turn, rises)


@given(st.data())
def test_every_approach_ends_on_the_target_from_the_chosen_side(data: st.DataObject) -> None:
    wheel = data.draw(wheels())
    per_turn, _, _ = wheel
    travel = data.draw(settled(wheel))
    arriving = data.draw(st.sampled_from([1, -1]))
    backlash = per_turn * data.draw(st.decimals("0", "1.5", places=3))
    slack_taken = data.draw(st.booleans())
    way = dial.approach(travel, arriving, per_turn, backlash, slack_taken=slack_taken)
    assert way.first + way.last == travel
    assert way.last.magnitude * arriving >= 0
    if way.back_off is not None:
        assert way.last == arriving * way.back_off
        assert way.back_off >= 2 * backlash
        assert way.back_off >= per_turn / 2


def test_going_the_right_way_needs_no_going_past() -> None:
    way = dial.approach(inches("0.5"), 1, inches("0.2"), inches("0.006"))
    assert (way.first, way.last, way.back_off) == (inches(0), inches("0.5"), None)


def test_a_short_move_the_right_way_with_the_slack_on_the_wrong_side_goes_round() -> None:
    way = dial.approach(inches("0.005"), 1, inches("0.2"), inches("0.006"), slack_taken=False)
    assert way.back_off == inches("0.1")
    assert way.first == inches("-0.095")


def test_reversing_turns_through_the_backlash_first() -> None:
    """Check value dial.backlash.reverse."""
    assert dial.reversed_travel(inches("0.100"), inches("0.006")) == inches("0.106")


def test_lathe_dials_of_both_kinds() -> None:
    """TRAPS.md 9: 0.020 on a diameter dial moves the tool 0.010; on a radius dial takes 0.040."""
    assert dial.tool_travel(inches("0.020"), "diameter") == inches("0.010")
    assert dial.diameter_change(inches("0.020"), "radius") == inches("0.040")
    assert dial.tool_travel(inches("0.020"), "radius") == inches("0.020")
    assert dial.diameter_change(inches("0.020"), "diameter") == inches("0.020")
