"""Slots, faces, and the way of milling."""

from __future__ import annotations

import math
from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calc import milling
from assistant.errors import ImpossibleInput
from assistant.units import inches, mm


@given(st.decimals("0.1", "4", places=3), st.decimals("0", "1", places=3))
def test_both_walls_make_up_the_slot(cutter: Decimal, wider: Decimal) -> None:
    walls = milling.slot_walls(inches(cutter + wider), inches(cutter))
    assert walls.offset * 2 + inches(cutter) == inches(cutter + wider)


def test_a_cutter_wider_than_the_slot_is_refused() -> None:
    with pytest.raises(ImpossibleInput, match="wider than the slot"):
        milling.slot_walls(inches("0.5"), inches("0.501"))
    with pytest.raises(ImpossibleInput, match="a side smaller"):
        milling.slot_walls(inches("0.5"), inches("0.49"), inches("0.01"))


@given(
    st.decimals("0.2", "12", places=3), st.decimals("0.3", "4", places=3),
    st.decimals("0.3", "1", places=2),
)  # fmt: skip
def test_rows_cover_the_face_without_ribs(width: Decimal, cutter: Decimal, share: Decimal) -> None:
    rows = [row.magnitude for row in milling.face_rows(mm(width), mm(cutter), mm(cutter * share))]
    tiny = Decimal("1e-20")
    assert rows[0] - cutter / 2 <= tiny  # reaches the near edge
    assert abs(rows[-1] + cutter / 2 - width) < tiny  # and the far one
    assert all(b - a <= cutter * share + tiny for a, b in pairwise(rows))
    with pytest.raises(ImpossibleInput, match="leaves ribs"):
        milling.face_rows(mm(width), mm(cutter), mm(cutter * 2))


@pytest.mark.parametrize("clockwise", [True, False])
@pytest.mark.parametrize("side", ["left", "right"])
def test_a_tooth_goes_with_the_travel_when_milling_conventionally(
    side: milling.Side, clockwise: bool
) -> None:
    """Conventional: where the tooth leaves the work it moves the way the cutter travels, so the
    work is pushed ahead. The tooth's velocity is worked out as a vector."""
    at = math.pi if side == "left" else 0.0  # travel is +Y, left is -X
    turn = -1 if clockwise else 1
    along_travel = turn * math.cos(at)  # y part of omega x r
    assert milling.climbs(side, clockwise=clockwise) == (along_travel < 0)
