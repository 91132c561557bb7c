"""A keyway by push broach, against ASME B17.1 and DIN 6885-1 by hand."""

from __future__ import annotations

from decimal import Decimal

import pytest

from assistant.errors import BadFile, ImpossibleInput
from assistant.jobs.operations.broach.passes import SIZE
from assistant.jobs.plan import Plan
from assistant.jobs.planning import plan_for, read_job
from assistant.jobs.steps import Cut, Measure
from assistant.machine import load_machine, parse_machine
from assistant.session.belief import Doubt, DoubtKind
from assistant.session.contradiction import Contradiction
from assistant.units import Quantity, inches, magnitude, mm, quantity
from tests.factories import Job, expected_words
from tests.jobs.walking import MACHINES, changed, plan_of, text_of, value, walk_to_end

NEAR = Decimal("0.00001")


def test_inch_demo_worked_by_hand():
    """A 1-1/4 in bore takes a 1/4 square key (ASME B17.1: over 7/8 to and including 1-1/4).

    Chordal height (1.25 - sqrt(1.25^2 - 0.25^2)) / 2 = 0.012628.
    T = D - Y + H/2 + 0.005 = 1.25 - 0.012628 + 0.125 + 0.005 = 1.367372, plus 0.010, minus
    nothing (ASME B17.1, Machinery's Handbook, 31st ed., p. 2552). The cut is 0.117372 deep: at
    0.050 a pass three passes; two shims of (0.117372 - 0.050) / 2 = 0.033686.
    """
    plan = plan_of("broach-inch")
    size = plan.result("across the bore to the floor")
    assert magnitude(size.low, "inch") == pytest.approx(Decimal("1.367372"), abs=NEAR)
    assert size.high - size.low == inches("0.010")
    assert value(plan, "full depth") == pytest.approx(Decimal("0.117372"), abs=NEAR)
    assert value(plan, "shim") == pytest.approx(Decimal("0.033686"), abs=NEAR)
    cuts = [step for step in plan.steps if isinstance(step, Cut)]
    assert [cut.number for cut in cuts] == [1, 2, 3]
    assert cuts[-1].depth == plan.full_depth
    total = sum((cut.taken for cut in cuts), inches(0))
    assert magnitude(total - plan.full_depth, "inch") == pytest.approx(0, abs=1e-12)


def test_metric_demo_worked_by_hand():
    """A 25 mm bore takes an 8 x 7 key: t2 = 3.3 + 0.2 (DIN 6885-1), so 28.3 to 28.5 across."""
    size = plan_of("broach-metric").result("across the bore to the floor")
    assert (size.low, size.high) == (mm("28.3"), mm("28.5"))


def test_a_measured_bore_takes_the_place_of_the_nominal_one():
    """Two thou over: the floor goes two thou out, less a hair of the arc."""
    usual, large = plan_of("broach-inch"), plan_of("broach-inch", bore_diameter=inches("1.252"))
    moved = large.result("across the bore to the floor").low
    moved -= usual.result("across the bore to the floor").low
    assert Decimal("0.002") <= magnitude(moved, "inch") < Decimal("0.0021")


def test_what_is_short_is_added_to_the_stack():
    """1.360 across is 7 thou short of 1.367; with a third of 0.010, 0.0103 goes on the two."""
    plan = plan_of("broach-inch", size_1=inches("1.360"))
    more = plan.step("more-1-set").figure
    assert magnitude(more.value, "inch") == pytest.approx(
        2 * Decimal("0.033686") + Decimal("0.007") + Decimal("0.003333"), abs=Decimal("0.00001")
    )
    assert plan.step("measure-size-2")


def test_in_needs_no_more_and_too_deep_is_said():
    inside = plan_of("broach-inch", size_1=inches("1.370"))
    assert not any(step.id.startswith("more") for step in inside.steps)
    deep = plan_of("broach-inch", size_1=inches("1.379"))
    assert "Too deep" in deep.step("too-far").say[0]


def test_on_the_limit_as_it_is_said_nothing_more_is_cut():
    """1.367372 is said as 1.367: measured so it is in, as the verdict has it."""
    on_it = plan_of("broach-inch", size_1=inches("1.367"))
    assert not any(step.id.startswith("more") for step in on_it.steps)
    assert any(
        step.id == "more-1-set" for step in plan_of("broach-inch", size_1=inches("1.366")).steps
    )


def test_a_press_has_neither_dials_nor_speeds():
    machine = load_machine(MACHINES / "tiller-press.toml")
    assert (len(machine.axes), machine.speeds) == (0, ())
    assert not any(isinstance(s, Measure) and s.at_axis for s in plan_of("broach-inch").steps)
    with pytest.raises(BadFile, match="axes"):
        parse_machine('name = "a"\nkind = "lathe"\nunit = "inch"\nspeeds = [50]\n', "a.toml")


def test_a_mill_is_refused():
    machine = load_machine(MACHINES / "weir-vertical.toml")
    with pytest.raises(ImpossibleInput, match="press"):
        plan_for(text_of("broach-inch"), "a.toml", machine, {})


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('bore = "1-1/4 in"', 'bore = "0 in"', "bore"),
        ('length = "1-3/4 in"', 'length = "3 in"', "hub.length"),
        ('length = "1-3/4 in"', 'length = "1/2 in"', "hub.length"),
        ('width = "0.2505 in"', 'width = "3/8 in"', "broach.width"),
        ("[key] ", '[key]\nwidth = "1/4 in" #', "height"),
        ("[key] ", '[key]\nwidth = "2 in"\nheight = "1/4 in" #', "width"),
        ('cut_per_pass = "0.050 in"', 'cut_per_pass = "0.001 in"', "cut a pass"),
    ],
)
def test_a_wrong_job_file_names_file_key_and_value(old, new, field):
    with pytest.raises(BadFile) as caught:
        read_job(changed("broach-inch", (old, new)), "a.toml")
    assert field in str(caught.value)


@pytest.mark.parametrize("name", ["broach-inch", "broach-metric"])
def test_walked_from_start_to_end(name):
    said = walk_to_end(Job(name))
    assert any("Hands off the broach" in text for text in said)


def test_its_own_questions():
    job = Job("broach-inch")
    assert job.say("how many passes") == "3 passes."
    assert job.say("how many shims") == "Each shim, thirty-three and seven tenths."
    job.to_step("pass-2-cut")
    # 0.0674 to go, and this pass takes half of it
    assert job.say("how much left") == "Thirty-four to full depth, after this cut."


def stack_of(plan: Plan, step_id: str) -> Decimal:
    figure = plan.step(step_id).figure
    assert figure is not None
    return magnitude(figure.value, plan.unit)


def test_a_size_told_half_way_is_gone_on_from():
    """After the first pass (0.050 deep, no shim) it measures 1.296: 0.046 deep, so that the stack
    lies 4 thou short of what it stands for. The second depth is 0.083686: 0.033686 + 0.004."""
    plan = plan_of("broach-inch", size_1=inches("1.296"), **told_after("size_1", 1))
    assert stack_of(plan, "pass-2-after-1-set") == pytest.approx(Decimal("0.037686"), abs=NEAR)
    assert stack_of(plan, "pass-3-after-1-set") == pytest.approx(Decimal("0.071372"), abs=NEAR)
    numbers = [step.number for step in plan.steps if isinstance(step, Cut)]
    assert numbers == [1, 2, 3]
    assert plan.step("measure-size-2")
    with_size = plan_of(
        "broach-inch", size_1=inches("1.296"), size_2=inches("1.370"), **told_after("size_1", 1)
    )
    assert with_size.steps[-1].id == "deburr"


def told_after(name: str, cuts: int) -> dict[str, Quantity]:
    return {f"{name}_cuts": quantity(cuts, "dimensionless")}


def at_the_second_pass() -> Job:
    job = Job("broach-inch")
    while job.state.step_id != "pass-2-cut":
        job.say(expected_words(job.state))
    return job


def test_a_pass_taken_back_is_measured_and_gone_on_from():
    job = at_the_second_pass()
    job.say("that's through")
    assert "the word, not the metal" in job.say("scratch that")
    assert job.state.doubts[0] == Doubt(DoubtKind.METAL, "", SIZE)
    said = job.say("measured 1.331")
    assert job.state.step_id in ("pass-2-cut", "pass-3-after-1-set"), said
    while not job.state.finished:
        job.say(expected_words(job.state))


def test_what_is_in_already_is_not_pushed_again():
    """Two words taken back, and the size is one that the next pass would have made."""
    job = at_the_second_pass()
    job.say("that's through")
    job.say("i'm set")
    job.say("scratch that")
    job.say("scratch that")
    job.say("measured 1.3724")
    assert job.state.question is not None
    said = job.say("yes")
    assert "That's in." in said
    assert job.state.step_id == "deburr"


def test_a_size_from_before_the_last_push_is_asked_about():
    """After the second pass it was 1.333686 across."""
    job = at_the_second_pass()
    while job.state.step_id != "measure-size-1":
        job.say(expected_words(job.state))
    job.say("measured 1.334")
    assert job.state.question is not None
    assert job.state.question.text == Contradiction.BEFORE


def test_what_stands_pushed_already_is_counted():
    """1.300 across is 0.050 deep: as after the first pass."""
    job = Job("broach-inch")
    while job.state.step_id != "pass-1-set":
        job.say(expected_words(job.state))
    job.say("already cut to 1.3")
    assert job.state.step_id == "pass-1-after-1-set"
    assert stack_of(job.state.plan, job.state.step_id) == pytest.approx(
        Decimal("0.033686"), abs=NEAR
    )


def test_a_new_broach_is_set_before_it_is_pushed_also_after_a_power_cut():
    job = at_the_second_pass()
    asked = "New broach: measure its width first. The shims as before. Then say I'm set."
    assert job.say("new cutter") == asked
    assert asked in job.resume()
    assert job.say("i'm set").startswith("Press it through")
