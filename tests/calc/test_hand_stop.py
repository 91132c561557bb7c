"""How fast a slide may run where a hand ends the cut, worked by hand."""

from __future__ import annotations

from decimal import Decimal

import pytest

from assistant.calc.hand_stop import HandStop, slide_speed
from assistant.errors import ImpossibleInput
from assistant.units import inches, magnitude, mm, quantity


def rpm(number: str):
    return quantity(number, "revolutions_per_minute")


def test_the_travel_of_a_second() -> None:
    """360 turns a minute are 6 a second; six pitches of 1/13 in are 0.4615 in."""
    assert abs(magnitude(slide_speed(rpm("360"), inches("1") / 13), "inch") - Decimal("0.4615")) < (
        Decimal("0.0001")
    )
    assert magnitude(slide_speed(rpm("90"), mm("2")), "mm") == 3
    # 0.15 in: in seven tenths of a second a tenth of an inch and a bit
    assert magnitude(slide_speed(rpm("90"), inches("0.1")), "inch") == Decimal("0.15")


@pytest.mark.parametrize(
    ("stop", "lead", "turns"),
    [
        (HandStop(to_metal=False), inches("0.1"), "90"),  # 0.15 x 60 / 0.1
        (HandStop(to_metal=True), inches("0.1"), "45"),
        (HandStop(to_metal=True, by_spindle=True), inches("0.1"), "22.5"),
        (HandStop(to_metal=False), mm("2"), "120"),  # 4 x 60 / 2
        (HandStop(to_metal=True), mm("2"), "60"),
        (HandStop(to_metal=False, by_spindle=True), mm("4"), "30"),
    ],
)
def test_the_fastest_that_a_hand_stops(stop: HandStop, lead, turns: str) -> None:
    assert magnitude(stop.most_turns(lead), "rpm") == Decimal(turns)
    assert not stop.too_fast(rpm(turns), lead)
    assert stop.too_fast(rpm(turns) + rpm("1"), lead)


def test_the_coarsest_feed_at_a_speed() -> None:
    """0.075 in a second at 540 turns a minute, nine a second: 0.00833 in a turn."""
    feed = HandStop(to_metal=True).most_feed(rpm("540"), "inch")
    assert abs(feed - Decimal("0.008333")) < Decimal("0.000001")


def test_nothing_runs_at_no_lead() -> None:
    with pytest.raises(ImpossibleInput):
        HandStop(to_metal=True).most_turns(mm("0"))
