"""Slots, steps and faces: numbers worked by hand; geometry and common practice, no source."""

from __future__ import annotations

from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.errors import BadFile, ImpossibleInput
from assistant.jobs.milling.strokes import conventional_way
from assistant.jobs.planning import plan_for, read_job
from assistant.jobs.steps import Cut, Move
from assistant.units import inches, magnitude, mm
from tests.factories import Job, expected_words
from tests.jobs.walking import changed, machine_of, plan_of, sheet, text_of, value, walk_to_end


def cuts(plan, part=""):
    return [step for step in plan.steps if isinstance(step, Cut) and part in step.id]


def test_the_table_goes_against_the_cutter_whichever_wall():
    """By vectors: a right-hand cutter turns clockwise seen from above. Where the metal is at the
    back of the cutter, its teeth there go to the right; conventional is the work going against
    them, so the table goes left. In front they go to the left, and the table goes right."""
    assert conventional_way("back") == -1
    assert conventional_way("front") == 1


def test_slot_worked_by_hand():
    """A slot 0.500 +0.002 -0 wide, middle 1.000 from the back, 3/8 cutter, paper 0.003.

    Aimed at 0.501 wide: the cutter's centre goes (0.501 - 0.375) / 2 = 0.063 either side of the
    middle, 0.053 with 0.010 left on a wall. First row 0.1875 + 0.003 + 1 - 0.053 = 1.1375 from
    the touch: on 0.125 a turn 9 turns + 0.0125. The floor is aimed at 0.252 (0.250 +0.005 -0).
    """
    plan = plan_of("slot-inch")
    move = sheet("slot-inch")["to-first"].move
    assert (move.turns, move.part, move.direction) == (9, Decimal("0.0125"), "in")
    assert value(plan, "full depth") == Decimal("0.252")
    assert value(plan, "back wall, cutter from the middle") == Decimal("0.063")
    # back wall: 1.000 - 0.063 from the side, so 1.1275 from the touch: 1.128 on the dial
    assert plan.step("near-finishing-1-set").target == inches("1.128")
    # front wall: 1.000 + 0.063, so 1.2535 from the touch: 1.254 would be 0.5015 wide, and is in
    assert plan.step("far-finishing-1-set").target == inches("1.254")


def test_walls_of_a_slot_are_set_from_one_side_and_milled_conventionally():
    plan = plan_of("slot-inch")
    across = [s for s in plan.steps if isinstance(s, Move) and s.axis == "saddle"]
    assert {step.approach for step in across} == {1}
    near, far = plan.step("near-finishing-1-cut"), plan.step("far-finishing-1-cut")
    assert "Table left: conventional" in near.say[0]
    assert "Table right: conventional" in far.say[0]


def test_a_cut_that_goes_one_way_begins_off_the_right_end():
    """A table that goes right takes the cutter left over the work: it begins off the right-hand
    end, to which the table takes it by going left. The back wall is cut the other way: the cutter
    comes through to the left-hand end first, and back again for the front wall."""
    plan = plan_of("slot-inch")
    assert plan.step("table-out").say == ("Run the table left till the cutter's off the end.",)
    ids = [step.id for step in plan.steps]
    for wall, way in (("near", "right"), ("far", "left")):
        assert f"Run the table {way}," in plan.step(f"{wall}-other-end").say[0]
        at = ids.index(f"{wall}-other-end")
        assert ids[at + 1] == f"{wall}-roughing-1-set"
        assert ids[at - 1].startswith("measure")
    front = changed("slot-inch", ('"back"', '"front"'))
    assert "Run the table right" in plan_of("slot-inch", front).step("table-out").say[0]


@pytest.mark.parametrize("name", ["slot-inch", "step-inch", "dovetail-inch"])
def test_which_way_is_answered_as_the_cut_at_hand_goes(name):
    """At a slot's near wall the step said left, and the answer was right: that is climbing."""
    job = Job(name)
    answered = set()
    for _ in range(200):
        step = job.state.step
        if job.state.finished or step is None:
            break
        if isinstance(step, Cut) and "conventional" in step.say[0]:
            way = step.say[0].removeprefix("Spindle on. ")
            assert job.say("which way do I feed").startswith(way)
            answered.add(way)
        job.say(expected_words(job.state))
    assert len(answered) == (1 if name == "step-inch" else 2)


def test_the_near_wall_leaves_the_middle_inside_however_wide_the_slot_becomes():
    """The middle 1.000 within 0.005, 0.500 to 0.502 wide: 0.995 - 0.250 and 1.005 - 0.251."""
    near = plan_of("slot-inch").step("measure-near-size-1")
    assert (near.low, near.high) == (inches("0.745"), inches("0.754"))


def test_a_reground_cutter_leaves_no_fin_between_rows_and_is_no_dead_end():
    """Rows of 0.500 by a cutter of 1/2: measured 0.497, it was refused, and there was nothing else
    to say; in a slot it left 0.003 standing. Rows go over by 0.95 of it at most: 0.472."""
    wide = changed(
        "step-inch",
        ('touch_side = "back"', 'touch_side = "back"\nstep_over = "0.500 in"'),
        ('width = "0.625 in"', 'width = "1.625 in"'),
    )
    plan = plan_of("step-inch", wide, cutter_width=inches("0.497"))
    rows = [s.target for s in plan.steps if "-across" in s.id and s.id.startswith("roughing-2")]
    rows = [magnitude(one, "inch") for one in rows]
    assert len(rows) == 4
    assert max(abs(b - a) for a, b in pairwise(rows)) <= Decimal("0.473")


def test_half_a_thou_short_of_a_limit_is_short_of_it():
    told = {"far_size_1_at": inches("1.2485")}
    short = plan_of("slot-inch", far_size_1=inches("0.4995"), **told)
    assert short.step("far-finishing-1-cut")
    on_it = plan_of("slot-inch", far_size_1=inches("0.500"), **told)
    assert not cuts(on_it, "far-finishing")
    over = plan_of("slot-inch", far_size_1=inches("0.5024"), **told)
    assert over.step("far-too-far")


def test_the_far_wall_comes_from_the_width_that_was_measured():
    """Set at 1.2485 (middle 1.1905 + 0.058), the slot measures 0.494 and not 0.496: two more.
    Wanted 0.501: 7 thou, from 1.2485 to 1.2555, on a whole division 1.255 or 1.256."""
    plan = plan_of("slot-inch", far_size_1=inches("0.494"), far_size_1_at=inches("1.2485"))
    target = magnitude(plan.step("far-finishing-1-set").target, "inch")
    assert target in (Decimal("1.255"), Decimal("1.2555"), Decimal("1.256"))
    made = Decimal("0.494") + target - Decimal("1.2485")
    assert Decimal("0.500") <= made <= Decimal("0.502")


def test_a_slot_as_wide_as_its_cutter_has_one_row_and_its_width_checked():
    text = changed("slot-inch", ('diameter = "3/8 in"', 'diameter = "0.501 in"'))
    plan = plan_of("slot-inch", text)
    assert not any(isinstance(s, Move) and s.axis == "saddle" and s.id != "to-first"
                   for s in plan.steps)  # fmt: skip
    assert plan.step("measure-width")
    wide = plan_of("slot-inch", text, slot_width=inches("0.504"))
    assert "Too wide" in wide.step("too-wide").say[0]


def test_step_worked_by_hand():
    """A step 0.625 wide, 10 thou left on the wall: 0.615 in rows of at most 0.6 x 1/2 = 0.300:
    three of 0.205. The first row's centre is 0.205 - 0.250 = -0.045 from the side; from the touch
    -0.045 + 0.250 + 0.003 = 0.208. The wall is made by the rim: 0.003 + 0.625 at the touch's
    scale."""
    plan = plan_of("step-inch")
    assert plan.step("to-first").target == inches("0.208")
    assert plan.step("wall-finishing-1-set").target == inches("0.628")
    assert len(cuts(plan, "roughing-2")) == 3


def test_the_wall_of_a_step_comes_from_its_measured_width():
    """At 0.618 it measures 0.613, two thou less than foreseen: two more, to 0.630."""
    plan = plan_of("step-inch", wall_size_1=inches("0.613"), wall_size_1_at=inches("0.618"))
    assert plan.step("wall-finishing-1-set").target == inches("0.630")


def test_face_worked_by_hand():
    """23 mm to 20: 3 mm deep. 80 mm, and 2 mm past the far edge since the first row is set by eye,
    in rows of at most 30: three of 27.333. The cutter of 50 stands in over the edge by one row's
    width at first, told in tenths, and goes on by 27.333 twice: 54.67 on lines of 0.02."""
    plan = plan_of("face-metric")
    assert value(plan, "full depth", "mm") == 3
    over = plan.result("cutter in over the edge")
    assert magnitude(over.value, "mm") == pytest.approx(Decimal("27.333"), abs=Decimal("0.001"))
    assert over.places == 1
    across = plan.step("roughing-2-row-3-across")
    assert abs(magnitude(across.target, "mm")) == Decimal("54.67")


def test_the_last_row_of_a_face_goes_past_the_far_edge():
    """A first row set 1.5 mm short by eye still leaves no rib: 27.333 - 1.5 + 54.67 + ... > 80."""
    plan = plan_of("face-metric")
    overlap = magnitude(plan.result("cutter in over the edge").value, "mm")
    last = abs(magnitude(plan.step("roughing-2-row-3-across").target, "mm"))
    assert overlap - Decimal("1.5") + last > 80


def test_a_face_in_one_row_is_set_so_that_the_cutter_covers_it():
    """A cutter of 90 covers 80 only from over its middle: no other row takes what it leaves."""
    wide = changed("face-metric", ('diameter = "50 mm"', 'diameter = "90 mm"'))
    assert any(
        "covers the face" in line for line in plan_of("face-metric", wide).step("touch-knee").say
    )
    narrow = plan_of("face-metric").step("touch-knee").say
    assert not any("covers" in line for line in narrow)
    faces = plan_of("square-block-inch")
    assert all(
        "covers the face" in faces.step(f"face-{number}-touch-knee").say[0]
        for number in range(1, 7)
    )


def test_the_face_is_as_thick_as_it_measures():
    """Measured stock takes the place of the nominal one: 23.4 to 20 is 3.4 deep. And at 2.76 on
    the knee it measures 20.30, not 20.24: 0.06 are missing. They may all be spring of the pass
    before, which took 0.89, and come back in a lighter cut: so it goes 0.28 further, to 3.04, which
    leaves 20.02 if it stays and 19.96 if it comes back, and not to 3.06, where that would be
    19.94, too thin."""
    thick = plan_of("face-metric", stock_height=mm("23.4"))
    assert magnitude(thick.full_depth, "mm") == Decimal("3.4")
    plan = plan_of("face-metric", size_1=mm("20.30"), size_1_at=mm("2.76"))
    assert plan.step("finishing-1-set").target == mm("3.04")


def test_what_the_last_row_pushed_away_is_not_cut_off_the_wall_with_the_rest():
    """At 0.615 on the saddle the step measures 0.610, for 0.625 +-0.003: the row beside the wall
    took 0.205 and may have pushed the cutter off by the 0.005 that are missing. Set to 0.630 by
    them it would come out there, too wide, where the push is gone: so not past 0.628."""
    row = plan_of("step-inch").step("finishing-1-row-3-across").target
    told = {"wall_size_1": inches("0.610"), "wall_size_1_at": row}
    target = plan_of("step-inch", **told).step("wall-finishing-1-set").target
    assert Decimal("0.622") < magnitude(target - row, "inch") + Decimal("0.615") <= Decimal("0.628")


def test_too_thin_says_so():
    plan = plan_of("face-metric", size_1=mm("19.90"), size_1_at=mm("2.76"))
    assert "Too thin" in plan.step("too-far").say[0]


@pytest.mark.parametrize(
    ("name", "old", "new", "field"),
    [
        ("slot-inch", 'diameter = "3/8 in"', 'diameter = "3/4 in"', "cutter.diameter"),
        ("slot-inch", 'from_side = "1.000 in"', 'from_side = "0.200 in"', "from_side"),
        ("slot-inch", 'width_plus = "0.002 in"', 'width_plus = "0 in"', "width_plus"),
        ("slot-inch", 'kind = "end mill"', 'kind = "face mill"', "kind"),
        ("step-inch", 'holding = "vice"', 'holding = "magnet"', "holding"),
        ("step-inch", "[step]", "[step]\nsteps = 2", "steps"),
        ("step-inch", 'touch_side = "back"', 'touch_side = "back"\nwall_stock = "1 in"', "wall"),
        ("face-metric", 'stock = "23 mm"', 'stock = "19 mm"', "stock"),
        ("face-metric", 'height = "20 mm"', 'height = "nan"', "height"),
    ],
)  # fmt: skip
def test_a_wrong_job_file_names_file_key_and_value(name, old, new, field):
    with pytest.raises(BadFile) as caught:
        read_job(changed(name, (old, new)), "a.toml")
    assert "a.toml" in str(caught.value)
    assert field in str(caught.value)


def test_a_cutter_that_is_too_short_or_on_the_wrong_machine_is_refused():
    short = changed("slot-inch", ('reach = "7/8 in"', 'reach = "1/4 in"'))
    with pytest.raises(ImpossibleInput, match="reach"):
        plan_of("slot-inch", short)
    with pytest.raises(ImpossibleInput, match="vertical"):
        plan_for(text_of("slot-inch"), "a.toml", machine_of("woodruff-inch"), {})
    with pytest.raises(ImpossibleInput, match="wider than the slot"):
        plan_of("slot-inch", cutter_width=inches("0.510"))


@pytest.mark.parametrize("name", ["slot-inch", "step-inch", "face-metric"])
def test_walked_from_start_to_end(name):
    walk_to_end(Job(name))


def test_its_own_questions():
    job = Job("slot-inch")
    assert job.say("which way do I feed") == "Table right: conventional, no climbing."
    assert job.say("how many passes") == "5 down, 2 rows each."


@settings(max_examples=40, deadline=None)
@given(
    cutter=st.decimals(Decimal("0.25"), Decimal("0.49"), places=3),
    depth=st.decimals(Decimal("0.06"), Decimal("0.70"), places=3),
    most=st.decimals(Decimal("0.02"), Decimal("0.12"), places=3),
    side=st.sampled_from(["back", "front"]),
)
def test_any_slot_ends_at_its_sizes(cutter, depth, most, side):
    """Passes add up to the floor, none is too deep, and the walls end half the slot, less half the
    cutter, either side of the middle, within half a division."""
    text = changed(
        "slot-inch",
        ('diameter = "3/8 in"', f'diameter = "{cutter} in"'),
        ('depth = "0.250 in"', f'depth = "{depth} in"'),
        ('max_pass = "0.080 in"', f'max_pass = "{most} in"'),
        ('touch_side = "back"', f'touch_side = "{side}"'),
    )
    plan = plan_of("slot-inch", text)
    floor = [c for c in cuts(plan) if c.id.startswith(("witness", "roughing", "finishing"))
             and "row" not in c.id]  # fmt: skip
    assert sum((c.taken for c in floor), inches(0)) == plan.full_depth
    assert all(c.taken <= inches(most) for c in floor if c.kind == "roughing")
    middle = Decimal("1.000") + Decimal("0.003") + cutter / 2
    way = 1 if side == "back" else -1

    def wall(name):
        # the last setting: a wall with hardly any stock on it is cut in one
        last = [s for s in plan.steps if s.id.startswith(name) and s.id.endswith("-set")][-1]
        return magnitude(last.target, "inch") * way - middle

    near, far = wall("near"), wall("far")
    assert Decimal("0.500") - cutter <= far - near + Decimal("0.0005")
    assert far - near <= Decimal("0.502") - cutter + Decimal("0.0005")
