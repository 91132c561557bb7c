"""Facing to length, parting off and knurling, against numbers worked by hand."""

from __future__ import annotations

from decimal import Decimal

import pytest

from assistant.app.paths import configs_folder
from assistant.errors import BadFile, ImpossibleInput
from assistant.jobs.plan import Plan
from assistant.jobs.planning import plan_for, read_job
from assistant.machine import load_machine
from assistant.textfile import read_file
from assistant.units import inches, magnitude, mm
from tests.factories import Job, expected_words

JOBS = configs_folder() / "jobs"
MACHINES = configs_folder() / "machines"


def planned(name: str, change: tuple[str, str] = ("", ""), machine: str = "", **facts) -> Plan:
    text = read_file(JOBS / f"{name}.toml")
    assert change[0] in text
    text = text.replace(*change, 1) if change[0] else text
    head, _ = read_job(text, f"{name}.toml")
    named = {fact.replace("__", "."): value for fact, value in facts.items()}
    return plan_for(
        text, f"{name}.toml", load_machine(MACHINES / f"{machine or head.machine}.toml"), named
    )


# -- facing to length ----------------------------------------------------------------------------


def test_the_length_is_counted_from_the_clean_face():
    """2.060 by name; after five it measures 2.0520: at the zero it was 2.0570, so that 0.0570 come
    off to 2.000, to 57 on the compound."""
    plan = planned(
        "face-length", **{"clean__size": inches("2.0520"), "clean__size__at": inches("0.005")}
    )
    assert magnitude(plan.full_depth, "inch") == Decimal("0.057")
    assert plan.step("finishing-1-set").target == inches("0.057")


def test_the_last_cut_comes_from_the_measurement():
    """2.0070 with the compound at 55: seven to go, to 62."""
    plan = planned("face-length", **{"size__1": inches("2.0070"), "size__1__at": inches("0.055")})
    assert plan.step("finishing-1-set").target == inches("0.062")
    assert plan.step("finishing-1-set").axis == "compound"


def test_hand_feed_across_counts_what_the_tool_moves():
    """0.200 a turn on a dial that counts the diameter moves the tool 0.100: at 240 rpm and 0.004
    a turn of the spindle 0.96 in/min, 6.25 s."""
    pace = planned("face-length").result("feed").value
    assert round(Decimal(pace.magnitude), 2) == Decimal("6.25")


def test_too_short_is_said_and_a_coarse_dial_refused():
    plan = planned("face-length", **{"size__1": inches("1.9900"), "size__1__at": inches("0.07")})
    assert "Too short" in plan.step("too-far").say[0]
    with pytest.raises(ImpossibleInput, match="use the compound"):
        planned("face-length", ('by = "compound"', 'by = "carriage"'))


# -- parting off ---------------------------------------------------------------------------------


def test_along_by_the_length_and_the_blade():
    """12 mm and 0.4 for facing, and the blade of 3.1 as measured: 15.5. In: (40 - 20) / 2 = 10
    on a dial that counts the tool, and 0.25 into the bore, that may be smaller than its name: set
    to 10.26; half the speed of turning and less."""
    plan = planned("part-ring", **{"blade__width": mm("3.1")})
    assert plan.step("along").target == mm("15.5")
    assert plan.step("part-cut").feed_target == mm("10.26")
    turning = Decimal(plan.result("speed").terms[2].value.magnitude)
    # 80 ft/min is 24.384 m/min: a third of 1000 x 24.384 / (pi x 40) = 64.7 rpm
    assert round(turning, 1) == Decimal("64.7")


def test_in_on_a_diameter_dial_is_the_whole_difference():
    plan = planned("part-ring", machine="rill-lathe")
    deep = magnitude(plan.step("part-cut").feed_target, "mm")
    assert abs(deep - Decimal("20.5")) < Decimal("0.03")


def test_a_blade_out_too_far_is_cautioned():
    plan = planned("part-ring", ('reach = "13 mm"', 'reach = "20 mm"'))
    assert "too far" in plan.step("check-blade").say[0]
    assert plan.step("check-blade").figure.value == mm(14)  # 10 to cut, and a tenth of 40


# -- knurling ------------------------------------------------------------------------------------


def test_a_blank_that_the_teeth_divide():
    """96 diametral pitch near 0.680: 0.680 x 96 = 65.28, so 65 teeth, 65 / 96 = 0.6771."""
    figure = planned("knurl-knob").result("diameter for the knurl")
    assert round(magnitude(figure.value, "inch"), 4) == Decimal("0.6771")
    diamond = planned(
        "knurl-knob",
        ('pattern = "straight"\ndiametral_pitch = 96', 'pattern = "diamond"\npitch = "1 mm"'),
    ).result("diameter for the knurl")
    # round the work 1 mm / cos 30 = 1.1547 mm; 17.272 mm x pi / 1.1547 = 46.99: 47 teeth, 17.275
    assert abs(magnitude(diamond.value, "mm") - Decimal("17.275")) < Decimal("0.001")


def test_two_tracks_take_a_tooth_off():
    plan = planned("knurl-knob", **{"track__1": "no"})
    figure = plan.step("smaller-1").figure
    assert round(magnitude(figure.value, "inch"), 4) == Decimal("0.6667")  # 64 / 96
    off = {term.name: term.value for term in figure.terms}["off, on the dial"]
    assert round(magnitude(off, "inch"), 4) == Decimal("0.0104")
    assert plan.index("track-2") > plan.index("smaller-1")


# -- all of them ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "old", "new", "field"),
    [
        ("face-length", 'stock_length = "2.060 in"', 'stock_length = "2 in"', "stock_length"),
        ("face-length", 'bore = "5/8 in"', 'bore = "2 in"', "bore"),
        ("face-length", 'how = "three-jaw"', 'how = "three-jaw"\ntailstock = true', "tailstock"),
        ("part-ring", 'bore = "20 mm"', 'bore = "40 mm"', "bore"),
        ("part-ring", 'reach = "13 mm"', 'reach = "8 mm"', "reach"),
        ("part-ring", 'how = "three-jaw"', 'how = "between centres"', "how"),
        ("part-ring", 'stick_out = "25 mm"', 'stick_out = "12 mm"', "stick_out"),
        ("knurl-knob", 'stock = "3/4 in"', 'stock = "5/8 in"', "stock"),
        ("knurl-knob", "diametral_pitch = 96", "", "pitch"),
        ("knurl-knob", 'diameter = "0.680 in"', 'diameter = "0.010 in"', "diameter"),
    ],
)
def test_a_wrong_job_file_names_the_key(name, old, new, field):
    text = read_file(JOBS / f"{name}.toml")
    assert old in text
    with pytest.raises(BadFile) as caught:
        read_job(text.replace(old, new, 1), "a.toml")
    assert field in str(caught.value)


@pytest.mark.parametrize("name", ["face-length", "part-ring", "knurl-knob"])
def test_walked_from_start_to_end(name):
    job = Job(name)
    for _ in range(150):
        if job.state.finished:
            break
        job.say(expected_words(job.state))
    assert job.state.finished
