"""Slitting and T-slots: numbers by hand; handling is common practice, no source."""

from __future__ import annotations

from decimal import Decimal

import pytest

from assistant.errors import BadFile, ImpossibleInput
from assistant.jobs.planning import plan_for, read_job
from assistant.jobs.steps import Cut, Move
from assistant.units import inches, magnitude, mm
from tests.factories import Job
from tests.jobs.walking import changed, machine_of, plan_of, text_of, value, walk_to_end


def test_slitting_worked_by_hand():
    """The middle of a 1/16 saw is 0.375 + 0.03125 from the side; from the touch 0.03125 + 0.003
    more: 0.4405. Collars of 1-3/4 on a 4 in saw: (4 - 1.75) / 2 = 1.125 deep at most. At 0.502
    deep the run in is sqrt(0.502 (4 - 0.502)) = 1.3251; twice that and 1.000 long."""
    plan = plan_of("slitting-inch")
    assert plan.step("to-first").target == inches("0.4405")
    assert value(plan, "reach") == Decimal("1.125")
    assert value(plan, "run") == pytest.approx(Decimal("3.6503"), abs=Decimal("0.0001"))


def test_the_piece_is_measured_at_the_mark_and_the_saddle_corrected():
    """0.371 measured, 0.375 wanted: four more, in."""
    plan = plan_of("slitting-inch", piece=inches("0.371"), piece_at=inches("0.4405"))
    move = plan.step("correct-piece")
    assert move.target == inches("0.4445")
    ids = [step.id for step in plan.steps]
    assert ids.index("witness-1-cut") < ids.index("correct-piece") < ids.index("roughing-2-set")


def test_right_through_goes_clear_of_the_far_side_and_measures_no_depth():
    text = changed(
        "slitting-inch",
        ('depth = "0.500 in"', 'through = true\nthickness = "0.250 in"'),
        ('depth_plus = "0.010 in"', ""),
        ('depth_minus = "0.000 in"', ""),
    )
    plan = plan_of("slitting-inch", text)
    assert magnitude(plan.full_depth, "inch") == Decimal("0.280")
    assert not any(step.id.startswith("measure-size") for step in plan.steps)


def test_tslot_worked_by_hand():
    """A 12 mm throat is 20 to 25 deep over all (ISO 299, from memory): 22.5, and the straight
    slot 0.25 short of that. The middle from the touch: 60 + 6 + 0.08 = 66.08."""
    plan = plan_of("tslot-metric")
    assert value(plan, "straight slot", "mm") == Decimal("22.25")
    assert abs(magnitude(plan.step("to-first").target, "mm")) == Decimal("66.08")
    cut = plan.step("tee-roughing-1-cut")
    assert isinstance(cut, Cut)
    assert cut.taken == mm("22.5")


def test_the_t_cutter_is_never_lowered_in_the_slot():
    plan = plan_of("tslot-metric")
    after = [step for step in plan.steps if step.id.startswith("tee-") and isinstance(step, Move)]
    said = " ".join(text for step in after for text in step.say)
    assert "Never knee down in the slot" in said
    assert "one turn" not in said
    ids = [step.id for step in plan.steps]
    # the top is touched again with the new cutter, and the saddle stays
    assert ids.index("change-cutter") < ids.index("tee-touch-knee") < ids.index("tee-table-out")
    assert not any(step.axis == "saddle" for step in after)


@pytest.mark.parametrize(
    ("name", "old", "new", "field"),
    [
        ("slitting-inch", 'depth = "0.500 in"', 'depth = "1.2 in"', "depth"),
        ("slitting-inch", 'body = "1-3/4 in"', "", "body"),
        ("slitting-inch", 'kind = "slitting saw"', 'kind = "end mill"', "kind"),
        ("tslot-metric", 'throat = "12 mm"', 'throat = "11 mm"', "throat"),
        ("tslot-metric", 'diameter = "12 mm"', 'diameter = "10 mm"', "cutter.diameter"),
        ("tslot-metric", 'diameter = "20 mm"', 'diameter = "25 mm"', "t_cutter.diameter"),
        ("tslot-metric", 'body = "10 mm"', 'body = "13 mm"', "t_cutter.body"),
    ],
)
def test_a_wrong_job_file_names_file_key_and_value(name, old, new, field):
    with pytest.raises(BadFile) as caught:
        read_job(changed(name, (old, new)), "a.toml")
    assert field in str(caught.value)


def test_what_cannot_reach_is_refused():
    text = changed("tslot-metric", ('reach = "32 mm"', 'reach = "20 mm"'))
    with pytest.raises(ImpossibleInput, match="deep"):
        plan_of("tslot-metric", text)
    with pytest.raises(ImpossibleInput, match="horizontal"):
        plan_for(text_of("slitting-inch"), "a.toml", machine_of("flats-square"), {})


@pytest.mark.parametrize("name", ["slitting-inch", "tslot-metric"])
def test_walked_from_start_to_end(name):
    walk_to_end(Job(name))
