"""Turning, boring, parting, knurling and setting up the lathe."""

from __future__ import annotations

from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from assistant.calc.exact import in_unit
from assistant.calc.knurling import DIAMETRAL_PITCHES, knurl_blank, knurl_blank_dp
from assistant.calc.lathe_setup import dial_in, slenderness, tailstock_shift
from assistant.calc.trig import PI
from assistant.calc.turning import (
    depth_of_cut,
    diameter_plan,
    equal_passes,
    parting,
    shoulder_stops,
    speed_for_time,
    suggested_depth,
    to_diameter,
    turning_removal,
    turning_time,
)
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import inches, mm, quantity

DIAMETERS = st.decimals("5", "200", places=2)
CUTS = st.decimals("0.3", "3", places=2)


class TestDials:
    def test_the_two_kinds_of_dial(self) -> None:
        """TRAPS.md 9: 0.020 on a diameter dial takes 0.020 off; the tool moves 0.010."""
        diameter = to_diameter(inches("1.520"), inches("1.500"), "diameter")
        radius = to_diameter(inches("1.520"), inches("1.500"), "radius")
        assert in_unit(diameter.dial, "inch") == Decimal("0.020")
        assert in_unit(radius.dial, "inch") == Decimal("0.010")
        assert diameter.tool == radius.tool == inches("0.010")

    @given(DIAMETERS, DIAMETERS)
    def test_turning_goes_in_and_boring_out(self, measured: Decimal, wanted: Decimal) -> None:
        found = to_diameter(mm(measured), mm(wanted), "radius")
        assert found.inward == (measured > wanted)
        sign = -1 if found.inward else 1
        assert measured + sign * 2 * in_unit(found.tool, "mm") == wanted

    def test_another_dial(self) -> None:
        with pytest.raises(BadInput, match="diameter or radius"):
            to_diameter(mm(20), mm(19), "both")


class TestPasses:
    @given(DIAMETERS, DIAMETERS, CUTS)
    def test_as_few_equal_passes_as_the_limit_allows(
        self, one: Decimal, other: Decimal, most: Decimal
    ) -> None:
        assume(one != other)
        found = equal_passes(mm(one), mm(other), mm(most))
        depth = abs(one - other) / 2
        assert in_unit(found.depth, "mm") <= most
        assert found.passes == 1 or depth / (found.passes - 1) > most
        assert abs(found.passes * in_unit(found.depth, "mm") - depth) < Decimal("1e-15")

    @given(DIAMETERS, DIAMETERS, CUTS, st.decimals("0.1", "0.3", places=2))
    def test_a_plan_ends_on_the_size(
        self, one: Decimal, other: Decimal, most: Decimal, finish: Decimal
    ) -> None:
        assume(abs(one - other) > Decimal("0.2"))
        plan = diameter_plan(mm(one), mm(other), mm(most), mm(finish), mm("0.1"))
        sizes = [one, *(in_unit(step.diameter, "mm") for step in plan)]
        assert sizes[-1] == other
        for step, (before, after) in zip(plan, pairwise(sizes), strict=True):
            assert abs(abs(before - after) - 2 * in_unit(step.cut, "mm")) < Decimal("1e-15")
            assert in_unit(step.cut, "mm") <= most
            assert (after < before) == (other < one)

    def test_inch_and_metric_agree(self) -> None:
        metric = diameter_plan(mm("50.8"), mm("38.608"), mm("1.27"), mm("0.254"))
        inch = diameter_plan(inches(2), inches("1.52"), inches("0.05"), inches("0.01"))
        assert [in_unit(step.diameter, "mm") for step in metric] == [
            in_unit(step.diameter, "mm") for step in inch
        ]

    def test_nothing_to_cut(self) -> None:
        with pytest.raises(ImpossibleInput, match="has that diameter already"):
            equal_passes(mm(20), mm(20), mm(1))
        with pytest.raises(ImpossibleInput, match="more than 500 passes"):
            equal_passes(mm(200), mm(20), mm("0.001"))
        with pytest.raises(ImpossibleInput, match="nothing is left to cut"):
            diameter_plan(mm(20), mm(20), mm(1))
        assert depth_of_cut(mm(20), mm(22)) == mm(1)


class TestRates:
    def test_removal_by_the_ring_that_comes_off(self) -> None:
        """At the mean diameter the swept ring is the same: pi ((D/2)^2 - (d/2)^2) f n."""
        depth, feed, turns = Decimal(2), Decimal("0.25"), Decimal(300)
        outer, inner = Decimal(50), Decimal(46)
        ring = PI * (outer**2 - inner**2) / 4 * feed * turns / 1000
        speed = quantity(PI * (outer + inner) / 2 * turns / 1000, "meter/minute")
        found = in_unit(turning_removal(speed, mm(depth), mm(feed)), "cm**3/minute")
        assert abs(found - ring) < Decimal("1e-15")

    @given(DIAMETERS, st.decimals("10", "500", places=1), st.decimals("0.05", "0.5", places=2))
    def test_speed_and_time_are_inverse(self, dia: Decimal, length: Decimal, feed: Decimal) -> None:
        speed = in_unit(
            speed_for_time(mm(length), mm(dia), mm(feed), quantity(4, "minute")), "mm/minute"
        )
        rpm = quantity(speed / (PI * dia), "revolutions_per_minute")
        time = in_unit(turning_time(mm(length), mm(feed), rpm), "minute")
        assert abs(time - 4) < Decimal("1e-15")

    def test_the_lecture_example(self) -> None:
        """400 mm of a 150 mm bar in 5 min at 0.30 mm: 125.66 m/min (check values)."""
        speed = speed_for_time(mm(400), mm(150), mm("0.3"), quantity(5, "minute"))
        assert round(in_unit(speed, "meter/minute"), 2) == Decimal("125.66")


def test_slender_work_wants_support() -> None:
    """Three diameters in the chuck, ten on the tailstock: common practice, no source."""
    assert "stiff enough" in slenderness(mm(60), mm(20), tailstock=False).advice
    assert "bring up the tailstock" in slenderness(mm(61), mm(20), tailstock=False).advice
    assert "spring passes" in slenderness(mm(200), mm(20), tailstock=True).advice
    assert "steady" in slenderness(mm(201), mm(20), tailstock=True).advice


def test_suggested_depths() -> None:
    assert suggested_depth("Alloy steel").hss == inches("0.025")
    with pytest.raises(BadInput, match="the table has aluminium"):
        suggested_depth("cheese")


def test_parting_needs_reach() -> None:
    found = parting(mm(30), mm(0), mm(16))
    assert (found.travel, found.most_reach) == (mm(15), mm(18))
    assert found.speed_share[0] < found.speed_share[1] <= Decimal("0.5")
    assert parting(mm(30), mm(20), mm(6)).travel == mm(5)
    with pytest.raises(ImpossibleInput, match="the cut is 15 mm deep"):
        parting(mm(30), mm(0), mm(14))
    with pytest.raises(ImpossibleInput, match="bore"):
        parting(mm(30), mm(30), mm(14))


def test_shoulders_are_left_for_facing() -> None:
    assert shoulder_stops((mm(10), mm(25)), mm("0.2")) == (mm("9.8"), mm("24.8"))
    with pytest.raises(ImpossibleInput, match="less than"):
        shoulder_stops((mm("0.1"),), mm("0.2"))


@given(DIAMETERS, st.decimals("0.5", "2", places=1), st.sampled_from(["nearest", "below", "above"]))
def test_a_knurl_comes_out_even(dia: Decimal, pitch: Decimal, rule: str) -> None:
    found = knurl_blank(mm(dia), mm(pitch), rule=rule)
    size = in_unit(found.diameter, "mm")
    assert abs(PI * size / pitch - found.teeth) < Decimal("1e-12")
    assert abs(in_unit(found.change, "mm")) <= pitch / PI
    if rule == "nearest":
        assert abs(size - dia) <= pitch / PI / 2 + Decimal("1e-15")
    elif rule == "below":
        assert size <= dia
    else:
        assert size >= dia


@pytest.mark.parametrize("pitch", DIAMETRAL_PITCHES)
def test_a_thirty_second_suits_every_diametral_pitch(pitch: int) -> None:
    for size in range(8, 65):
        found = knurl_blank_dp(inches(Decimal(size) / 32), pitch)
        assert found.change.magnitude == 0


def test_a_knurl_too_coarse_for_the_work() -> None:
    with pytest.raises(ImpossibleInput, match="fewer than three teeth"):
        knurl_blank(mm(1), mm(2))
    with pytest.raises(BadInput, match="helix"):
        knurl_blank(mm(20), mm(1), quantity(70, "degree"))


def test_dialling_in_halves_the_reading() -> None:
    found = dial_in(inches("0.012"), inches("0.004"))
    assert (found.runout, found.move) == (inches("0.008"), inches("0.004"))
    assert dial_in(mm("-0.02"), mm("-0.10")).move == mm("0.04")
    with pytest.raises(ImpossibleInput, match="at or below"):
        dial_in(mm(0), mm("0.1"))


@given(st.decimals("-0.5", "0.5", places=3), st.decimals("50", "300", places=1))
def test_the_tailstock_by_similar_triangles(offset: Decimal, spacing: Decimal) -> None:
    """Work turned with the tailstock `offset` from the tool side is a cone of that slope."""
    length = spacing * 2
    near = Decimal(30)
    far = near + 2 * offset * spacing / length
    found = tailstock_shift(mm(near), mm(far), mm(spacing), mm(length))
    assert abs(in_unit(found.shift, "mm") - abs(offset)) < Decimal("1e-18")
    assert found.towards_tool == (offset > 0)


def test_collars_further_apart_than_the_centres() -> None:
    with pytest.raises(ImpossibleInput, match="between the collars"):
        tailstock_shift(mm(30), mm(31), mm(200), mm(100))
