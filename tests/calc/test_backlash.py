"""Backlash from two readings: a screw that is modelled apart from the formula shows them."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calc.dial import backlash_between
from assistant.errors import ImpossibleInput
from assistant.units import quantity

TURNS = st.sampled_from([Decimal(one) for one in ("0.1", "0.125", "0.2", "0.25", "0.5", "1")])


class Screw:
    """A handwheel with lost motion: the dial sits on the wheel, the slide follows only once the
    flank of the thread is met. Common practice, no source."""

    def __init__(self, turn: Decimal, lost: Decimal, dial: Decimal) -> None:
        self.turn, self.lost = turn, lost
        self.wheel, self.slide = dial, dial

    def wind(self, by: Decimal) -> None:
        self.wheel += by
        # the nut's play: the slide is dragged along by either flank, and rests between them
        self.slide = max(min(self.slide, self.wheel), self.wheel - self.lost)

    def come_to(self, place: Decimal, way: int) -> None:
        """The slide comes to `place` that way: from well before it, with the flank met."""
        self.wind(-way * (abs(self.slide - place) + 3 * self.turn))
        self.wind(way * self.turn)
        self.wind(place - self.slide)
        assert self.slide == place

    @property
    def reading(self) -> Decimal:
        rest = self.wheel % self.turn
        return rest + self.turn if rest < 0 else abs(rest)


@given(
    turn=TURNS,
    part=st.integers(0, 499),
    start=st.integers(-5000, 5000),
    place=st.integers(-5000, 5000),
    first=st.sampled_from([1, -1]),
)
def test_what_a_worn_screw_shows_gives_its_backlash_back(
    turn: Decimal, part: int, start: int, place: int, first: int
):
    lost = turn * part / 1000
    screw = Screw(turn, lost, Decimal(start) / 1000)
    readings = []
    for way in (first, -first):
        screw.come_to(Decimal(place) / 1000, way)
        readings.append(quantity(screw.reading, "inch"))
    assert backlash_between(*readings, quantity(turn, "inch")).magnitude == lost


@pytest.mark.parametrize(
    ("first", "second", "lost"),
    [("0.004", "0.194", "0.010"), ("0.194", "0.004", "0.010"), ("0", "0.199", "0.001"),
     ("0.050", "0.061", "0.011"), ("0.1", "0.1", "0")],
)  # fmt: skip
def test_by_hand(first: str, second: str, lost: str):
    turn = quantity("0.2", "inch")
    apart = backlash_between(quantity(first, "inch"), quantity(second, "inch"), turn)
    assert apart.magnitude == Decimal(lost)


def test_a_reading_that_is_no_reading_is_refused():
    with pytest.raises(ImpossibleInput, match=r"one turn is 0\.2 in"):
        backlash_between(quantity("0.2", "inch"), quantity(0, "inch"), quantity("0.2", "inch"))
