"""The one rounding: what is shown for exact quantities."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calc import dial
from assistant.present.formatting import (
    MINUS,
    dial_text,
    passes_zero,
    show,
    show_dial,
    show_number,
    show_turns,
    shown_value,
    start_reading,
    turns_of,
    widest,
)
from assistant.spoken import DialMove, Figure, Wheel
from assistant.spoken.rounding import round_places
from assistant.units import Quantity, inches, magnitude, mm, quantity
from tests.devices.glances import KNEE, KNEE_MM, KNEE_UP, SADDLE, SADDLE_IN

lengths = st.decimals(-20, 20, places=6, allow_nan=False)


@pytest.mark.parametrize(
    ("value", "unit", "shown"),
    [
        (inches("0.9405"), "inch", "0.9405 in"),
        (inches("0.625"), "inch", "0.625 in"),
        (inches(1), "inch", "1.000 in"),
        (inches("0.14055"), "inch", "0.1406 in"),
        (inches("-0.003"), "inch", f"{MINUS}0.003 in"),
        (inches("-0.00001"), "inch", "0.000 in"),
        (inches("0.1405"), "mm", "3.569 mm"),
        (mm("8"), "mm", "8.00 mm"),
        (mm("0.005"), "mm", "0.005 mm"),
        (mm("25.4"), "inch", "1.000 in"),
        (mm("25.4"), "", "25.40 mm"),
        (quantity(180, "rpm"), "inch", "180 rpm"),
        (quantity("7.25", "inch/minute"), "inch", "7.25 in/min"),
        (quantity("90", "foot/minute"), "inch", "90 ft/min"),
        (quantity("0.1", "mm/turn"), "mm", "0.10 mm/turn"),
        (quantity("29.5", "degree"), "inch", "29.5 °"),
    ],
)
def test_shows_as_a_drawing_would(value: Quantity, unit: str, shown: str) -> None:
    assert show(value, unit) == shown


def test_a_figure_keeps_its_places_in_both_units() -> None:
    figure = Figure(mm("1.24"), "knee up", places=2)
    assert show_number(figure, "mm") == ("1.24", "mm")
    assert show_number(figure, "inch") == ("0.049", "in")
    assert show_number(Figure(inches("0.9405"), "saddle in"), "mm") == ("23.889", "mm")


@given(lengths, st.sampled_from(["inch", "mm"]))
def test_shown_is_the_nearest_and_reads_back(value: Decimal, unit: str) -> None:
    size = quantity(value, unit)
    places = 4 if unit == "inch" else 3
    expected = value.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)
    assert magnitude(shown_value(size, unit), unit) == expected
    number = show_number(size, unit).number
    assert places - 1 <= len(number.partition(".")[2]) <= places
    assert not number.startswith(f"{MINUS}0.0000") or expected


@given(lengths, st.integers(0, 5))
def test_rounding_is_away_from_zero_and_symmetric(value: Decimal, places: int) -> None:
    rounded = round_places(value, places)
    assert abs(rounded - value) <= Decimal("0.5").scaleb(-places)
    assert round_places(-value, places) == (-rounded if rounded else 0)
    assert not (rounded == 0 and rounded.is_signed())


def test_size_of_figures_does_not_jump() -> None:
    sizes = {widest(inches(v), "inch") for v in ("0.099", "0.100", "0.1005", "9.9999", "0")}
    assert sizes == {"0.0000"}
    assert widest(mm("9.99"), "mm") == widest(mm("10.005"), "mm") == "00.000"
    assert widest(quantity(60, "rpm")) == widest(quantity(1200, "rpm")) == "0000"


@given(lengths, st.sampled_from(["inch", "mm"]))
def test_nothing_is_wider_than_the_widest(value: Decimal, unit: str) -> None:
    size = quantity(value, unit)
    assert len(show_number(size, unit).number) <= len(widest(size, unit))


@pytest.mark.parametrize(
    ("value", "wheel", "text"),
    [
        (inches("0.1405"), SADDLE, "140½"),
        (inches("0.0005"), SADDLE, "½"),
        (inches("0.00025"), SADDLE, "¼"),
        (inches("0.030"), SADDLE, "30"),
        (inches("0.0303"), SADDLE, "30.3"),
        (mm("1.24"), KNEE_MM, "1.24"),
        (mm("1.2"), KNEE_MM, "1.20"),
    ],
)
def test_dial_is_shown_as_it_is_marked(value: Quantity, wheel: Wheel, text: str) -> None:
    assert dial_text(value, wheel) == text


def test_turns_and_dial() -> None:
    assert show_turns(SADDLE_IN) == "4 turns + 140½"
    assert show_dial(SADDLE_IN) == "4 turns + 140½, stop at 140½"
    assert show_dial(KNEE_UP) == "under a turn: 6, stop at 17"
    ten = DialMove(KNEE, "down", inches(1), 10, Decimal(0), Decimal(0), inches(0))
    assert show_turns(ten) == "10 turns"
    assert turns_of(inches("0.05"), KNEE) == "½ turn"
    assert turns_of(inches("0.15"), KNEE) == "1½ turns"


@given(
    st.integers(-4000, 4000),
    st.integers(0, 199),
    st.sampled_from([1, -1]),
    st.sampled_from([SADDLE, KNEE]),
)
def test_start_of_a_move_is_found_from_its_end(
    thou: int, start: int, rises: int, wheel: Wheel
) -> None:
    wheel = Wheel(wheel.axis, wheel.per_turn, wheel.graduation, rises)
    begin = inches(Decimal(start) / 1000) % wheel.per_turn
    travel = inches(Decimal(thou) / 1000)
    made = dial.move(travel, wheel.per_turn, wheel.graduation, rises, begin)
    ways = {"saddle": ("in", "out"), "knee": ("up", "down")}[wheel.axis]
    way = ways[0] if thou >= 0 else ways[1]
    move = DialMove(wheel, way, abs(travel), made.turns, made.part, made.divisions, made.reading)
    assert start_reading(move) == begin
    if passes_zero(move):
        assert made.crossings > made.turns
