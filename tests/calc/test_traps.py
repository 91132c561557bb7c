"""Traps that a shop's sums fall into, each held by a test: what looks right and isn't.

The numbers are of the standards and handbooks named; beside them stands what the wrong way would
have given, so that a test can't pass by it.
"""

from __future__ import annotations

import re
from decimal import Decimal

import pytest

from assistant.calc import catalogue
from assistant.errors import BadFile
from assistant.machine import parse_machine
from assistant.spoken import Refused
from assistant.units import inches
from tests.factories import Job
from tests.jobs.walking import MACHINES, plan_of, read_file


def given(name: str, **inputs: str) -> dict[str, object]:
    return dict(catalogue.run(name, inputs).result)


def number(name: str, field: str, **inputs: str) -> Decimal:
    return Decimal(str(given(name, **inputs)[field]))


def about(value: Decimal, wanted: str, within: str = "0.0005") -> bool:
    return abs(value - Decimal(wanted)) <= Decimal(within)


def test_1_inch_and_metric_keyseats_are_measured_from_different_places():
    """ASME B17.1: H/2 is at the side wall, so that a 1 in shaft with a 1/4 key is cut 0.1409 from
    the top, not 0.125. DIN 6885: t1 is from the top, 4.0 for 30 mm with 8 x 7; and not 4.0 + 0.54.
    The Woodruff depth of ASME B17.2 is at the side wall too."""
    inch = given("keyseat", shaft="1 in", width="1/4 in", height="1/4 in")
    assert about(Decimal(str(inch["depth_from_top"])), "0.1409")
    assert Decimal(str(inch["side_depth"])) == Decimal("0.125")
    assert number("keyseat", "depth_from_top", shaft="30 mm", width="8 mm", height="7 mm") == 4
    plan = plan_of("woodruff-inch")
    side, top = plan.result("depth at the side"), plan.result("full depth")
    assert top.value > side.value


@pytest.mark.parametrize(
    ("name", "shaft", "width"),
    [
        ("key-size-inch", "7/8 in", "0.1875"), ("key-size-inch", "0.8751 in", "0.25"),
        ("key-size-inch", "1-1/4 in", "0.25"), ("key-size-inch", "1.2501 in", "0.3125"),
        ("key-size-metric", "22 mm", "6"), ("key-size-metric", "22.01 mm", "8"),
        ("key-size-metric", "30 mm", "8"), ("key-size-metric", "30.01 mm", "10"),
    ],
)  # fmt: skip
def test_2_ranges_of_shafts_are_over_and_to_and_including(name, shaft, width):
    assert number(name, "width", shaft=shaft) == Decimal(width)


def test_3_the_clearance_is_in_the_hub_size_once_and_the_measured_key_counts():
    """ASME B17.1, 1 in with 1/4: T = 1.114, its 0.005 in it; 1.119 would have it twice. Over a key
    that measures 0.003 low the seat measures 0.003 less."""
    assert about(number("hub-keyway", "opposite_to_floor", bore="1 in", width="1/4 in",
                        height="1/4 in"), "1.114")  # fmt: skip
    key = {"shaft": "1 in", "width": "1/4 in", "height": "1/4 in"}
    full = number("keyseat", "over_key", **key)
    low = number("keyseat", "over_key", measured_key="0.247 in", **key)
    assert full - low == Decimal("0.003")


def test_4_seventy_five_percent_has_two_meanings_and_says_which():
    """1/4-20: on the classic charts' basis 0.25 - 1.299 x 0.75 / 20 = 0.2013, on the basic 5/8 H
    0.25 - 1.0825 x 0.75 / 20 = 0.2094. The plan names its basis aloud."""
    given_ = {"major": "1/4 in", "percent": "75", "tpi": "20"}
    assert about(number("tap-hole", "hole", basis="classic", **given_), "0.2013", "0.0001")
    assert about(number("tap-hole", "hole", basis="B1.1", **given_), "0.2094", "0.0001")
    note = plan_of("tap-blind").step("tap-drill")
    assert "basis" in " ".join(note.after)


def test_5_four_single_depths_are_in_print_and_the_wires_decide():
    """Of 60 degrees: 0.5413, 0.5954, 0.6134 and 0.6495 of the pitch. The job names the one it
    takes, and ends by the size over wires."""
    depths = {number("thread-depth", "depth", pitch="0.1 in", basis=basis).quantize(
        Decimal("0.00001")) for basis in ("5/8 H", "11/16 H", "17/24 H", "3/4 H")}  # fmt: skip
    assert depths == {Decimal(d) for d in ("0.05413", "0.05954", "0.06134", "0.06495")}
    plan = plan_of("thread-external")
    assert "0.6134 P" in plan.result("thread depth").formula
    assert plan.result("over the wires").low is not None


def test_6_what_the_usual_wire_formula_leaves_out_is_told():
    """The helix: 0.00009 in on 3/4-10, which is negligible, and said to be left out."""
    left = plan_of("thread-external").result("helix, left out")
    assert 0 < left.value.magnitude < Decimal("0.0002")


def test_7_a_morse_taper_is_set_by_half_its_angle():
    """No. 2: 0.59941 in a foot. Half angle 1.4307 degrees; 2.8614 on a compound makes it twice."""
    both = given("taper-standard", family="morse", size="2")
    assert about(Decimal(str(both["half_angle"])), "1.4307", "0.0001")
    assert about(Decimal(str(both["included_angle"])), "2.8614", "0.0001")
    assert "half" in plan_of("taper-morse").result("half angle").formula


def test_8_a_tenth_is_a_tenth_of_a_thou_and_a_mil_is_asked():
    """Two tenths over 1.500 are 1.5002, not 1.7. A mil is a thou in one country and a millimetre in
    another: whoever says it is asked which."""
    job = Job("keyseat-inch")
    job.to_step("measure-shaft")
    job.say("two tenths over")
    assert job.state.facts["shaft.diameter"] == inches("1.5002")
    job.to_step("touch-side")
    job.say("touched")
    asked = job.try_saying("paper is three mils")
    assert isinstance(asked.said, Refused)
    assert asked.said.candidate is not None


def test_9_the_profile_says_what_the_cross_slide_dial_counts():
    """0.020 on it: 0.020 off the diameter, or 0.040. A lathe whose profile doesn't say is refused,
    and the operator is asked before the first cut."""
    assert number("cross-slide-dial", "diameter", on_dial="0.020 in", reads="diameter") == Decimal(
        "0.020"
    )
    assert number("cross-slide-dial", "diameter", on_dial="0.020 in", reads="radius") == Decimal(
        "0.040"
    )
    silent = read_file(MACHINES / "rill-lathe.toml").replace('reads = "diameter"\n', "")
    with pytest.raises(BadFile, match="reads"):
        parse_machine(silent, "silent.toml")
    assert plan_of("turn-shaft").step("check-dial")


def test_10_surface_speeds_are_ranges_with_a_source_and_the_low_end_is_taken():
    found = given("surface-speed-range", material="mild steel")
    assert Decimal(str(found["low"])) < Decimal(str(found["high"]))
    assert found["source"]
    start = given("starting-surface-speed", material="mild steel")
    assert Decimal(str(start["low"])) <= Decimal(str(found["low"]))


def test_11_the_travel_of_a_turn_is_never_taken_for_granted():
    """No handwheel has a usual travel: a profile without it is refused, with the key's name."""
    profile = read_file(MACHINES / "millrace-horizontal.toml")
    silent = profile.replace('per_turn = "0.200 in"\n', "", 1)
    with pytest.raises(BadFile, match=r"per_turn is missing"):
        parse_machine(silent, "silent.toml")


def test_a_graduation_that_does_not_divide_the_turn_is_refused_with_one_that_does():
    """0.200 in a turn in steps of 0.003 are 66.67 lines: 0.0025 or 0.004 would be whole."""
    profile = read_file(MACHINES / "millrace-horizontal.toml")
    odd = profile.replace('graduation = "0.001 in"', 'graduation = "0.003 in"', 1)
    with pytest.raises(BadFile, match="graduation") as caught:
        parse_machine(odd, "odd.toml")
    right = re.search(r"(0\.\d+) in would", str(caught.value))
    assert right is not None, str(caught.value)
    assert Decimal("0.200") % Decimal(right[1]) == 0
