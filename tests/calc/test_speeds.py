"""Speeds, feeds and their tables."""

from __future__ import annotations

import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calc import speeds
from assistant.calc.exact import in_unit
from assistant.calc.table import rows
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import inches, mm, quantity, ureg

sizes = st.decimals("0.01", "20", places=3)
rates = st.decimals("5", "2000", places=1)


@given(rates, sizes)
def test_spindle_speed_agrees_with_a_turn_of_two_pi_radians(rate: Decimal, size: Decimal) -> None:
    """pint's own turn, in floats: v = omega r. 12 V / (pi D) in the usual units."""
    rpm = speeds.spindle_speed(quantity(rate, "foot/minute"), inches(size)).magnitude
    v = float(rate) * 0.3048 / 60
    omega = v / (float(size) * 0.0254 / 2)
    assert math.isclose(float(rpm), omega * 60 / (2 * math.pi), rel_tol=1e-12)


@given(rates, sizes)
def test_speed_and_surface_speed_are_inverse(rate: Decimal, size: Decimal) -> None:
    for given_rate, diameter in (
        (quantity(rate, "foot/minute"), inches(size)),
        (quantity(rate, "meter/minute"), mm(size)),
    ):
        back = speeds.surface_speed(speeds.spindle_speed(given_rate, diameter), diameter)
        assert abs(back.magnitude - rate) < Decimal("1e-20")


@given(rates, sizes)
def test_inch_and_metric_agree(rate: Decimal, size: Decimal) -> None:
    inch = speeds.spindle_speed(quantity(rate, "foot/minute"), inches(size))
    metric = speeds.spindle_speed(
        quantity(rate * Decimal("0.3048"), "meter/minute"), mm(size * Decimal("25.4"))
    )
    assert abs(inch.magnitude - metric.magnitude) < Decimal("1e-15")


@given(rates, sizes)
def test_a_larger_cutter_turns_slower(rate: Decimal, size: Decimal) -> None:
    slow = speeds.spindle_speed(quantity(rate, "foot/minute"), inches(size * 2))
    fast = speeds.spindle_speed(quantity(rate, "foot/minute"), inches(size))
    assert slow.magnitude < fast.magnitude


def test_feed_and_chip_load_are_inverse() -> None:
    feed = speeds.feed_rate(quantity(600, "rpm"), 4, inches("0.003"))
    assert feed == quantity("7.2", "inch/minute")
    assert speeds.chip_load_of(feed, quantity(600, "rpm"), 4) == inches("0.003")


def test_the_pace_of_a_hand_feed() -> None:
    """3 in a minute on 0.200 a turn is 15 turns a minute: four seconds a turn."""
    assert speeds.seconds_a_turn(quantity(3, "inch/minute"), inches("0.2")) == ureg.Quantity(
        Decimal(4), "second"
    )


def test_the_machine_gives_the_nearest_at_or_below() -> None:
    have = [quantity(n, "rpm") for n in (60, 90, 140, 215)]
    assert speeds.nearest_below(quantity(139, "rpm"), have).value == quantity(90, "rpm")
    exact = speeds.nearest_below(quantity(140, "rpm"), have)
    assert (exact.value, exact.above) == (quantity(140, "rpm"), False)
    slowest = speeds.nearest_below(quantity(40, "rpm"), have)
    assert (slowest.value, slowest.above) == (quantity(60, "rpm"), True)
    with pytest.raises(ImpossibleInput, match="lists no speeds"):
        speeds.nearest_below(quantity(40, "rpm"), [])


def test_materials_answer_to_shop_words() -> None:
    for word in ("mild steel", "low_carbon_steel", "1018", "crs", "Machine Steel"):
        assert speeds.material(word) == "mild steel"
    with pytest.raises(BadInput, match="choose one of mild steel"):
        speeds.material("unobtainium")


def test_every_material_has_a_speed_for_every_cut_with_hss() -> None:
    for row in rows("materials"):
        for cut in speeds.CUTS:
            found = speeds.speed_range(row["name"], "HSS", cut)
            assert in_unit(found.low, "foot/minute") <= in_unit(found.high, "foot/minute")
            assert found.source


def test_a_cut_without_its_own_row_says_which_row_stands_for_it() -> None:
    assert speeds.speed_range("alloy steel", "HSS", "milling").what.endswith("general")


def test_a_light_machine_starts_at_the_lowest_source() -> None:
    """Aluminium: 500 ft/min in a textbook's milling table, 200 in a general one."""
    for row in rows("materials"):
        for cut in ("milling", "drilling", "rough turning"):
            advised = in_unit(speeds.advised_speed(row["name"], "HSS", cut).low, "foot/minute")
            own = in_unit(speeds.speed_range(row["name"], "HSS", cut).low, "foot/minute")
            assert advised <= own
    assert in_unit(speeds.advised_speed("aluminium").low, "foot/minute") == 200
    with pytest.raises(BadInput, match="HSS or carbide"):
        speeds.advised_speed("aluminium", "flint")
    with pytest.raises(BadInput, match="choose one of"):
        speeds.advised_speed("aluminium", "HSS", "gnawing")


def test_chip_loads_stay_below_a_two_hundredth_of_a_small_end_mill() -> None:
    small = speeds.advised_chip_load("end mill", inches("0.125"))
    assert small.high == inches("0.000625")
    assert speeds.advised_chip_load("end mill", inches(2)).high == inches("0.003")
    assert speeds.advised_chip_load("slotting cutter", inches(3)).low == inches("0.003")


@pytest.mark.parametrize("table", ["surface_speeds", "materials", "chip_loads", "drill_feeds"])
def test_every_row_names_its_source(table: str) -> None:
    assert all(row["source"].strip() for row in rows(table))
