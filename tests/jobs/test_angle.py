"""Setting to an angle: sine and tangent by Python's own, handling common practice, no source."""

from __future__ import annotations

import math

import pytest

from assistant.errors import BadFile, ImpossibleInput
from assistant.jobs.planning import plan_for, read_job
from assistant.units import inches, magnitude
from tests.factories import Job
from tests.jobs.walking import changed, machine_of, plan_of, text_of, value, walk_to_end


def test_sine_bar_and_rise_by_hand():
    """5 in x sin 12.5 = 1.0822; 3 in x tan 15 = 0.8038."""
    stack = float(value(plan_of("angle-sine-bar"), "stack"))
    assert stack == pytest.approx(5 * math.sin(math.radians(12.5)), abs=1e-7)
    rise = float(value(plan_of("angle-head"), "rise over the run"))
    assert rise == pytest.approx(3 * math.tan(math.radians(15)), abs=1e-7)


def test_it_is_tapped_till_the_rise_is_right():
    plan = plan_of("angle-head", rise_1=inches("0.8080"))
    note = plan.step("tap-1")
    assert "flatter" in note.say[0]
    assert float(magnitude(note.figure.value, "inch")) == pytest.approx(0.8080 - 0.8038, abs=1e-4)
    flat = plan_of("angle-head", rise_1=inches("0.8000"), rise_2=inches("0.8040"))
    assert "steeper" in flat.step("tap-1").say[0]
    assert not any(step.id == "tap-2" for step in flat.steps)


def test_the_run_is_upright_where_the_rise_is_a_tangent():
    """A quill run out 3 along its own line at 15 degrees shifts 3 sin 15 = 0.7765, not 0.8038: set
    by that, the head would stand at 15.5. The knee goes upright."""
    said = " ".join(plan_of("angle-head").step("measure-rise-1").say)
    assert "Knee moved by the run" in said
    assert "uill" not in said


def test_a_head_that_was_tilted_is_to_be_trammed():
    assert any("Tram it" in text for text in plan_of("angle-head").step("set").say)


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ("degrees = 12.5", "degrees = 60", "degrees"),
        ("degrees = 12.5", "degrees = 0", "degrees"),
        ('bar = "5 in"', "", "bar"),
        ('limit = "0.0005 in"', 'limit = "1 in"', "limit"),
        ('method = "sine bar"', 'method = "by eye"', "method"),
    ],
)
def test_a_wrong_job_file_names_file_key_and_value(old, new, field):
    with pytest.raises(BadFile) as caught:
        read_job(changed("angle-sine-bar", (old, new)), "a.toml")
    assert field in str(caught.value)


def test_a_horizontal_mill_has_no_head_to_tilt():
    with pytest.raises(ImpossibleInput, match="vertical"):
        plan_for(text_of("angle-head"), "a.toml", machine_of("keyseat-inch"), {})


@pytest.mark.parametrize("name", ["angle-sine-bar", "angle-head"])
def test_walked_from_start_to_end(name):
    walk_to_end(Job(name))


def test_its_own_question():
    said = Job("angle-sine-bar").say("what's the stack")
    assert said == "Stack, one inch eighty-two thou and two tenths."
