"""A pattern whose holes go through several tools: the two orders, what is measured, what is left
out, and what trouble at one hole leaves of the others."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from assistant.drawing import Line
from assistant.errors import BadFile
from assistant.jobs.operations.holes.drawing import hole_map
from assistant.jobs.plan import Plan
from assistant.jobs.planning import read_job
from assistant.jobs.steps import Check, Cut, Measure, Move, Note, Touch
from assistant.units import inches, magnitude, mm
from tests.factories import Job
from tests.jobs.walking import changed, plan_of, text_of, value, walk_to_end

TAPPED, REAMED, BORED = "holes-tapped", "holes-reamed", "holes-counterbored"
GRID = "holes-grid"
DEMOS = (TAPPED, REAMED, BORED)
IMPOSSIBLE = [
    (BORED, 'through = "25 mm"', 'through = "8 mm"', "leaves nothing under the head"),
    (BORED, 'x = "110 mm"', 'x = "42 mm"', "runs into the hole"),
    (REAMED, 'by = "hole" ', 'by = "row" ', 'wanted "tool" or "hole"'),
    (REAMED, 'ream_plus = "0.0006 in"', 'ream_plus = "0"', "no size is cut exactly"),
    (TAPPED, 'measured = "first and last"', 'measured = "some"', '"first and last" or "first"'),
    (TAPPED, "[thread]", '[drill]\ndiameter = "9 mm"\nthrough = "9 mm"\n[thread]', "wanted one of"),
]
"""Demo, what stands there, what is put there, what is said."""


def cuts(plan: Plan) -> list[str]:
    return [step.id for step in plan.steps if isinstance(step, Cut)]


def touches(plan: Plan) -> list[str]:
    return [s.id for s in plan.steps if isinstance(s, Touch) and s.axis == "quill"]


def measured(plan: Plan) -> list[str]:
    return [s.id for s in plan.steps if isinstance(s, Measure) and s.id != "measure-between"]


def told(**facts: Any) -> dict[str, Any]:
    """`hole_3_bore_1` is told as `hole.3.bore.1`."""
    return {name.replace("_", "."): value for name, value in facts.items()}


# -- the two orders -------------------------------------------------------------------------------


def test_tool_by_tool_every_hole_has_one_tool_before_the_next():
    """Six holes: spotted, drilled in two pecks, sunk, tapped."""
    one_tool = [[f"hole-{n}-spot"] for n in range(1, 7)]
    one_tool += [[f"hole-{n}-drill-peck-1", f"hole-{n}-drill"] for n in range(1, 7)]
    one_tool += [[f"hole-{n}-sink"] for n in range(1, 7)]
    one_tool += [[f"hole-{n}-tap"] for n in range(1, 7)]
    plan = plan_of(TAPPED)
    assert cuts(plan) == [name for some in one_tool for name in some]
    assert touches(plan) == ["touch-drill", "touch-sink"]


def test_hole_by_hole_every_tool_is_in_before_the_table_moves_on():
    plan = plan_of(REAMED)
    assert cuts(plan) == [
        f"hole-{n}-{tool}" for n in range(1, 5) for tool in ("spot", "drill", "ream")
    ]
    assert touches(plan) == [
        f"hole-{n}-touch-{tool}" for n in range(1, 5) for tool in ("drill", "ream")
    ]
    moved = {s.id.split("-")[1] for s in plan.steps if isinstance(s, Move) and "hole-" in s.id}
    assert moved == {"1", "2", "3", "4"}
    assert sum(s.axis == "table" for s in plan.steps if isinstance(s, Move)) == 1 + 4


@pytest.mark.parametrize("job", DEMOS)
@pytest.mark.parametrize("by", ["tool", "hole"])
def test_every_arrival_is_from_the_same_side(job: str, by: str):
    text = text_of(job).replace('by = "tool"', f'by = "{by}"').replace(
        'by = "hole"', f'by = "{by}"')  # fmt: skip
    plan = plan_of(job, text)
    for axis in ("table", "saddle"):
        ways = {s.approach for s in plan.steps if isinstance(s, Move) and s.axis == axis}
        assert len(ways) == 1


def test_a_pattern_that_is_only_drilled_may_go_hole_by_hole_too():
    text = changed("holes-circle", ("[drill]", '[order]\nby = "hole"\n\n[drill]'))
    assert cuts(plan_of("holes-circle", text))[:4] == [
        "hole-1-spot", "hole-1-pilot", "hole-1-drill", "hole-2-spot"
    ]  # fmt: skip


def test_the_tools_are_those_of_a_single_hole():
    """The same table in a job of one hole: the same cuts to the same depths, at the same speeds."""
    single = plan_of("tap-blind", changed(
        "tap-blind", ('thread = "5/16-18"', 'thread = "M6"'), ('percent = 75\n', ""),
        ('depth = "5/8 in"', 'depth = "12 mm"'), ('unit = "inch"', 'unit = "mm"'),
        ('"leat-vertical"', '"mere-vertical"'), ('"cast iron"', '"aluminium"'),
    ))  # fmt: skip
    many = plan_of(TAPPED)
    # the single one is planned for the machine that its file named before: depths alone are alike
    wanted = [(s.kind, s.depth) for s in single.steps if isinstance(s, Cut)]
    found = [(s.kind, s.depth) for s in many.steps if isinstance(s, Cut) and "hole-3-" in s.id]
    assert found == wanted


@pytest.mark.parametrize("job", DEMOS)
@pytest.mark.parametrize("by", ["tool", "hole"])
def test_it_is_walked_to_its_end_in_either_order(job: str, by: str, tmp_path):
    path = tmp_path / "a.toml"
    text = text_of(job).replace('by = "tool"', f'by = "{by}"').replace(
        'by = "hole"', f'by = "{by}"')  # fmt: skip
    path.write_text(text, encoding="utf-8")
    work = Job(job, path)
    walk_to_end(work)
    assert work.assistant.steps_done[0] == work.assistant.steps_done[1]


# -- numbers, by hand -----------------------------------------------------------------------------


def test_m6_blind_by_hand():
    """ISO 2306 (from memory): M6 by 1 is drilled 5.0. A plug tap has three to five threads of
    chamfer (ASME B94.9, from memory): 12 mm of full thread and five of 1 mm are 17 at full
    diameter; the point of 118 degrees is 5 / 2 / tan 59 = 1.502, so 18.50 from the touch. Turns
    from where it bites: 12 / 1 + 4 threads of chamfer = 16."""
    plan = plan_of(TAPPED)
    assert value(plan, "tap drill", "mm") == 5
    assert abs(value(plan, "drill depth", "mm") - Decimal("18.502")) < Decimal("0.001")
    assert value(plan, "turns of the tap", "turn") == 16
    check = plan.step("hole-1-measure-depth-1")
    assert isinstance(check, Measure)
    assert (magnitude(check.low, "mm"), magnitude(check.high, "mm")) == (17, 18)


def test_a_quarter_inch_reamed_through_half_an_inch_by_hand():
    """Left for the reamer 5 to 10 thou, 7.5 in the middle: the drill at or below 0.2425 is letter
    C, 0.242 (ASME B94.11M, from memory). Through: 0.500 + 0.242 / 2 / tan 59 + a tenth of 0.242 =
    0.500 + 0.0727 + 0.0242 = 0.5969. The reamer: 0.500 + a quarter of 0.250 = 0.5625."""
    plan = plan_of(REAMED)
    fit = plan.step("hole-1-set-speed")
    assert "letter C drill" in fit.say[0]
    assert abs(value(plan, "drill depth") - Decimal("0.5969")) < Decimal("0.0001")
    assert value(plan, "ream depth") == Decimal("0.5625")


def test_a_head_below_the_face_by_hand():
    """ISO 4762 (from memory): the head of M8 is 8 mm high; half a millimetre below: 8.5. Of 25 mm
    that leaves 16.5 under it."""
    assert value(plan_of(BORED), "under the head", "mm") == Decimal("16.5")
    assert value(plan_of(BORED), "counterbore depth", "mm") == Decimal("8.5")
    check = plan_of(BORED).step("hole-1-measure-counterbore-1")
    assert isinstance(check, Measure)
    assert (magnitude(check.low, "mm"), magnitude(check.high, "mm")) == (Decimal("8.5"), 9)


def test_places_count_from_their_edges():
    """From the right edge the table goes right: 0.875, then 3.250 on to 4.125."""
    plan = plan_of(REAMED)
    at = {s.id: magnitude(s.target, "inch") for s in plan.steps
          if isinstance(s, Move) and s.id.startswith("hole-") and s.target is not None}  # fmt: skip
    assert at["hole-1-table"] == Decimal("0.875")
    assert at["hole-2-table"] == Decimal("4.125")
    assert at["hole-3-saddle"] == Decimal("-2.625")


# -- what is measured -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("often", "holes"), [("first and last", [1, 6]), ("first", [1]), ("each", [1, 2, 3, 4, 5, 6]),
                         ("none", [])],
)  # fmt: skip
def test_as_often_as_the_job_has_it(often: str, holes: list[int]):
    text = changed(TAPPED, ('measured = "first and last"', f'measured = "{often}"'))
    plan = plan_of(TAPPED, text)
    assert measured(plan) == [f"hole-{n}-measure-depth-1" for n in holes]
    tried = [s.id for s in plan.steps if s.id.endswith("try-gauge")]
    assert tried == [f"hole-{n}-try-gauge" for n in holes]


def test_after_one_that_is_short_the_later_ones_are_measured():
    """Half a millimetre short: on by that, 18.50 and 0.50 are 19.00; and every later hole is
    measured, since nothing says that the same drill is still in."""
    plan = plan_of(TAPPED, **told(hole_1_depth_1=mm("16.5"), hole_1_depth_2=mm("17.2")))
    deeper = plan.step("hole-1-deeper-1")
    assert isinstance(deeper, Cut)
    assert magnitude(deeper.feed_target, "mm") == 19
    assert {int(name.split("-")[1]) for name in measured(plan)} == {1, 2, 3, 4, 5, 6}
    assert touches(plan) == ["touch-drill", "touch-sink"]


def test_after_one_that_is_too_deep_it_is_touched_again_for_the_next():
    plan = plan_of(TAPPED, **told(hole_1_depth_1=mm("18.4")))
    assert plan.has("hole-1-too-deep")
    assert touches(plan) == ["touch-drill", "hole-2-touch-drill", "touch-sink"]
    assert {int(name.split("-")[1]) for name in measured(plan)} == {1, 2, 3, 4, 5, 6}


def test_a_tight_hole_is_reamed_once_more_and_one_too_big_is_asked_about():
    tight = plan_of(REAMED, **told(hole_2_bore_1=inches("0.2498")))
    assert "hole-2-ream-again" in cuts(tight)
    assert "hole-2-measure-bore-2" in measured(tight)
    still = plan_of(REAMED, **told(hole_2_bore_1=inches("0.2498"), hole_2_bore_2=inches("0.2499")))
    assert still.has("hole-2-still-tight")
    big = plan_of(REAMED, **told(hole_2_bore_1=inches("0.2507")))
    assert big.has("hole-2-too-big")
    assert "hole-2-ream-again" not in cuts(big)


def test_a_reamed_size_is_measured_in_a_single_hole_too():
    text = changed("drill-press", ('ream = "0.4375 in"', 'ream = "0.4375 in"\nream_plus = "0.001"'))
    assert plan_of("drill-press", text).has("measure-bore-1")
    assert not plan_of("drill-press").has("measure-bore-1")


def test_went_past_has_that_hole_measured():
    job = Job(TAPPED)
    job.to_step("hole-4-drill")
    job.say("went past")
    job.say("dial reads 7 turns and 1.2")
    if job.state.step_id == "hole-4-drill":
        job.say("that's through")
    assert job.state.step_id == "hole-4-measure-depth-1"


# -- where one is ---------------------------------------------------------------------------------


def test_which_hole_of_which_tool():
    job = Job(TAPPED)
    job.to_step("set-speed")
    assert job.say("which hole") == "At none yet with this one: 5 millimetre drill."
    job.to_step("touch-drill")
    assert job.say("which hole") == "Hole 1 of 6, row 1: 5 millimetre drill."
    job.to_step("hole-3-tap")
    assert job.say("which hole") == "Hole 3 of 6, row 2: plug tap."
    assert job.say("how many holes left") == "3 to go after this one."
    job.to_step("measure-between")
    assert job.say("which hole") == "All are made."


def test_after_a_broken_drill_it_is_still_that_hole():
    """The touch is that of the first hole, and the job is at the third."""
    job = Job(TAPPED)
    job.to_step("hole-3-drill-peck-1")
    job.says("drill broke", "yes")
    assert job.state.step_id == "touch-drill"
    assert job.say("which hole").startswith("Hole 3 of 6")
    job.says("touched", "bare")
    assert job.state.step_id == "hole-3-drill-peck-1"


# -- left out -------------------------------------------------------------------------------------


def test_a_hole_is_left_out_from_its_tool_on_and_the_others_stay():
    plan = plan_of(TAPPED, **told(out_3="sink"))
    made = [name for name in cuts(plan) if name.startswith("hole-3-")]
    assert made == ["hole-3-spot", "hole-3-drill-peck-1", "hole-3-drill"]
    assert len([name for name in cuts(plan) if name.endswith("-tap")]) == 5


def test_after_a_hole_that_is_left_out_both_slides_are_set():
    """Holes 2 and 4 lie at one place along the table: the table went to hole 3 all the same, and
    what was left out there doesn't bring it back."""
    plan = plan_of(TAPPED, **told(out_3="tap"))
    assert plan.has("tap-hole-4-table")
    assert plan.has("tap-hole-4-saddle")


def test_a_tap_that_stays_in_its_hole_costs_that_hole_alone():
    job = Job(TAPPED)
    job.to_step("hole-3-tap")
    job.say("tap broke")
    assert "leave this one out" in job.say("no")
    assert job.say("leave this one out") == "Hole 3 left out? Yes or no."
    assert "Hole 3 is left out" in job.say("yes")
    assert job.state.step_id == "tap-hole-4-saddle"
    assert not job.state.doubts
    walk_to_end(job)
    assert [one.value for one in job.state.told if one.name == "left out"] == [
        "hole 3, from the tap on"
    ]


def test_a_drill_that_stays_in_its_hole_is_touched_anew_before_the_next():
    job = Job(TAPPED)
    job.to_step("hole-3-drill-peck-1")
    job.says("drill broke", "leave that hole out", "yes")
    assert job.state.step_id == "hole-4-saddle"
    job.says("i'm set", "i'm set")
    assert job.state.step_id == "touch-drill"
    assert job.say("which hole").startswith("Hole 4 of 6")
    job.says("touched", "bare")
    assert job.state.step_id == "hole-4-drill-peck-1"
    walk_to_end(job)
    assert "hole-3-tap" not in job.state.confirmed
    assert "hole-6-tap" in job.state.confirmed


def test_left_out_hole_by_hole_the_next_hole_begins():
    job = Job(REAMED)
    job.to_step("hole-2-ream")
    job.says("leave this one out", "yes")
    assert job.state.step_id == "hole-3-saddle"
    assert "hole-2-drill" in job.state.confirmed
    walk_to_end(job)


def test_said_twice_one_hole_is_left_out():
    """The second time it may be the next hole that is at hand."""
    job = Job(TAPPED)
    job.to_step("hole-3-tap")
    job.says("leave this one out", "leave this one out", "yes")
    assert job.say("leave this one out") == "Hole 4 left out? Yes or no."
    job.say("no")
    assert [name for name in job.state.facts if name.startswith("out.")] == ["out.3"]
    assert job.state.step_id == "tap-hole-4-saddle"


def test_what_was_left_out_is_taken_back():
    job = Job(TAPPED)
    job.to_step("hole-3-tap")
    job.says("leave this one out", "yes")
    job.say("scratch that")
    assert job.state.step_id == "hole-3-tap"
    assert "out.3" not in job.state.facts


def test_the_first_left_out_the_next_is_touched_and_measured():
    job = Job(TAPPED)
    job.to_step("hole-1-table")
    job.says("leave this one out", "yes")
    assert job.state.step_id == "hole-2-saddle"
    job.to_step("touch-drill")
    job.to_step("hole-2-measure-depth-1")


def test_it_outlives_the_end_of_the_program():
    job = Job(TAPPED)
    job.to_step("hole-5-sink")
    job.says("leave this one out", "yes")
    job.resume()
    assert job.state.facts["out.5"] == "sink"
    assert "hole-5-tap" not in cuts(job.state.plan)


def test_nothing_is_left_out_where_there_is_no_hole():
    job = Job(TAPPED)
    job.to_step("edge-saddle")
    assert "Not now" in " ".join(s.text for s in job.try_saying("leave this one out").sentences)
    assert not [name for name in job.state.facts if name.startswith("out.")]


def test_a_hole_left_out_is_struck_out_on_the_map():
    dims = {f"x_{n}": float(n) for n in range(1, 5)} | {f"y_{n}": 1.0 for n in range(1, 5)}
    plain, out = hole_map(dims | {"at": 4.0}), hole_map(dims | {"at": 4.0, "out_2": 1.0})
    strokes = [one for one in out.items if one not in plain.items and isinstance(one, Line)]
    assert len(strokes) == 2, "both strokes of a cross"
    assert all(min(x for x, _ in one.points) < 2 < max(x for x, _ in one.points) for one in strokes)


# -- a stop ---------------------------------------------------------------------------------------


def test_a_stop_is_set_anew_for_another_drill():
    """A stop keeps the depth of the drill it was set for: another is longer or shorter."""
    job = Job(GRID)
    job.to_step("hole-5-drill")
    job.says("drill broke", "yes")
    job.says("touched")
    if job.state.phase != "act":
        job.say("bare")
    assert job.state.step_id == "drill-stop"
    assert "stop" in " ".join(job.state.last_reply).lower()
    job.say("i'm set")
    assert job.state.step_id == "hole-5-drill"


def test_one_table_says_what_is_made():
    with pytest.raises(BadFile, match=r"wanted one of \[drill\], \[hole\], \[thread\]"):
        read_job(changed(TAPPED, ("[thread]", "[thred]")), "a.toml")


def test_checks_before_each_tap_are_asked_hole_by_hole():
    text = changed(TAPPED, ('by = "tool" ', 'by = "hole" '))
    plan = plan_of(TAPPED, text)
    isolated = [s for s in plan.steps if isinstance(s, Check) and s.id.endswith("check-tap")]
    assert len(isolated) == 6
    assert sum(isinstance(s, Note) and s.id == "check-tap" for s in plan.steps) == 0
