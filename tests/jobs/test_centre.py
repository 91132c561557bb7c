"""Finding edges and centres: geometry, and the dials simulated with their lost motion."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.errors import BadFile, ImpossibleInput
from assistant.jobs.planning import plan_for, read_job
from assistant.units import inches, magnitude, mm
from tests.factories import Job
from tests.jobs.walking import changed, machine_of, plan_of, sheet, text_of, walk_to_end


def test_the_edge_is_half_the_tip_from_the_kick():
    """A 10 mm tip: 5 mm on, the way it was touched; 4 mm a turn is one turn and 1.00."""
    move = sheet("centre-corner")["edge-x"].move
    assert (move.turns, move.part, move.direction) == (1, Decimal(1), "left")
    assert move.back_off is None


def test_middle_of_a_plate_worked_by_hand():
    """3.000 across, 0.500 cutter, 0.002 feeler, 0.015 lost motion. The left side touched, the
    table goes on left till the right side has passed below the cutter, and comes back right to it:
    3.000 + 0.504 = 3.504 left of the first touch. Its dial has turned back through 0.015 then,
    and stands at -3.489. The middle is at -1.752, coming the way of the first touch; from -3.489
    that is to the right. It was told to the left, away from the plate."""
    plan = plan_of("centre-plate", second_x=inches("-3.489"))
    step = plan.step("middle-x")
    assert step.target == inches("-1.752")
    assert step.approach == -1
    assert plan.result("across x").value == inches("3.000")


def test_middle_of_a_bore_worked_by_hand():
    """1.500 bore, 0.200 tip: 1.300 between the walls, the table going left, and 0.008 of lost
    motion on its dial: -1.308. The middle is at -0.650."""
    plan = plan_of("centre-bore", second_x=inches("-1.308"))
    assert plan.step("middle-x").target == inches("-0.650")
    assert plan.step("middle-x").approach == 1


def test_a_size_that_is_not_the_drawings_is_said():
    """A whole turn miscounted, 0.200, would put the middle out by 0.100."""
    good = plan_of("centre-plate", second_x=inches("-3.491"))
    assert not any(step.id == "differs-x" for step in good.steps)
    bad = plan_of("centre-plate", second_x=inches("-3.689"))
    assert "Count the turns again" in bad.step("differs-x").say[0]


def test_a_turn_lost_on_the_chord_of_a_bore_is_said_too():
    """Of a bore of 1.500 the first direction meets a chord. Beside the middle by 0.15 it is
    2 sqrt(0.75^2 - 0.15^2) = 1.470: nothing to be said. A turn of 0.125 too many makes it 1.595,
    more than the bore; one too few 1.345, which is 0.33 beside the middle: nobody is so far off."""

    def said(across):
        plan = plan_of("centre-bore", second_x=inches("-1.308") + inches("1.500") - inches(across))
        return any(step.id == "differs-x" for step in plan.steps)

    assert not said("1.470")
    assert said("1.595")
    assert said("1.345")


@settings(max_examples=200, deadline=None)
@given(
    size=st.decimals(Decimal("0.800"), Decimal("4.000"), places=3),
    tip=st.decimals(Decimal("0.100"), Decimal("0.600"), places=3),
    slack=st.decimals(Decimal("0.000"), Decimal("0.040"), places=3),
    place=st.decimals(Decimal("-3.000"), Decimal("3.000"), places=3),
    side=st.sampled_from(["left", "right"]),
    inside=st.booleans(),
)
def test_the_spindle_ends_over_the_middle_with_any_lost_motion(
    size, tip, slack, place, side, inside
):
    """A table with lost motion, simulated: the dial leads the table by the slack after reversing.
    Whatever the size, the tip and the slack, what is told puts the spindle over the middle."""
    from dataclasses import replace
    from types import MappingProxyType

    machine = machine_of("centre-plate")
    axes = dict(machine.axes)
    axes["table"] = replace(axes["table"], backlash=inches(slack))
    machine = replace(machine, axes=MappingProxyType(axes))
    text = changed(
        "centre-plate",
        ('across_x = "3.000 in"', f'across_x = "{size} in"'),
        ('across_y = "2.000 in"', f'across_y = "{size} in"'),
        ('x_side = "left"', f'x_side = "{side}"'),
        ('kind = "cutter"', 'kind = "edge finder"'),
        ('diameter = "0.500 in"', f'diameter = "{tip} in"'),
        ('kind = "plate"', 'kind = "bore"' if inside else 'kind = "plate"'),
    )
    plan = plan_for(text, f"{size}{tip}.toml", machine, {})
    first, second, move = (plan.step(n) for n in ("touch-x-1", "touch-x-2", "middle-x"))
    # table position at which each touch happens, the middle of the work under the spindle at 0
    # inside, the table has gone beyond the middle to bring a wall to the tip; outside, it is short
    # of it by as much: the side of the work comes first
    reach = (size - tip) / 2 if inside else -(size + tip) / 2
    at_first, at_second = reach * first.toward, reach * second.toward
    # the work stands anywhere on the table; the dial is zeroed at the first touch
    zero = place + at_first
    table_travel = place + at_second - zero
    # moving back the other way, the dial first turns through the slack
    dial_second = table_travel + second.toward * slack
    assert magnitude(second.near, "inch") == dial_second
    told = plan_for(text, f"{size}{tip}.toml", machine, {"second.x": inches(dial_second)})
    move = told.step("middle-x")
    assert move.approach == first.toward
    # arriving the way of the first touch, dial and table agree again
    ends = zero + magnitude(move.target, "inch")
    assert abs(ends - place) <= Decimal("0.0005") / 2  # half of a half division


@pytest.mark.parametrize(
    ("name", "old", "new", "field"),
    [
        ("centre-bore", 'diameter = "0.200 in"', 'diameter = "2 in"', "diameter"),
        ("centre-bore", 'kind = "bore"', 'kind = "pit"', "kind"),
        ("centre-plate", 'across_y = "2.000 in"', "", "across_y"),
        ("centre-plate", 'x_side = "left"', 'x_side = "front"', "x_side"),
    ],
)
def test_a_wrong_job_file_names_file_key_and_value(name, old, new, field):
    with pytest.raises(BadFile) as caught:
        read_job(changed(name, (old, new)), "a.toml")
    assert field in str(caught.value)


def test_touches_closer_than_the_tip_are_refused():
    with pytest.raises(ImpossibleInput, match="closer together"):
        plan_of("centre-plate", second_x=inches("-0.100"))


def test_a_machine_without_these_dials_is_refused():
    with pytest.raises(ImpossibleInput):
        plan_for(text_of("centre-bore"), "a.toml", machine_of("broach-inch"), {})


def test_the_second_touch_is_read_with_its_turns():
    """On the plate: 3.489 to the left of zero is 17 turns of 0.200 and 0.089, and numbers that
    rise to the right then read 0.111. To the middle, 1.752 left of zero, it is 1.737 right: 8 turns
    and 0.137, the dial from 0.111 past zero to 0.048."""
    job = Job("centre-plate")
    job.to_step("touch-x-1")
    job.says("touched", "two thou")
    assert job.state.step_id == "touch-x-2"
    assert job.say("touched").startswith("Whole turns from zero")
    said = job.say("dial reads seventeen turns and one eleven")
    assert job.state.facts["second.x"] == inches("-3.489")
    assert job.glance.what == "table right"
    assert job.glance.dial.startswith("8 turns + 137, past zero, stop at 48")
    assert "table right, eight turns and on" in said
    assert job.state.axes["table"].came == 1
    # "Across x, three inches."
    assert "three" in job.say("how big is it").lower()
    assert job.say("i'm set").startswith("Spindle stopped. Tip beside it")
    assert job.state.axes["table"].position == inches(0)


def test_on_a_dial_that_cannot_be_zeroed_both_touches_are_read():
    """The first touch reads 0.040: two turns left and 0.040 - 0.058 further is -1.308 of travel
    on 0.125 a turn: 10 turns and 0.058, and numbers that rise to the left."""
    job = Job("centre-bore")
    job.to_step("touch-x-1")
    job.says("touched", "dial reads forty")
    assert job.state.step_id == "touch-x-2"
    job.say("touched")
    job.say("dial reads ten turns and ninety eight")
    assert job.state.facts["second.x"] == inches("-1.308")


@pytest.mark.parametrize("name", ["centre-bore", "centre-corner", "centre-plate"])
def test_walked_from_start_to_end(name):
    walk_to_end(Job(name))


def test_metric_corner():
    plan = plan_of("centre-corner")
    assert plan.step("edge-y").target == mm(5)
