"""Passes, times and run-out."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calc import cutting
from assistant.calc.cutting import PassKind
from assistant.errors import ImpossibleInput
from assistant.units import Quantity, inches, mm, quantity


def cuts(plan: tuple[cutting.Pass, ...]) -> list[str]:
    return [str(one.cut.magnitude) for one in plan]


def test_a_keyseat_depth_is_skimmed_roughed_and_finished() -> None:
    """0.2115 deep, 0.060 a cut, 3 thou witness, 10 thou to finish, by hand: 0.1985 to rough is
    four cuts of 0.049625, each end set to half a thou: 0.0525, 0.1025, 0.1520, 0.2015."""
    plan = cutting.passes(
        inches("0.2115"), inches("0.060"), witness=inches("0.003"), finish=inches("0.010"),
        least=inches("0.004"), step=inches("0.0005"),
    )  # fmt: skip
    assert [one.kind for one in plan] == [PassKind.WITNESS, *4 * [PassKind.ROUGH], PassKind.FINISH]
    assert [str(one.depth.magnitude) for one in plan] == [
        "0.003", "0.0525", "0.1025", "0.1520", "0.2015", "0.2115",
    ]  # fmt: skip


def test_forty_thou_taken_plans_the_rest_from_there() -> None:
    plan = cutting.passes(inches("0.2"), inches("0.05"), start=inches("0.040"))
    assert cuts(plan) == ["0.040", "0.040", "0.040", "0.040"]
    assert plan[-1].depth == inches("0.2")


@pytest.mark.parametrize(
    ("depth", "finish", "least", "expected"),
    [
        ("0.010", "0.002", "0.004", ["0.006", "0.004"]),  # finish grows to the least cut
        ("0.007", "0.005", "0.004", ["0.007"]),  # 2 thou is not worth a roughing cut
        ("0.003", "0.005", "0.004", ["0.003"]),  # all there is
        ("0.054", "0.050", "0.008", ["0.0270", "0.0270"]),  # shared out, not 4 and 50
    ],
)
def test_no_pass_is_planned_below_the_least_useful_cut(
    depth: str, finish: str, least: str, expected: list[str]
) -> None:
    plan = cutting.passes(
        inches(depth), inches("0.050"), finish=inches(finish), least=inches(least)
    )
    assert [Decimal(cut) for cut in cuts(plan)] == [Decimal(cut) for cut in expected]


def test_a_skim_is_left_out_where_it_would_leave_nothing_useful() -> None:
    plan = cutting.passes(inches("0.006"), inches("0.05"), witness=inches("0.003"),
                          finish=inches("0.005"), least=inches("0.004"))  # fmt: skip
    assert [one.kind for one in plan] == [PassKind.FINISH]


@given(
    depth=st.integers(1, 8000),
    start=st.integers(0, 4000),
    limit=st.integers(16, 400),
    witness=st.integers(0, 12),
    finish=st.integers(0, 80),
    least=st.integers(0, 16),
    unit=st.sampled_from(["inch", "mm"]),
)
def test_passes_add_up_within_the_limit(
    depth: int, start: int, limit: int, witness: int, finish: int, least: int, unit: str
) -> None:
    """In half thous (or half hundredths), as the dial shows them."""

    def size(halves: int) -> Quantity:
        return quantity(Decimal(halves) / 2000, unit)

    plan = cutting.passes(
        size(start + depth), size(limit), start=size(start), witness=size(witness),
        finish=size(finish), least=size(least), step=size(1),
    )  # fmt: skip
    assert sum((one.cut.magnitude for one in plan), Decimal(0)) == size(depth).magnitude
    assert plan[-1].depth == size(start + depth)
    for one in plan:
        assert 0 < one.cut.magnitude <= size(limit).magnitude
    for one in plan[:-1]:
        assert (one.depth.magnitude * 2000) % 1 == 0 or one is plan[-2]
    last = plan[-1].cut.magnitude
    if depth >= 2 * least and limit >= 2 * least and finish:
        assert last >= min(size(least).magnitude, size(depth).magnitude)


def test_nothing_to_cut_and_a_hopeless_limit_are_refused() -> None:
    with pytest.raises(ImpossibleInput, match="nothing is left to cut"):
        cutting.passes(inches("0.1"), inches("0.05"), start=inches("0.1"))
    with pytest.raises(ImpossibleInput, match="least useful cut"):
        cutting.passes(inches("0.1"), inches("0.003"), least=inches("0.004"))
    with pytest.raises(ImpossibleInput, match="more than 500 passes"):
        cutting.passes(inches(10), inches("0.001"))


def test_run_out_is_the_chord_of_the_cutter() -> None:
    """3 in cutter 0.2115 deep: sqrt(1.5^2 - 1.2885^2) = 0.7680, by Pythagoras."""
    reach = cutting.run_out(inches(3), inches("0.2115"))
    by_pythagoras = (Decimal("1.5") ** 2 - Decimal("1.2885") ** 2).sqrt()
    assert abs(reach.magnitude - by_pythagoras) < Decimal("1e-20")
    with pytest.raises(ImpossibleInput, match="within half the cutter"):
        cutting.run_out(inches(1), inches("0.6"))


def test_removal_time_and_finish() -> None:
    assert cutting.removal_rate(inches("0.5"), inches("0.1"), quantity(8, "inch/minute")) == (
        quantity("0.4", "inch**3/minute")
    )
    assert cutting.cutting_time(mm(400), quantity(80, "mm/minute")) == quantity(5, "minute")
    ridge = cutting.finish_height(inches("0.01"), inches("0.03125"))
    assert ridge == inches("0.0004")
