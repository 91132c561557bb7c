"""The Woodruff keyseat, against ASME B17.2 and ISO 3912 by hand."""

from __future__ import annotations

from decimal import Decimal

import pytest

from assistant.errors import BadFile, ImpossibleInput
from assistant.jobs.planning import plan_for, read_job
from assistant.jobs.steps import Cut, Measure, Move
from assistant.machine import parse_machine
from assistant.textfile import read_file
from assistant.units import inches, magnitude, mm
from tests.factories import Job
from tests.jobs.walking import MACHINES, changed, plan_of, sheet, text_of, value, walk_to_end

NEAR = Decimal("0.00005")


def test_inch_demo_worked_by_hand():
    """Key 607 is 3/16 wide and 7/8 in diameter; height 0.375 to 0.370 (ASME B17.2, as in
    Shigley's Mechanical Engineering Design, Table 7-7).

    At the side B = 0.370 - 0.1875 / 2 = 0.27625 (table: 0.2763), plus 0.005, minus nothing.
    Chordal height of 0.1875 on 0.875: (0.875 - sqrt(0.875^2 - 0.1875^2)) / 2 = 0.01016.
    From the top 0.28641; aimed 2 thou inside: 0.28841.
    Over the key 0.875 - 0.28641 + 0.375 = 0.96359, less 0.005 at least.
    Side to centre 0.4375 + 0.09375 + 0.003 = 0.53425; end to seat 1.250 + 0.4375 + 0.003.
    """
    plan = plan_of("woodruff-inch")
    assert value(plan, "depth at the side") == Decimal("0.27625")
    assert value(plan, "chordal height") == pytest.approx(Decimal("0.01016"), abs=NEAR)
    assert value(plan, "full depth") == pytest.approx(Decimal("0.28841"), abs=NEAR)
    over = plan.result("over the key")
    assert magnitude(over.high, "inch") == pytest.approx(Decimal("0.96359"), abs=NEAR)
    assert over.high - over.low == inches("0.005")
    assert value(plan, "side to centre") == Decimal("0.53425")
    move = sheet("woodruff-inch")["to-seat"].move
    # 1.6905 on 0.200 a turn
    assert (move.turns, move.part, move.direction) == (8, Decimal("0.0905"), "right")


def test_metric_demo_worked_by_hand():
    """ISO 3912 key 5 x 6.5 x 16: t1 = 4.5 + 0.2 from the crown; the key stands 6.5 - 4.5 = 2.0
    above the shaft, at least 1.8. On the vertical mill the knee finds the centre: 10 + 2.5 +
    0.08 paper = 12.58, and the saddle carries the shaft out, into the cutter in front of it."""
    plan = plan_of("woodruff-metric")
    size = plan.result("the key above the shaft")
    assert (size.low, size.high) == (mm("1.8"), mm("2.0"))
    assert value(plan, "side to centre", "mm") == Decimal("12.58")
    steps = sheet("woodruff-metric")
    assert steps["to-centre"].move.direction == "up"
    assert steps["finishing-1-cut"].move.direction == "out"


def test_it_is_plunged_and_the_table_is_never_fed():
    """Common practice, no source: a Woodruff seat takes the cutter's own shape."""
    plan = plan_of("woodruff-inch")
    cuts = [step for step in plan.steps if isinstance(step, Cut)]
    assert cuts
    assert all(cut.feed_axis == "knee" for cut in cuts)
    assert all(cut.feed_target is not None for cut in cuts)


def test_the_knee_is_backed_off_counted_before_it_is_measured():
    plan = plan_of("woodruff-inch")
    ids = [step.id for step in plan.steps]
    clear = plan.step("roughing-2-clear")
    cut = plan.step("roughing-2-cut")
    assert isinstance(clear, Move)
    assert isinstance(cut, Cut)
    turns = magnitude(cut.feed_target - clear.target, "inch") / Decimal("0.100")
    assert turns == int(turns)
    # room for the key on top of the seat
    assert turns * Decimal("0.1") >= Decimal("0.2914") + Decimal("0.375") + Decimal("0.250")
    assert ids.index("roughing-2-clear") < ids.index("measure-size-1")


def test_what_is_left_comes_from_the_measurement_and_the_dial():
    """Pass 2 ended at 0.278; backed off ten turns the knee stands at -0.722. The key measures
    0.975: 0.012 over its aim of 0.96159 is 0.01341, so the dial goes to 0.278 + 0.0134."""
    plan = plan_of("woodruff-inch", size_1=inches("0.975"), size_1_at=inches("-0.722"))
    cut = plan.step("finishing-1-cut")
    assert cut.feed_target == inches("0.291")
    assert plan.step("finishing-1-clear").target == inches("-0.709")


def test_in_at_once_needs_no_finishing_cut():
    plan = plan_of("woodruff-inch", size_1=inches("0.9620"), size_1_at=inches("-0.722"))
    assert not any(step.id.startswith("finishing") for step in plan.steps)


def test_too_deep_says_what_it_means():
    plan = plan_of("woodruff-inch", size_1=inches("0.950"), size_1_at=inches("-0.722"))
    assert "sit low" in " ".join(plan.step("too-far").say)


def test_a_measured_key_changes_what_it_measures_and_not_the_depth():
    usual, low = plan_of("woodruff-inch"), plan_of("woodruff-inch", key_height=inches("0.371"))
    assert low.full_depth == usual.full_depth
    size = "over the key"
    assert usual.result(size).high - low.result(size).high == inches("0.004")


def test_off_centre_goes_back_by_half_the_difference():
    plan = plan_of("woodruff-inch", walls_left=inches("0.350"), walls_right=inches("0.340"))
    step = plan.step("correct-centre")
    assert step.target == inches("0.5395")  # 0.53425 + 0.005, on the half division
    assert step.optional


def test_a_shift_of_less_than_half_a_line_is_not_asked_for():
    """Two thou off the centre on a dial of five: it would be set to the line where it stands."""
    text = text_of("woodruff-inch")
    machine = read_file(MACHINES / "millrace-horizontal.toml")
    coarse = parse_machine(machine.replace('"0.001 in"', '"0.005 in"'), "b.toml")
    for off, asked in (("0.002", False), ("0.004", True)):
        walls = {"walls.left": inches("0.340") + inches(off) * 2, "walls.right": inches("0.340")}
        assert plan_for(text, "a.toml", coarse, walls).has("correct-centre") is asked, off


def test_the_key_that_suits_the_shaft_is_found():
    text = changed("woodruff-inch", ('number = "607"', ""), ("teeth = 8", ""))
    _, job = read_job(text.replace("7/8 in", "1 in"), "a.toml")
    assert job.key.name in ("606", "607", "608", "609", "807", "808", "809")


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('number = "607"', 'number = "6"', "number"),
        ('number = "607"', 'number = "699"', "number"),
        ('diameter = "7/8 in"', 'diameter = "3/16 in"', "key"),
        ('from_end = "1.250 in"', 'from_end = "1/4 in"', "from_end"),
        ("teeth = 8", 'teeth = 8\ndiameter = "3/4 in"', "diameter"),
        ("teeth = 8", 'teeth = 8\nwidth = "1/4 in"', "width"),
        ('stem = "1/4 in"', 'stem = "1 in"', "stem"),
        ('measure = "over the key"', 'measure = "by eye"', "measure"),
    ],
)
def test_a_wrong_job_file_names_file_key_and_value(old, new, field):
    with pytest.raises(BadFile) as caught:
        read_job(changed("woodruff-inch", (old, new)), "a.toml")
    assert "a.toml" in str(caught.value)
    assert field in str(caught.value)


def test_a_stem_that_would_rub_is_refused():
    text = changed("woodruff-inch", ('stem = "1/4 in"', 'stem = "3/8 in"'))
    with pytest.raises(ImpossibleInput, match="stem"):
        plan_of("woodruff-inch", text)


@pytest.mark.parametrize("name", ["woodruff-inch", "woodruff-metric"])
def test_walked_from_start_to_end(name):
    job = Job(name)
    said = walk_to_end(job)
    assert any("Never feed the table" in text for text in said)
    assert said[-1].startswith("Say same again")


def test_its_own_questions():
    job = Job("woodruff-inch")
    assert job.say("which cutter") == "Key 607: cutter 0.1875 by 0.875."
    # 0.375 - 0.28841 = 0.08659
    assert job.say("how high should the key stand") == "Key above the shaft, eighty-seven."
    job.to_step("measure-size-1")
    # about 0.974 now (0.96159 + 0.0120): two over that is twelve over the limit of 0.964
    assert "Nine seventy-four: " in job.say("measured nine seventy four")


def test_every_size_is_a_measure_with_limits():
    plan = plan_of("woodruff-inch")
    measures = [s for s in plan.steps if isinstance(s, Measure) and s.low is not None]
    assert len(measures) == 2


def test_what_is_said_to_be_on_the_limit_is_not_cut_again():
    """The limit is 0.96359 and is told as nine sixty-four: told so, it is in."""
    plan = plan_of("woodruff-inch", size_1=inches("0.964"), size_1_at=inches("-0.722"))
    assert not any(step.id.startswith("finishing") for step in plan.steps)
    over = plan_of("woodruff-inch", size_1=inches("0.965"), size_1_at=inches("-0.722"))
    assert over.step("finishing-1-cut")


def test_a_shank_cutter_is_asked_about_its_holder_and_not_about_an_arbor():
    """A cutter with a quarter inch stem has no arbor, whatever the machine: no overarm to support,
    no arbor nut. Common practice, no source."""
    ids = [s.id for s in plan_of("woodruff-inch").steps]
    assert "check-holder" in ids
    assert "check-arbor" not in ids
    assert "blocks" in " ".join(plan_of("woodruff-inch").step("touch-side").say)
