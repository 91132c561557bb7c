"""A size and its limits: short, inside, past; in inches and millimetres, shafts and slots."""

from __future__ import annotations

from decimal import Decimal

import pytest

from assistant.spoken.limits import Limits, Standing
from assistant.units import inches, mm

SHORT, IN, PAST = Standing.SHORT, Standing.IN, Standing.PAST

SHAFT = Limits(inches("0.998"), inches("1.000"), 3)
SLOT = Limits(inches("0.375"), inches("0.377"), 3, grows=True, too_far="too wide")
SEAT = Limits(mm("21.00"), mm("21.20"), 2)


@pytest.mark.parametrize(
    ("size", "standing"),
    [
        ("1.010", SHORT),
        ("1.0005", SHORT),  # half a thou over is over
        ("1.00006", SHORT),  # 1.0001, a place finer than the limit
        ("1.00004", IN),  # 1.0000
        ("1.000", IN),
        ("0.998", IN),
        ("0.99796", IN),  # 0.9980
        ("0.9979", PAST),
        ("0.9975", PAST),
        ("0.990", PAST),
    ],
)
def test_a_shaft_meets_its_high_limit_first(size: str, standing: Standing) -> None:
    assert SHAFT.standing(inches(size), "inch") is standing


@pytest.mark.parametrize(
    ("size", "standing"),
    [("0.370", SHORT), ("0.3749", SHORT), ("0.375", IN), ("0.377", IN), ("0.3771", PAST)],
)
def test_a_slot_grows_and_meets_its_low_limit_first(size: str, standing: Standing) -> None:
    assert SLOT.standing(inches(size), "inch") is standing


@pytest.mark.parametrize(
    ("size", "standing"),
    [("21.21", SHORT), ("21.204", SHORT), ("21.20", IN), ("21.00", IN), ("20.99", PAST)],
)
def test_millimetres(size: str, standing: Standing) -> None:
    """In hundredths, and a size a place finer: 21.204 is 0.004 over."""
    assert SEAT.standing(mm(size), "mm") is standing


def test_how_far_is_signed_by_what_is_still_to_come_off() -> None:
    assert SHAFT.short_by(inches("1.0025"), "inch") == inches("0.0025")
    assert SHAFT.short_by(inches("0.999"), "inch") == inches("-0.001")
    assert SHAFT.past_by(inches("0.9970"), "inch") == inches("0.001")
    assert SLOT.short_by(inches("0.371"), "inch") == inches("0.004")
    assert SLOT.past_by(inches("0.380"), "inch") == inches("0.003")
    assert SLOT.past_by(inches("0.376"), "inch") == inches("-0.001")


def test_which_limit_comes_first() -> None:
    assert (SHAFT.first, SHAFT.last) == (SHAFT.high, SHAFT.low)
    assert (SLOT.first, SLOT.last) == (SLOT.low, SLOT.high)


def test_one_limit_may_be_missing() -> None:
    """A bore that has only to clear, a depth that may be more: nothing is past, or none short."""
    at_least = Limits(inches("0.500"), None, 3, grows=True)
    assert at_least.standing(inches("0.499"), "inch") is SHORT
    assert at_least.standing(inches("0.900"), "inch") is IN
    assert at_least.past_by(inches("0.900"), "inch") is None
    at_most = Limits(None, inches("0.500"), 3, grows=True)
    assert at_most.standing(inches("0.100"), "inch") is IN
    assert at_most.standing(inches("0.501"), "inch") is PAST
    assert at_most.short_by(inches("0.1"), "inch") is None
    none = Limits(None, None, 3)
    assert none.standing(inches("7"), "inch") is IN


def test_the_other_unit_has_one_place_more_or_fewer() -> None:
    """1.000 in is shown as 25.40 mm, and a size in millimetres is held against that, to a
    thousandth: 25.404 is over it, though only by 0.00016 in."""
    assert SHAFT.shown(inches("1.000"), "mm") == mm("25.40")
    assert SHAFT.standing(mm("25.40"), "mm") is IN
    assert SHAFT.standing(mm("25.404"), "mm") is SHORT
    # 0.998 in is 25.3492: shown and said as 25.35, so what was measured as 25.35 is in
    assert SHAFT.shown(inches("0.998"), "mm") == mm("25.35")
    assert SHAFT.standing(mm("25.35"), "mm") is IN
    assert SHAFT.standing(mm("25.349"), "mm") is PAST
    # 21.20 mm is 0.8346 in
    assert SEAT.shown(mm("21.20"), "inch").magnitude == Decimal("0.835")
