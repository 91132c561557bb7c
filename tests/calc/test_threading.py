"""Infeed, passes, the thread dial and wires."""

from __future__ import annotations

import math
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

import mpmath
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from assistant.calc.exact import in_unit
from assistant.calc.thread_dial import dial_rule, thread_dial
from assistant.calc.thread_infeed import compound_infeed, infeed_passes
from assistant.calc.thread_series import threads_of
from assistant.calc.thread_sizes import thread_limits, wire_limits
from assistant.calc.thread_wires import (
    best_wire,
    helix_correction,
    pick_wire,
    pitch_dia_from_wires,
    size_over_wires,
    to_go,
    usable_wires,
    usual_wires,
    wire_at_hand,
)
from assistant.calc.threads import pitch_of
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import Quantity, inches, mm, quantity

mpmath.mp.dps = 30


def _degrees(value: str | int | Decimal) -> Quantity:
    return quantity(value, "degree")


class TestCompound:
    def test_reads_both_ways(self) -> None:
        """29-1/2 from square is 60-1/2 from the axis: common practice, no source."""
        found = compound_infeed(inches("0.0472"), _degrees("29.5"))
        assert in_unit(found.from_square, "degree") == Decimal("29.5")
        assert in_unit(found.from_axis, "degree") == Decimal("60.5")

    @given(st.decimals("0.1", "5", places=3), st.decimals("0", "30", places=2))
    def test_travel_and_shift_make_a_right_triangle(self, depth: Decimal, angle: Decimal) -> None:
        found = compound_infeed(mm(depth), _degrees(angle))
        travel, shift = in_unit(found.travel, "mm"), in_unit(found.shift, "mm")
        assert abs(travel**2 - shift**2 - depth**2) < Decimal("1e-12")

    def test_an_angle_read_from_the_axis_is_pointed_out(self) -> None:
        with pytest.raises(ImpossibleInput, match=r"60\.5 there stands at 29\.5"):
            compound_infeed(inches("0.05"), _degrees("60.5"))


class TestPasses:
    @given(
        st.decimals("0.02", "3", places=3),
        st.decimals("0.02", "0.6", places=3),
        st.decimals("0.005", "0.1", places=3),
    )
    def test_they_add_up_shrink_and_never_rub(
        self, depth: Decimal, first: Decimal, least: Decimal
    ) -> None:
        assume(least <= first)
        assume(least <= depth <= 400 * least)
        plan = infeed_passes(mm(depth), mm(first), mm(least))
        cuts = [in_unit(cut, "mm") for cut in plan.cuts]
        assert sum(cuts) == depth
        assert in_unit(plan.depths[-1], "mm") == depth
        slack = Decimal("1e-14")  # depths are kept to 15 places
        assert all(a >= b - slack for a, b in pairwise([first, *cuts]))
        if math.ceil(depth / first) * least <= depth:  # some number of cuts fits both limits
            assert all(cut >= least - slack for cut in cuts)

    @given(st.integers(1, 60))
    def test_equal_areas_of_chip(self, passes: int) -> None:
        """Where the least cut does not bite, every pass takes the same area: depth squared."""
        depth = Decimal("1.2")
        first = depth / Decimal(passes).sqrt() + Decimal("1e-9")
        plan = infeed_passes(mm(depth), mm(first), mm("0.0001"))
        ends = [Decimal(0), *(in_unit(end, "mm") for end in plan.depths)]
        areas = [b * b - a * a for a, b in pairwise(ends)]
        assert len(plan.depths) == passes
        assert max(areas) - min(areas) < Decimal("1e-12")

    def test_a_depth_in_inches_is_answered_in_inches(self) -> None:
        plan = infeed_passes(inches("0.0472"), inches("0.010"), inches("0.002"), 3)
        assert {str(cut.units) for cut in plan.cuts} == {"inch"}
        assert plan.spring_passes == 3

    def test_bad_input(self) -> None:
        with pytest.raises(ImpossibleInput, match="can't be more than the first cut"):
            infeed_passes(mm(1), mm("0.1"), mm("0.2"))
        with pytest.raises(ImpossibleInput, match="less than the least useful cut"):
            infeed_passes(mm("0.05"), mm("0.1"), mm("0.1"))
        with pytest.raises(ImpossibleInput, match="more than 500 passes"):
            infeed_passes(mm(1), mm("0.001"), mm("0.001"))
        with pytest.raises(ImpossibleInput, match="more than 500 passes"):
            infeed_passes(mm(1000), mm("0.1"), mm("0.1"))
        with pytest.raises(BadInput, match="spring passes"):
            infeed_passes(mm(1), mm("0.1"), mm("0.1"), -1)


class TestDial:
    @pytest.mark.parametrize(
        ("tpi", "every"),
        # A lead screw of 8 with a 32 tooth gear and 8 lines: the plates on lathes say any line
        # for even numbers, numbered lines for odd ones, opposite lines for halves (common
        # practice, no source).
        [("8", 1), ("16", 1), ("12", 1), ("10", 1), ("18", 1), ("7", 2), ("9", 2), ("13", 2),
         ("27", 2), ("23/2", 4), ("19/4", 8), ("13/4", 8)],
    )  # fmt: skip
    def test_the_plate_on_the_lathe(self, tpi: str, every: int) -> None:
        found = thread_dial(32, 8, tpi=Fraction(tpi), screw_tpi=Fraction(8))
        assert found.open_half_nut
        assert found.every == every

    @given(
        st.fractions(1, 40, max_denominator=4),
        st.sampled_from([4, 5, 6, 8, 10]),
        st.sampled_from([16, 24, 32, 40]),
        st.sampled_from([2, 4, 8]),
    )
    def test_by_walking_the_marks(self, tpi: Fraction, screw: int, gear: int, marks: int) -> None:
        """Brute force: at which lines do thread and lead screw both stand at a whole number?"""
        found = dial_rule(1 / tpi, Fraction(1, screw), gear, marks)
        travel = Fraction(gear, screw * marks)
        good = [
            line
            for line in range(1, 4 * marks + 1)
            if (line * travel * tpi).denominator == 1 and (line * travel * screw).denominator == 1
        ]
        if found.anywhere:
            assert (Fraction(1, screw) * tpi).denominator == 1
        elif found.open_half_nut:
            assert found.every is not None
            assert good == list(range(found.every, 4 * marks + 1, found.every))
        else:
            assert not good or good[0] > marks or marks % good[0]

    def test_a_metric_thread_on_an_inch_screw_stays_closed(self) -> None:
        found = thread_dial(32, 8, pitch=mm("1.5"), screw_tpi=Fraction(8))
        assert not found.open_half_nut
        assert "don't open the half nut" in found.rule

    def test_an_inch_thread_on_a_metric_screw_stays_closed(self) -> None:
        assert not thread_dial(28, 8, tpi=Fraction(13), screw_pitch=mm(3)).open_half_nut

    def test_metric_on_metric(self) -> None:
        """Dial gears of 28 and 20 teeth for a 3 mm screw: 1.75 and 2.5 mm pitch."""
        assert thread_dial(28, 1, pitch=mm("1.75"), screw_pitch=mm(3)).open_half_nut
        assert thread_dial(20, 4, pitch=mm("2.5"), screw_pitch=mm(3)).every == 1
        assert thread_dial(20, 1, pitch=mm("1.5"), screw_pitch=mm(3)).anywhere

    def test_exactly_one_of_threads_and_pitch(self) -> None:
        with pytest.raises(BadInput, match="give threads an inch or a pitch"):
            thread_dial(32, 8, screw_tpi=Fraction(8))
        with pytest.raises(BadInput, match="both"):
            thread_dial(32, 8, tpi=Fraction(8), pitch=mm(1), screw_tpi=Fraction(8))


class TestWires:
    @given(st.decimals("0.2", "6", places=3), st.decimals("5", "80", places=2))
    def test_there_and_back(self, pitch: Decimal, pitch_dia: Decimal) -> None:
        wire = best_wire(mm(pitch))
        over = size_over_wires(mm(pitch_dia), mm(pitch), wire)
        back = pitch_dia_from_wires(over, mm(pitch), wire)
        assert abs(in_unit(back, "mm") - pitch_dia) < Decimal("1e-15")

    @given(st.decimals("0.2", "6", places=3), st.decimals("0.51", "1.0", places=2))
    def test_by_the_circle_that_touches_both_flanks(self, pitch: Decimal, share: Decimal) -> None:
        """mpmath: the wire's centre lies (W/2) / sin 30 above the point of a sharp groove."""
        p, w = mpmath.mpf(str(pitch)), mpmath.mpf(str(pitch)) * mpmath.mpf(str(share))
        e = 20 * p
        groove = e / 2 - p / 4 / mpmath.tan(mpmath.pi / 6)
        expected = 2 * (groove + w / 2 / mpmath.sin(mpmath.pi / 6) + w / 2)
        got = size_over_wires(mm(20 * pitch), mm(pitch), mm(pitch * share))
        assert abs(mpmath.mpf(str(in_unit(got, "mm"))) - expected) < mpmath.mpf("1e-14")

    def test_the_best_wire_touches_at_the_pitch_line(self) -> None:
        """Half the groove at the pitch line is P / 4: (W / 2) cos 30."""
        half = in_unit(best_wire(mm(2)), "mm") / 2 * Decimal(3).sqrt() / 2
        assert abs(half - Decimal("0.5")) < Decimal("1e-20")

    def test_helix_correction_is_small_on_a_coarse_thread(self) -> None:
        """A tenth of a thou on 1/2-13, as TRAPS.md says it is negligible there."""
        found = helix_correction(inches("0.45"), pitch_of(Decimal(13)), inches("0.04441"))
        assert Decimal("0.00009") < in_unit(found, "inch") < Decimal("0.00011")

    def test_wires_that_will_not_do(self) -> None:
        low, high = usable_wires(mm(1))
        for wire in (low * Decimal("0.99"), high * Decimal("1.01")):
            with pytest.raises(ImpossibleInput, match=r"best 0\.57735 mm"):
                size_over_wires(mm(10), mm(1), wire)
        with pytest.raises(ImpossibleInput, match="wires"):
            pick_wire(mm(1), [mm("0.3"), mm(2)])

    def test_a_usual_set_serves_the_coarse_and_fine_series(self) -> None:
        """Down to 32 threads an inch: finer threads need smaller wires than it has."""
        for series in ("UNC", "UNF", "coarse"):
            for thread in threads_of(series):
                if in_unit(thread.pitch, "inch") >= in_unit(pitch_of(Decimal(32)), "inch"):
                    wire_at_hand(thread.pitch)
        assert list(usual_wires()) == sorted(usual_wires())

    def test_picks_the_nearest(self) -> None:
        at_hand = [inches(size) for size in ("0.024", "0.029", "0.032", "0.040")]
        assert pick_wire(inches("0.05"), at_hand) == inches("0.029")

    def test_limits_over_wires_follow_the_class(self) -> None:
        found = wire_limits("1/2-13", "2A")
        limits = thread_limits("1/2-13", "2A")
        assert in_unit(found.most - found.least, "inch") == in_unit(
            limits.pitch_max - limits.pitch_min, "inch"
        )
        assert found.wire == found.best
        with pytest.raises(BadInput, match="external"):
            wire_limits("1/2-13", "2B")

    def test_what_is_left_to_feed(self) -> None:
        """On the axis half of what the reading is over, along the compound by its cosine."""
        straight = to_go(inches("0.520"), inches("0.515"), _degrees(0))
        assert in_unit(straight.infeed, "inch") == Decimal("0.0025")
        assert straight.compound == straight.infeed
        over = to_go(inches("0.520"), inches("0.515"), _degrees("29.5")).compound
        assert round(in_unit(over, "inch"), 5) == Decimal("0.00287")
        assert to_go(inches("0.510"), inches("0.515"), _degrees(0)).over.magnitude < 0
