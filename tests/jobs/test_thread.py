"""Single-point threads, against numbers worked by hand and the calculation core."""

from __future__ import annotations

from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.app.paths import configs_folder
from assistant.calc.thread_wires import to_go
from assistant.errors import BadFile, ImpossibleInput
from assistant.jobs.plan import Plan
from assistant.jobs.planning import plan_for, read_job
from assistant.jobs.steps import Cut, Move, Touch
from assistant.machine import load_machine, parse_machine
from assistant.textfile import read_file
from assistant.units import inches, magnitude, mm, quantity
from tests.factories import Job, expected_words

JOBS = configs_folder() / "jobs"
MACHINES = configs_folder() / "machines"


def planned(name: str, *changes: tuple[str, str], machine: str = "", **facts) -> Plan:
    text = read_file(JOBS / f"{name}.toml")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    head, _ = read_job(text, f"{name}.toml")
    named = {fact.replace("__", "."): value for fact, value in facts.items()}
    return plan_for(
        text, f"{name}.toml", load_machine(MACHINES / f"{machine or head.machine}.toml"), named
    )


def value(plan: Plan, name: str, unit: str = "inch") -> Decimal:
    figure = plan.result(name)
    assert figure is not None
    return magnitude(figure.value, unit)


def close(one: Decimal, other: str, within: str = "0.00006") -> bool:
    return abs(one - Decimal(other)) <= Decimal(within)


def test_three_quarters_ten_worked_by_hand():
    """3/4-10 UNC-2A. ASME B1.1 (from memory): pitch diameter 0.6832 to 0.6773, basic 0.6850.
    Best wire 0.57735 x 0.1 = 0.0577. Over wires M = E + 3 W - 0.866025 P with W = 0.057735:
    0.6832 + 0.173205 - 0.0866025 = 0.7698; 0.6773 gives 0.7639. Depth to 17/24 H = 0.6134 x 0.1.
    """
    plan = planned("thread-external")
    over = plan.result("over the wires")
    assert close(magnitude(over.high, "inch"), "0.7698")
    assert close(magnitude(over.low, "inch"), "0.7639")
    assert close(value(plan, "wire"), "0.05774")
    assert close(value(plan, "thread depth"), "0.06134")
    assert "17/24 H" in plan.result("thread depth").what


def test_the_compound_goes_further_than_the_depth():
    """Depth to the middle of the class: 0.06134 + (0.6850 - 0.68025) / 2 = 0.0637; along a
    compound at 29-1/2 from square it is 0.0637 / cos 29.5 = 0.0637 / 0.8704 = 0.0732."""
    plan = planned("thread-external")
    assert close(magnitude(plan.full_depth, "inch"), "0.0732")


def test_the_angle_as_the_scale_reads_it():
    """29-1/2 from square; 60-1/2 on a scale that reads 0 along the axis."""
    figure = planned("thread-external").step("check-compound").figure
    assert figure.value == quantity(Decimal("29.5"), "degree")
    profile = read_file(MACHINES / "rill-lathe.toml")
    machine = parse_machine(
        profile.replace('compound_zero = "square"', 'compound_zero = "axis"'), "axis.toml"
    )
    text = read_file(JOBS / "thread-external.toml")
    other = plan_for(text, "axis", machine, {}).step("check-compound").figure
    assert other.value == quantity(Decimal("60.5"), "degree")


def test_cuts_shrink_and_add_up():
    """No cut is heavier than the one before it, as it falls on a dial of thousandths."""
    for name in ("thread-external", "thread-internal"):
        plan = planned(name)
        cuts = [s for s in plan.steps if isinstance(s, Cut) and s.kind != "spring"]
        total = sum((cut.taken for cut in cuts), cuts[0].taken * 0)
        # but for the last cut, which is set to the dial, half a division at the most
        assert abs(total - plan.full_depth) <= inches("0.0005")
        roughing = [cut.taken for cut in cuts if cut.kind == "roughing"]
        assert all(after <= before for before, after in pairwise(roughing))
        assert len(cuts) < 30


def test_on_the_dial_every_depth_can_be_set():
    plan = planned("thread-external")
    for step in plan.steps:
        if isinstance(step, Move) and step.axis == "compound":
            assert magnitude(step.target, "inch") % Decimal("0.0005") == 0


def test_what_is_left_comes_from_the_wires():
    """0.7752 over the wires with the compound at 70: to 0.76685, the middle, are 0.00835; square
    to the axis half of that, along the compound / cos 29.5: 0.0048, so to 75 on the dial."""
    plan = planned(
        "thread-external", **{"size__1": inches("0.7752"), "size__1__at": inches("0.070")}
    )
    step = plan.step("finishing-1-set")
    left = to_go(inches("0.7752"), inches("0.76685"), quantity(Decimal("29.5"), "degree")).compound
    assert abs(step.target - (inches("0.070") + left)) <= inches("0.0005")
    assert step.target == inches("0.075")


def test_a_smaller_blank_is_threaded_less_deep():
    """0.7400 instead of the basic 0.7500: the tool touches 5 nearer the axis."""
    whole = planned("thread-external", **{"blank__size": inches("0.7500")})
    small = planned("thread-external", **{"blank__size": inches("0.7400")})
    less = magnitude(whole.full_depth - small.full_depth, "inch")
    assert close(less, "0.005745")  # 0.005 / cos 29.5


def test_thread_dial_rule():
    """Lead screw of 8, dial of 32 teeth with 8 lines: half an inch between lines. Ten an inch:
    5 threads, any line. Thirteen: 6-1/2 threads, every second. Sixteen: a multiple, anywhere.
    A metric thread never: reverse. Common practice."""
    assert dict(planned("thread-external").answers)["which_line"] == "Close on any line."
    names = {"1/2-13 UNC": "second line", "3/4-16 UNF": "wherever it drops in"}
    for name, said in names.items():
        plan = planned("thread-external", ("3/4-10 UNC", name))
        assert said in str(dict(plan.answers)["which_line"])
    metric = planned("thread-external", ("3/4-10 UNC", "M20x2.5"), ('class = "2A"', 'class = "6g"'))
    words = " ".join(metric.step("check-half-nut").say)
    assert "stays closed" in words
    assert "transposing" in " ".join(metric.step("check-gears").after)
    assert any("Reverse the spindle" in " ".join(s.say) for s in metric.steps)


def test_the_scratch_pass_proves_the_pitch():
    ids = [step.id for step in planned("thread-external").steps]
    assert ids.index("witness-1-cut") < ids.index("prove-pitch") < ids.index("roughing-2-set")
    figure = planned("thread-external").step("prove-pitch").figure
    assert figure.value == inches(1)  # ten threads of ten to the inch
    half = planned("thread-external", ("3/4-10 UNC", "2-11-1/2 UNS")).step("prove-pitch").figure
    assert close(magnitude(half.value, "inch"), "2")  # 23 threads


def test_internal_goes_out_and_counts_the_turn_back():
    """M30x2-6H: 5/8 H = 0.5413 x 2 = 1.083; middle of the class 28.813 against basic 28.701:
    0.056 more, 1.139; the dial counts the tool, so it is that. Limits ISO 965-1, from memory."""
    plan = planned("thread-internal")
    assert close(magnitude(plan.full_depth, "mm"), "1.139", "0.0006")
    assert isinstance(plan.step("touch-work"), Touch)
    assert plan.step("touch-work").toward == -1
    back, cut = plan.step("roughing-2-back"), plan.step("roughing-2-set")
    assert back.target - cut.target == mm(4)
    assert (cut.approach, back.approach) == (-1, 1)


def test_small_cuts_until_the_gauge_goes():
    plan = planned("thread-internal", **{"go__1": "no", "go__2": "yes", "no__go": "yes"})
    ids = [step.id for step in plan.steps]
    assert "more-1-cut" in ids
    assert "more-2-cut" not in ids
    assert "too-far" not in ids
    far = planned("thread-internal", **{"go__1": "yes", "no__go": "no"})
    assert "The no-go goes" in far.step("too-far").say[0]


def test_picked_up_again_it_goes_on_from_the_wires():
    """Picked up in the groove, both dials at zero there, 0.7900 over the wires: 0.02315 to the
    middle, half of it square to the axis, / cos 29.5 = 0.0133 along the compound."""
    plan = planned(
        "thread-external", ('unit = "inch"', 'unit = "inch"\nstart = "pick up"'),
        **{"pickup__size": inches("0.7900"), "pickup__size__at": inches("0.000")},
    )  # fmt: skip
    assert close(magnitude(plan.full_depth, "inch"), "0.0133")
    ids = [step.id for step in plan.steps]
    assert "witness-1-cut" not in ids
    assert ids.index("touch-groove") < ids.index("measure-picked-up")


@pytest.mark.parametrize(
    ("name", "old", "new", "field"),
    [
        ("thread-external", '"3/4-10 UNC"', '"3/4 wide"', "name"),
        ("thread-external", 'class = "2A"', 'class = "2B"', "class"),
        ("thread-external", 'class = "2A"', 'class = "6g"', "class"),
        ("thread-external", 'basis = "17/24 H"', 'basis = "half"', "basis"),
        ("thread-external", "set_over = 29.5", "set_over = 60.5", "set_over"),
        ("thread-external", 'by = "wires"', 'by = "wires"\nwire = "0.2 in"', "wire"),
        ("thread-external", 'least_cut = "0.003 in"', 'least_cut = "0.03 in"', "least_cut"),
        ("thread-internal", 'by = "gauge"', 'by = "wires"', "by"),
        ("thread-internal", 'unit = "mm"', 'unit = "mm"\nstart = "pick up"', "start"),
    ],
)
def test_a_wrong_job_file_names_the_key(name, old, new, field):
    text = read_file(JOBS / f"{name}.toml")
    assert old in text
    with pytest.raises(BadFile) as caught:
        read_job(text.replace(old, new, 1), "a.toml")
    assert field in str(caught.value)


def test_a_lathe_without_lead_screw_is_refused():
    profile = read_file(MACHINES / "brook-lathe.toml").replace('lead_screw = "6 mm"\n', "")
    with pytest.raises(ImpossibleInput, match="lead_screw"):
        plan_for(read_file(JOBS / "thread-internal.toml"), "x", parse_machine(profile, "m"), {})


@settings(max_examples=40, deadline=None)
@given(
    over=st.decimals("0.7705", "0.80", places=4),
    at=st.decimals("0.02", "0.08", places=3),
)
def test_the_last_cut_lands_inside_the_class(over, at):
    """Wherever the dial stood and whatever was measured, the cut that is set ends inside 2A."""
    plan = planned("thread-external", **{"size__1": inches(over), "size__1__at": inches(at)})
    step = plan.step("finishing-1-set")
    left = to_go(inches(over), inches("0.7"), quantity(Decimal("29.5"), "degree"))
    per_compound = left.over / left.compound
    after = inches(over) - (step.target - inches(at)) * per_compound
    assert inches("0.7639") <= after <= inches("0.7699")


@pytest.mark.parametrize("name", ["thread-external", "thread-internal"])
def test_walked_from_start_to_end(name):
    job = Job(name)
    for _ in range(200):
        if job.state.finished:
            break
        job.say(expected_words(job.state))
    assert job.state.finished


def test_the_gauge_says_no_then_yes():
    job = Job("thread-internal")
    job.to_step("try-go-1")
    job.say("no")
    assert job.state.step_id == "more-1-set"
    job.to_step("try-go-2")
    job.say("yes")
    assert job.state.step_id == "try-no-go"
    job.say("yes")
    assert "break" in job.state.step_id


def test_own_questions():
    job = Job("thread-external")
    job.to_step("roughing-3-set")
    assert job.say("which line") == "Close on any line."
    assert "wire" in job.say("what wire").lower()
    assert "over the wires" in job.say("what over the wires").lower()
    assert "deep to" in job.say("how deep is the thread")
    assert "both dials" in job.say("how do I pick it up")


def test_the_cross_slide_goes_back_to_zero_before_every_cut():
    """Also where only the number is given, after a measurement."""
    job = Job("thread-external")
    job.to_step("measure-size-1")
    assert "Cross slide to its zero." in job.say("measured seven seventy-five")


def test_a_lost_count_is_measured_over_the_wires_or_touched_again():
    """A thread that is stopped by a gauge has no size to go by."""
    job = Job("thread-external")
    job.to_step("roughing-5-set")
    assert "Measure over the wires" in job.say("lost count")
    job = Job("thread-internal")
    job.to_step("roughing-5-set")
    assert "Back to the touch" in job.say("lost count")


def test_picked_up_and_walked_to_its_end(tmp_path):
    path = tmp_path / "again.toml"
    text = read_file(JOBS / "thread-external.toml")
    path.write_text(text.replace('unit = "inch"', 'unit = "inch"\nstart = "pick up"', 1))
    job = Job(path=path)
    job.to_step("measure-picked-up")
    said = job.say("measured seven ninety")
    assert "over the limit" in said
    for _ in range(100):
        if job.state.finished:
            break
        job.say(expected_words(job.state))
    assert job.state.finished
    straight = path.read_text().replace('method = "compound"', 'method = "straight"')
    with pytest.raises(BadFile, match="start"):
        read_job(straight.replace("set_over = 29.5", ""), "a.toml")


def test_fed_straight_in_it_is_taken_right_out_of_a_deep_thread():
    """Found by a thread cut in numbers: one turn out was always told. 4-1/2 threads an inch to
    17/24 H are 0.136 deep and more, 0.27 on a dial that counts the diameter; its turn is 0.200, so
    that one turn back left the tool in the thread on its way to the start. Two turns clear it."""
    straight = (('"compound"', '"straight"'), ("set_over = 29.5 ", "# "))
    coarse = planned("thread-external", ("3/4-10 UNC", "2-4.5 UNC"), *straight)
    assert _taken_out(coarse) == inches("0.400")
    assert _taken_out(planned("thread-external", *straight)) == inches("0.200")
    assert _taken_out(planned("thread-internal")) == mm("4")


def _taken_out(plan: Plan):
    back, deep = plan.step("witness-1-back"), plan.step("witness-1-set")
    assert isinstance(back, Move)
    assert isinstance(deep, Move)
    return abs(back.target - deep.target)


def test_a_dial_that_cannot_be_set_has_no_zero_to_go_back_to():
    """Said of a fixed dial, `to its zero` sends the slide to the figure 0, somewhere else."""
    text = read_file(JOBS / "thread-external.toml")
    profile = read_file(MACHINES / "rill-lathe.toml").replace('"settable"', '"fixed"')
    plan = plan_for(text, "thread-external.toml", parse_machine(profile, "fixed.toml"), {})
    spoken = " ".join(
        text
        for step in plan.steps
        for text in (*step.say, *(step.after if isinstance(step, Move) else ()))
    )
    assert "to its zero" not in spoken
    assert "dial to zero" not in spoken
    assert "Cross slide to its reading at the touch." in spoken
