"""Tap drills, percent of thread, drills by name."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from assistant.calc.drills import KINDS, RULES, drill_named, drills, nearest_drill
from assistant.calc.exact import in_unit
from assistant.calc.tapping import (
    metric_tap_drill,
    percent_of_thread,
    tap_drill,
    tap_hole,
    tap_turns,
)
from assistant.calc.thread_series import find_thread
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import inches, mm
from tests.calc.outside import bd_warehouse_rows

MAJORS = st.decimals("2", "60", places=2)
SHARES = st.decimals("0.05", "0.2", places=3)
PERCENTS = st.decimals("30", "100", places=1)


@given(MAJORS, SHARES, PERCENTS, st.sampled_from(["classic", "B1.1"]))
def test_hole_and_percent_are_inverse(
    major: Decimal, share: Decimal, percent: Decimal, basis: str
) -> None:
    pitch = mm(major * share)
    hole = tap_hole(mm(major), pitch, percent, basis)
    got = percent_of_thread(mm(major), pitch, hole, basis)
    assert abs(got - percent) < Decimal("1e-12")


@given(MAJORS, SHARES, PERCENTS)
def test_the_same_percent_of_b11_is_a_larger_hole(
    major: Decimal, share: Decimal, percent: Decimal
) -> None:
    """The trap of the two '75 percents': TRAPS.md of the check values, 4."""
    pitch = mm(major * share)
    classic = tap_hole(mm(major), pitch, percent, "classic")
    assert tap_hole(mm(major), pitch, percent, "B1.1") > classic


@given(MAJORS, SHARES, PERCENTS)
def test_inch_and_metric_agree(major: Decimal, share: Decimal, percent: Decimal) -> None:
    metric = tap_hole(mm(major), mm(major * share), percent)
    inch = tap_hole(mm(major).to("inch"), mm(major * share).to("inch"), percent)
    assert abs(in_unit(metric - inch, "mm")) < Decimal("1e-15")


@given(MAJORS, SHARES, PERCENTS, st.decimals("0.1", "20", places=1))
def test_more_percent_is_a_smaller_hole(
    major: Decimal, share: Decimal, percent: Decimal, more: Decimal
) -> None:
    assume(percent + more <= 100)
    pitch = mm(major * share)
    assert tap_hole(mm(major), pitch, percent + more) < tap_hole(mm(major), pitch, percent)


def test_a_drill_larger_than_the_thread() -> None:
    with pytest.raises(ImpossibleInput, match=r"as large as the thread, 0\.5 in"):
        percent_of_thread(inches("0.5"), inches("0.05"), inches("0.5"))
    with pytest.raises(ImpossibleInput, match="the tap would jam"):
        percent_of_thread(inches("0.5"), inches("0.05"), inches("0.4"))
    with pytest.raises(BadInput, match="classic"):
        tap_hole(inches("0.5"), inches("0.05"), Decimal(75), "full")
    with pytest.raises(BadInput, match="percent"):
        tap_hole(inches("0.5"), inches("0.05"), Decimal(101))


KNOWN_TAP_DIFFERENCES = {
    # TRAPS.md: wrong in bd_warehouse's table.
    "M22-2.5": "wrong there: 18.5 for 19.5",
    "M21-2": "wrong there: 18 for 19",
    "1-12": "a 15/16 drill leaves 58 percent; 59/64 leaves 72",
    # D - P lies between two drills, or the table rounds up.
    "M4-0.75": "3.25 is in no usual set: 3.2 here",
    "M4.5-0.75": "3.75 is in no usual set: 3.7 here",
    "M6-0.75": "5.25 is in no usual set: 5.2 here",
    "M7-0.75": "6.25 is in no usual set: 6.2 here",
    "M12-1.75": "10.3 there, 10.2 in ISO 2306",
    "M14-2": "12.1 there, 12.0 in ISO 2306",
}


def test_tap_drills_against_bd_warehouse() -> None:
    """bd_warehouse tap_hole_sizes.csv, column Soft; its known differences are named above."""
    differ = set()
    for row in bd_warehouse_rows("tap_hole_sizes.csv"):
        thread = find_thread(row["Size"])
        if thread.metric:
            found = metric_tap_drill(thread.major, thread.pitch)
            same = in_unit(found.dia, "mm") == Decimal(row["Soft"])
        else:
            same = tap_drill(thread.major, thread.pitch).drill == row["Soft"]
        if not same:
            differ.add(row["Size"])
    assert differ == set(KNOWN_TAP_DIFFERENCES)


KNOWN_DRILL_DIFFERENCES = {"#5", "#10", "#18", "#25", "#28", "#69"}
"""Rounded to three places in bd_warehouse's drill_sizes.csv (TRAPS.md)."""


def test_drill_sizes_against_bd_warehouse() -> None:
    rows = bd_warehouse_rows("drill_sizes.csv")
    differ = set()
    for row in rows:
        ours = in_unit(drill_named(row["Size"]).diameter, "inch")
        if ours != Decimal(row["Diameter"]):
            assert abs(ours - Decimal(row["Diameter"])) <= Decimal("0.0005")
            differ.add(row["Size"])
    assert len(rows) == 106
    assert differ == KNOWN_DRILL_DIFFERENCES


def test_sets_are_in_order() -> None:
    for kind in KINDS:
        sizes = [in_unit(drill.diameter, "mm") for drill in drills(kind)]
        assert sizes == sorted(sizes, reverse=kind == "number")
        assert len(set(sizes)) == len(sizes)


@given(st.decimals("0.4", "40", places=3), st.sampled_from(RULES), st.sets(
    st.sampled_from(KINDS), min_size=1))  # fmt: skip
def test_nearest_drill_by_brute_force(size: Decimal, rule: str, kinds: set[str]) -> None:
    everything = [drill for kind in kinds for drill in drills(kind)]
    apart = {drill.name: in_unit(drill.diameter, "mm") - size for drill in everything}
    allowed = {
        name: abs(distance)
        for name, distance in apart.items()
        if rule == "nearest" or (distance >= 0 if rule == "at or above" else distance <= 0)
    }
    try:
        found = nearest_drill(mm(size), sorted(kinds), rule)
    except ImpossibleInput:
        assert not allowed or min(allowed.values()) > size / 10
        return
    assert allowed[found.name] == min(allowed.values())


@pytest.mark.parametrize(
    ("text", "name"),
    [("7", "#7"), ("#7", "#7"), ("number 7", "#7"), ("no. 7", "#7"), ("f", "F"),
     ("letter F", "F"), ("29/64", "29/64"), ("1-1/2 in", "1-1/2"), ("6.8 mm", "6.8 mm"),
     ("3.3mm", "3.3 mm")],
)  # fmt: skip
def test_drills_by_name(text: str, name: str) -> None:
    assert drill_named(text).name == name


@pytest.mark.parametrize("text", ["98", "0", "", "0.3", "61/128", "6.85 mm", "AA", "seven"])
def test_what_is_no_drill_is_refused(text: str) -> None:
    with pytest.raises(BadInput):
        drill_named(text)


def test_turns_of_a_tap() -> None:
    """A plug tap's chamfer of four threads is turned past the depth; common practice."""
    through = tap_turns(inches("0.5"), inches("0.05"), "plug", blind=False)
    blind = tap_turns(inches("0.5"), inches("0.05"), "bottoming", blind=True)
    assert through.turns == 14
    assert in_unit(through.hole_depth, "inch") == Decimal("0.5")
    assert blind.turns == 12
    assert in_unit(blind.hole_depth, "inch") == Decimal("0.65")
    with pytest.raises(BadInput, match="tap"):
        tap_turns(inches("0.5"), inches("0.05"), "spiral", blind=True)
