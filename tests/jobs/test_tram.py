"""Tramming: common practice, no source; the correction simulated on a head and a vice."""

from __future__ import annotations

from decimal import Decimal

import pytest

from assistant.errors import BadFile, ImpossibleInput
from assistant.jobs.planning import plan_for, read_job
from assistant.units import inches, magnitude, mm
from tests.factories import Job
from tests.jobs.walking import changed, machine_of, plan_of, text_of, walk_to_end


def test_half_of_it_on_a_head_and_all_of_it_on_a_vice():
    """The head turns about its middle: 0.004 between the ends, and 0.002 taken out at one end
    takes as much out at the other. The vice turns about its snug bolt, at the other end."""
    head = plan_of("tram-head", x_1_left=inches("0"), x_1_right=inches("0.004"))
    figure = head.step("correct-x-1").figure
    assert (figure.value, figure.what) == (inches("0.002"), "down at the right")
    vice = plan_of("tram-vice", x_1_left=mm("0.02"), x_1_right=mm("0"))
    figure = vice.step("correct-x-1").figure
    assert (figure.value, figure.what) == (mm("0.02"), "up at the right")


def test_a_head_that_nods_is_corrected_in_front_and_learns_where_its_knuckle_is():
    """About a knuckle 8 behind the spindle the back end, 5 behind it, rises as the front comes
    down: told to go down there, the head went from bad to worse. 0.004 high in front, over 10: at
    the front 13 from the knuckle, 0.002 turns it by 0.002 / 13, which over 10 is 0.0015. Left are
    0.0025 for 0.002 moved: to take them out, 0.0025 x 0.002 / 0.0015 = 0.0033."""
    told = {
        "x_1": "even", "y_1_left": inches("0.004"), "y_1_right": inches("0"),
        "y_2_left": inches("0.0025"), "y_2_right": inches("0"),
    }  # fmt: skip
    plan = plan_of("tram-head", **told)
    first, second = plan.step("correct-y-1").figure, plan.step("correct-y-2").figure
    assert (first.value, first.what) == (inches("0.002"), "down in front")
    assert second.what == "down in front"
    assert round(magnitude(second.value, "inch"), 6) == Decimal("0.003333")


def test_it_is_swept_again_till_it_is_good():
    plan = plan_of(
        "tram-head", x_1_left=inches("0"), x_1_right=inches("0.004"),
        x_2_left=inches("0.001"), x_2_right=inches("0.0013"),
    )  # fmt: skip
    ids = [step.id for step in plan.steps]
    assert "sweep-x-2" in ids
    assert "correct-x-2" not in ids
    # 0.0003 over 10 is 0.00036 over 12
    assert magnitude(plan.result("out over a foot").value, "inch") == Decimal("0.00036")


def test_told_in_the_words_of_the_shop():
    job = Job("tram-head")
    job.to_step("sweep-x-1")
    assert "And the reading at the right?" in job.say("left is zero")
    said = job.say("right is four thou")
    assert "Bring the reading down at the right, two." in said
    job.say("i'm set")
    assert job.state.step_id == "sweep-x-2"
    job.say("it's even")
    assert job.state.step_id == "sweep-y-1"


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('what = "head"', 'what = "table"', "what"),
        ('limit = "0.0005 in"', 'limit = "2 in"', "limit"),
        ('sweep = "10 in"', 'sweep = "0 in"', "sweep"),
    ],
)
def test_a_wrong_job_file_names_file_key_and_value(old, new, field):
    with pytest.raises(BadFile) as caught:
        read_job(changed("tram-head", (old, new)), "a.toml")
    assert field in str(caught.value)


def test_a_horizontal_mill_has_no_head_to_tram():
    with pytest.raises(ImpossibleInput, match="vertical"):
        plan_for(text_of("tram-head"), "a.toml", machine_of("keyseat-inch"), {})


@pytest.mark.parametrize("name", ["tram-head", "tram-vice"])
def test_walked_from_start_to_end(name):
    walk_to_end(Job(name))
