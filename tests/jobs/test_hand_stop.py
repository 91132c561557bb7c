"""No power feed or lead screw runs faster than a hand stops it, in any operation."""

from __future__ import annotations

from decimal import Decimal

from assistant.jobs.planning import plan_for
from assistant.jobs.steps import Check, Note
from assistant.machine import load_machine
from assistant.units import magnitude, quantity
from tests.factories import Job
from tests.jobs.walking import MACHINES, changed, plan_of

ALUMINIUM = (("3/4-10 UNC", "1/2-13 UNC"), ("mild steel", "aluminium"))
TO_METAL = ('end = "open"', 'end = "shoulder"')


def speed(plan) -> Decimal:
    return magnitude(plan.step("set-speed").figure.value, "rpm")


def test_half_inch_thirteen_in_aluminium_is_cut_slowly():
    """0.075 in a second to a shoulder is 58.5 turns a minute at 13 threads an inch; the machine
    has 45 below that. In the open twice as much, 117: it has 105."""
    plan = plan_of("thread-external", changed("thread-external", *ALUMINIUM, TO_METAL))
    assert speed(plan) == 45
    # 45 / 60 / 13
    assert plan.step("set-speed").after == ("The carriage runs 58 thou a second.",)
    assert not any(step.id == "check-carriage" for step in plan.steps)
    open_end = plan_of("thread-external", changed("thread-external", *ALUMINIUM))
    assert speed(open_end) == 105


def test_a_thread_whose_file_is_silent_ends_at_a_shoulder():
    silent = changed("thread-external", ('end = "open"', "#"))
    assert speed(plan_of("thread-external", silent)) == 45  # 0.075 x 60 x 10, the slowest


def test_a_half_nut_that_stays_closed_is_slower_still():
    """On a lead screw of 6 mm thirteen threads an inch repeat nowhere: the spindle has to stop.
    1 mm a second at 1.954 mm a turn are 30.7 turns a minute, and the slowest is 40: 1.3 mm."""
    text = changed(
        "thread-external", *ALUMINIUM, TO_METAL, ("rill-lathe", "brook-lathe"),
        ('unit = "inch"', 'unit = "mm"'),
    )  # fmt: skip
    plan = plan_for(text, "thread.toml", load_machine(MACHINES / "brook-lathe.toml"), {})
    assert speed(plan) == 40
    check = plan.step("check-carriage")
    assert isinstance(check, Check)
    assert check.say == (
        "The carriage runs 1.3 millimetres a second. That's faster than a hand stops.",
        "The last turns round by hand, spindle off. Clear?",
    )


def test_a_speed_of_ones_own_is_taken_and_asked_about():
    job = Job("thread-external")
    job.to_step("set-speed")
    assert "600 thou a second" in job.say("speed three sixty")  # 360 / 60 x 0.1 in
    assert job.state.step_id == "check-carriage"
    job.say("checked")


def test_a_speed_told_in_the_middle_of_a_thread_is_warned_of_at_the_next_cut():
    job = Job("thread-external")
    job.to_step("roughing-2-set")
    job.say("speed three sixty")
    said = job.say("i'm set")
    if job.state.step_id == "check-carriage":  # it is due as soon as there is a speed for it
        assert "600 thou a second" in said
        said = job.say("checked")
        said = job.say("i'm set") if job.state.step_id == "roughing-2-set" else said
    assert "600 thou a second: stop early" in said


def test_a_feed_to_a_shoulder_is_no_faster():
    """0.075 x 60 / 810 is 0.0056 a turn, and the machine has 0.005 below; at the 160 that are
    worked out 0.028, so that the job's own 0.010 is left alone."""
    text = changed("turn-shaft", ('feed = "0.005 in"', 'feed = "0.010 in"'))
    slow, fast = (
        plan_of("turn-shaft", text),
        plan_of("turn-shaft", text, speed=quantity(810, "rpm")),
    )
    assert speed(slow) == 160
    assert magnitude(slow.step("set-feed").figure.value, "inch/turn") == Decimal("0.010")
    assert magnitude(fast.step("set-feed").figure.value, "inch/turn") == Decimal("0.005")


def test_a_feed_of_a_mill_that_ends_in_the_shaft_is_no_faster():
    """4.5 inches a minute at most: with a coarser chip load 3.25 would be 6 and more."""
    plan = plan_of("keyseat-inch")
    told = plan_of("keyseat-inch", feed=quantity("6", "inch/minute"))
    assert magnitude(plan.step("set-feed").figure.value, "inch/minute") <= Decimal("4.5")
    assert any("faster than a hand" in text for text in told.step("set-speed").after)
    assert isinstance(told.step("set-feed"), Note)
    slow = plan_of("keyseat-inch", feed=quantity("4.5", "inch/minute"))
    assert not any("faster" in text for text in slow.step("set-speed").after)
