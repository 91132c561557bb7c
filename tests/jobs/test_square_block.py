"""Squaring a block: the order of faces is common practice, no source; sizes by hand."""

from __future__ import annotations

import pytest

from assistant.errors import BadFile
from assistant.jobs.planning import plan_for, read_job
from assistant.units import inches
from tests.factories import Job
from tests.jobs.walking import changed, machine_of, plan_of, text_of, walk_to_end


def test_each_face_is_squared_from_those_before_it():
    plan = plan_of("square-block-inch")
    holds = {step.id: " ".join(step.say) for step in plan.steps if step.id.endswith("-hold")}
    assert list(holds) == [f"face-{n}-hold" for n in range(1, 7)]
    assert "Face one to the fixed jaw" in holds["face-2-hold"]
    assert "round bar" in holds["face-2-hold"]
    assert "face two down" in holds["face-3-hold"]
    assert "No bar now" in holds["face-4-hold"]
    ids = [step.id for step in plan.steps]
    assert ids.index("face-2-square") < ids.index("face-3-hold")
    sized = [step.id for step in plan.steps if "measure-face" in step.id and "size-1" in step.id]
    assert sized == ["measure-face-3-size-1", "measure-face-4-size-1", "measure-face-6-size-1"]


def test_a_size_is_measured_before_it_stands_up_in_the_vice():
    """Held on its edge between the jaws, the width can't be got at."""
    ids = [step.id for step in plan_of("square-block-inch").steps]
    for size, face in (("width", 3), ("thickness", 4), ("length", 6)):
        assert ids.index(f"measure-stock-{size}") == ids.index(f"face-{face}-hold") - 1


def test_a_face_is_milled_to_size_from_what_it_measures():
    """1.612 wide now, 1.500 wanted: 0.112 deep; at 0.102 it measures 1.513, not 1.510: three
    more than the 0.010 that was left."""
    plan = plan_of("square-block-inch", stock_width=inches("1.612"))
    assert plan.step("face-3-finishing-1-set").target == inches("0.112")
    told = {
        "stock.width": inches("1.612"), "face-3.size.1": inches("1.513"),
        "face-3.size.1.at": inches("0.102"),
    }  # fmt: skip
    name = "square-block-inch"
    plan = plan_for(text_of(name), f"{name}.toml", machine_of(name), told)
    assert plan.step("face-3-finishing-1-set").target == inches("0.115")


def test_it_is_skimmed_till_it_is_clean():
    job = Job("square-block-inch")
    job.to_step("face-1-clean-1")
    said = job.say("no")
    assert job.state.step_id == "face-1-skim-2-set"
    assert "Knee up fifteen" in said
    assert job.say("which face").startswith("Face 1 of six")


def test_what_every_skim_took_is_foreseen_on_the_other_side():
    """Five skims of 0.015 off 1.625 leave 1.550: told so, it was taken for a slip of the tongue,
    since one skim was foreseen."""
    job = Job("square-block-inch")
    job.to_step("face-2-clean-1")
    for number in range(1, 5):
        job.say("no")
        job.to_step(f"face-2-clean-{number + 1}")
    job.to_step("measure-stock-width")
    assert job.glance.number == "1.550"
    job.say("measured 1.549 in")
    assert job.state.facts["stock.width"] == inches("1.549")


def test_a_hollow_face_is_skimmed_though_little_is_left():
    """0.025 over the size: after a second skim, and a third, it is measured, not foreseen."""
    little = changed("square-block-inch", ('width = "1.625 in"', 'width = "1.525 in"'))
    told = {"face_2_clean_1": "no", "face_2_clean_2": "no"}
    named = {name.replace("face_2", "face-2").replace("_", "."): no for name, no in told.items()}
    plan = plan_for(little, "little.toml", machine_of("square-block-inch"), named)
    assert plan.step("face-2-skim-3-set")
    assert plan.step("measure-stock-width")


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('width = "1.625 in"', 'width = "1.505 in"', "stock.width"),
        ('diameter = "2 in"', 'diameter = "1 in"', "cutter.diameter"),
        ('kind = "face mill"', 'kind = "slitting saw"', "kind"),
    ],
)
def test_a_wrong_job_file_names_file_key_and_value(old, new, field):
    with pytest.raises(BadFile) as caught:
        read_job(changed("square-block-inch", (old, new)), "a.toml")
    assert field in str(caught.value)


def test_walked_from_start_to_end():
    walk_to_end(Job("square-block-inch"))
