"""A dovetail over pins: by trigonometry in floats (the formula from memory of Machinery's
Handbook); handling is common practice, no source."""

from __future__ import annotations

import math
from decimal import Decimal

import pytest

from assistant.errors import BadFile, ImpossibleInput
from assistant.jobs.planning import read_job
from assistant.jobs.steps import Cut, Touch
from assistant.units import inches, magnitude
from tests.factories import Job
from tests.jobs.walking import changed, plan_of, value, walk_to_end

COT = 1 / math.tan(math.radians(60))
REACH = 0.250 * (1 + 1 / math.tan(math.radians(30)))


def test_female_worked_by_hand():
    """1.500 wide and 0.375 deep at 60 degrees: narrow 1.5 - 0.75 cot 60 = 1.0670, so each side
    goes 0.375 cot 60 = 0.2165 beyond the straight wall. Between 1/4 pins 1.5 - 0.6830 = 0.8170."""
    plan = plan_of("dovetail-inch")
    assert float(value(plan, "narrow end")) == pytest.approx(1.5 - 0.75 * COT, abs=1e-6)
    assert float(value(plan, "each side")) == pytest.approx(0.375 * COT, abs=1e-6)
    size = plan.result("between the pins")
    middle = float(magnitude((size.low + size.high) / 2, "inch"))
    assert middle == pytest.approx(1.5 - REACH, abs=1e-6)


def test_male_worked_by_hand():
    text = changed("dovetail-inch", ('kind = "female"', 'kind = "male"'))
    size = plan_of("dovetail-inch", text).result("over the pins")
    middle = float(magnitude((size.low + size.high) / 2, "inch"))
    assert middle == pytest.approx(1.5 - 0.75 * COT + REACH, abs=1e-6)


@pytest.mark.parametrize(
    ("kind", "ways", "tables"),
    [
        # in a slot the cutter goes out into the walls; round a tongue it goes in
        ("female", [-1, 1], ["left", "right"]),
        ("male", [1, -1], ["right", "left"]),
    ],
)
def test_each_side_is_touched_its_own_way_and_milled_conventionally(kind, ways, tables):
    plan = plan_of("dovetail-inch", changed("dovetail-inch", ('"female"', f'"{kind}"')))
    touches = [s for s in plan.steps if isinstance(s, Touch) and s.axis == "saddle"]
    assert [step.toward for step in touches] == ways
    cuts = [s for s in plan.steps if isinstance(s, Cut)]
    said = list(
        dict.fromkeys(step.say[0].removeprefix("Spindle on. ").split(":")[0] for step in cuts)
    )
    assert said == [f"Table {way}" for way in tables]


@pytest.mark.parametrize("kind", ["female", "male"])
def test_off_the_end_before_a_side_is_set(kind):
    """It was touched beside the wall: set there, the cutter would go into it sideways. The table
    goes to the end where the cut begins, against the way in which it then feeds."""
    plan = plan_of("dovetail-inch", changed("dovetail-inch", ('"female"', f'"{kind}"')))
    ids = [step.id for step in plan.steps]
    for side in ("first", "second"):
        at = ids.index(f"{side}-table-out")
        assert ids[at - 1] == f"touch-{side}"
        assert ids[at + 1] == f"{side}-roughing-1-set"
        out, cut = plan.step(f"{side}-table-out").say[0], plan.step(f"{side}-roughing-1-cut").say[0]
        assert ("table left" in out) == ("Table right" in cut)


def test_the_second_side_comes_from_the_pins():
    """Two thou less between the pins than foreseen: two thou further."""
    usual = plan_of("dovetail-inch").step("second-finishing-1-set").target
    foreseen = Decimal("0.8070")  # 0.8170 less the 0.010 that is left
    at = magnitude(usual, "inch") - Decimal("0.010")
    told = {"second_size_1": inches(foreseen - Decimal("0.002")), "second_size_1_at": inches(at)}
    further = plan_of("dovetail-inch", **told).step("second-finishing-1-set").target
    gone = magnitude(further - usual, "inch")
    assert abs(gone - Decimal("0.002")) <= Decimal("0.001")


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('pin = "0.250 in"', 'pin = "1 in"', "pin"),
        ('depth = "0.375 in"', 'depth = "1.4 in"', "depth"),
        ('width = "7/16 in"', 'width = "1/4 in"', "cutter.width"),
        ('diameter = "3/4 in"', 'diameter = "1-1/4 in"', "cutter.diameter"),
    ],
)
def test_a_wrong_job_file_names_file_key_and_value(old, new, field):
    with pytest.raises(BadFile) as caught:
        read_job(changed("dovetail-inch", (old, new)), "a.toml")
    assert field in str(caught.value)


def test_a_slot_that_is_too_wide_already_is_refused():
    with pytest.raises(ImpossibleInput, match="straight"):
        plan_of("dovetail-inch", straight_width=inches("1.510"))


def test_walked_from_start_to_end():
    walk_to_end(Job("dovetail-inch"))


def test_its_own_question():
    assert Job("dovetail-inch").say("what over the pins").startswith("Between the pins, eight")
