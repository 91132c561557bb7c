"""Flats on round stock: geometry by hand; handling is common practice, no source."""

from __future__ import annotations

import math
from decimal import Decimal

import pytest

from assistant.errors import BadFile, ImpossibleInput
from assistant.jobs.planning import plan_for, read_job
from assistant.jobs.steps import NO_SURFACE, Cut, Index, Measure, Move
from assistant.units import inches, magnitude, mm, quantity
from tests.factories import Job, expected_words
from tests.jobs.walking import changed, machine_of, plan_of, text_of, value, walk_to_end


def test_hexagon_worked_by_hand():
    """1.000 bar to 0.812 +0 -0.006 across: aimed at 0.810, (1.000 - 0.810) / 2 = 0.095 deep.
    Across the corners 0.812 / cos 30 = 0.9376; a flat is 0.812 tan 30 = 0.4688 wide. 40 turns
    of the crank are once round: 6-2/3 a flat, 26 spaces on 39; 20 turns half round."""
    plan = plan_of("flats-hexagon")
    assert value(plan, "full depth") == Decimal("0.095")
    assert float(value(plan, "across the corners")) == pytest.approx(
        0.812 / math.cos(math.radians(30)), abs=1e-6
    )
    assert float(value(plan, "flat")) == pytest.approx(0.812 * math.tan(math.radians(30)), abs=1e-6)
    halves = [s for s in plan.steps if isinstance(s, Index) and "half" in s.id]
    assert all((s.turns, s.holes) == (20, 0) for s in halves)
    on = [s for s in plan.steps if isinstance(s, Index) and s.id.startswith("flat-")]
    assert {(s.turns, s.holes, s.circle) for s in on} == {(6, 26, 39)}


def test_every_flat_is_cut_once_and_to_the_same_reading():
    """By simulating the head: the flats cut to full depth are all six, each once."""
    plan = plan_of("flats-hexagon")
    at, cut_full = 0, []
    for step in plan.steps:
        if isinstance(step, Index):
            at = (at + (3 if step.turns == 20 else 1)) % 6
        if isinstance(step, Cut) and step.remaining == inches(0):
            cut_full.append(at)
    assert sorted(cut_full) == [0, 1, 2, 3, 4, 5]
    last = [s for s in plan.steps if isinstance(s, Move) and s.id.endswith("-set")
            and s.depth_after == plan.full_depth]  # fmt: skip
    assert len({magnitude(s.target, "inch") for s in last}) == 1


def test_half_of_what_is_left_goes_on_each_flat():
    """At 0.085 it should be 0.830 across and measures 0.834: 0.024 over 0.810, 0.012 each."""
    plan = plan_of("flats-hexagon", size_1=inches("0.834"), size_1_at=inches("0.085"))
    assert plan.step("finishing-1-set").target == inches("0.097")


def test_the_others_go_to_the_reading_at_which_the_pair_came_in():
    plan = plan_of(
        "flats-hexagon", size_1=inches("0.834"), size_1_at=inches("0.085"),
        size_2=inches("0.811"), size_2_at=inches("0.097"),
    )  # fmt: skip
    others = [s for s in plan.steps if s.id.startswith("flat-") and s.id.endswith("-set")]
    finals = [s for s in others if s.depth_after == plan.full_depth]
    assert len(finals) == 4
    assert {magnitude(s.target, "inch") for s in finals} == {Decimal("0.097")}


def test_spring_of_a_heavy_pass_is_not_cut_off_with_the_rest():
    """After a pass of 1.335 to 2.775 the square measures 14.57 where it should be 14.45: 0.06 a
    flat. A tenth of the pass may be spring, so all of that may be, and a light cut gives it back:
    the dial goes no further than 3.04, half a division short of 3.05, which is 13.90 then. It went
    to 3.08 and the square came out small. Where it measures 14.04 at 3.04, 0.06 is missing still,
    and of the last pass, 0.265, a tenth may be spring: 0.0265. To 3.04 less that, and 0.06 on by
    the dial, is 3.0735."""
    told = {"size_1": mm("14.57"), "size_1_at": mm("2.78")}
    move = plan_of("flats-square", **told).step("finishing-1-set")
    assert move.target == mm("3.04")
    assert move.leaves_inside is None
    over = {"size_2": mm("14.04"), "size_2_at": mm("3.04")}
    assert plan_of("flats-square", **told, **over).step("finishing-2-set").target == mm("3.08")
    # less than a division: as it always was
    near = plan_of("flats-square", size_1=mm("14.47"), size_1_at=mm("2.78"))
    assert near.step("finishing-1-set").target == mm("3.04")


def test_no_flat_s_first_pass_is_deeper_than_the_cutter_takes():
    """By 0.060 one pass of the others takes the skim of 0.003 and the 0.041 after it. By 0.041 it
    would be 0.044, three too deep: they get the skim too."""
    text = changed("flats-hexagon", ('max_pass = "0.060 in"', 'max_pass = "0.041 in"'))
    plan = plan_of("flats-hexagon", text)
    taken = [s.taken for s in plan.steps if isinstance(s, Cut)]
    assert max(magnitude(one, "inch") for one in taken) == Decimal("0.041")
    assert plan.step("flat-2-1-set").depth_after == inches("0.003")
    whole = plan_of("flats-hexagon").step("flat-2-1-set")
    assert whole.depth_after == inches("0.044")


def test_a_square_in_a_block_is_turned_by_hand():
    plan = plan_of("flats-square")
    assert not any(isinstance(step, Index) for step in plan.steps)
    assert value(plan, "full depth", "mm") == mm("3.025").magnitude
    assert "right over" in plan.step("witness-1-half").say[0]


def test_one_flat_is_measured_to_the_round_opposite():
    text = changed("flats-square", ("sides = 4", "sides = 1"), ('"14 mm"', '"17 mm"'))
    plan = plan_of("flats-square", text)
    assert value(plan, "full depth", "mm") == mm("3.05").magnitude
    assert plan.result("from the flat to the round opposite")


def told_across(*sizes):
    """A square of 14 mm, with these sizes told across its first flats."""
    job = Job("flats-square")
    left = list(sizes)
    while left:
        words = expected_words(job.state)
        measuring = isinstance(job.state.step, Measure) and job.state.step.surface != NO_SURFACE
        job.say(f"measured {left.pop(0)} mm" if measuring else words)
    return job.state.plan


def test_after_flats_that_are_too_small_the_next_are_cut_to_the_size():
    """13.85 of 13.90 to 14.00: the others go no deeper than a flat may."""
    plan = told_across("14.45", "13.85")
    last = plan.step("flat-2-3-set")
    first = plan.step("finishing-1-set")
    assert (last.target - last.limit).magnitude * last.deeper <= 0
    assert (last.target - first.target).magnitude * last.deeper < 0
    assert last.say == ()
    assert told_across("14.45", "13.95").step("flat-2-3-set").target == first.target


def test_spring_is_reckoned_from_the_whole_pass_though_it_was_measured_in_the_middle_of_it():
    """14.59 of a foreseen 14.45 may be the spring of 1.34 mm a side: it comes off of itself."""
    third = plan_of("flats-square").step("roughing-3-set")
    whole = {"size.1": mm("14.59"), "size.1.at": third.target, "size.1.cuts": quantity(3, "")}
    half = {
        "size.1": mm("15.92"), "size.1.at": third.target, "size.1.half": mm("1.34"),
        "size.1.cuts": quantity(2, ""), "size.1.begun": "yes",
        **{name.replace("1", "2", 1): value for name, value in whole.items()},
    }  # fmt: skip
    plain, told_in_doubt = (plan_of("flats-square", None, **facts) for facts in (whole, half))
    finishing = plain.step("finishing-1-set").target
    assert told_in_doubt.step("finishing-1-set").target == finishing
    assert (finishing - third.target) * third.deeper < mm("0.30")


def test_plates_that_cannot_divide_are_said():
    text = changed("flats-hexagon", ("sides = 6", "sides = 53"), ('"0.812 in"', '"0.980 in"'))
    with pytest.raises(ImpossibleInput, match="simple indexing"):
        plan_of("flats-hexagon", text)


def test_the_wrong_machine_is_refused():
    with pytest.raises(ImpossibleInput, match="vertical"):
        plan_for(text_of("flats-square"), "a.toml", machine_of("keyseat-inch"), {})


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('across = "0.812 in"', 'across = "1.2 in"', "across"),
        ("sides = 6", "sides = 0", "sides"),
        ('diameter = "5/8 in"', 'diameter = "3/8 in"', "cutter.diameter"),
        ('holding = "dividing head"', 'holding = "block"\ntilt = 3', "tilt"),
    ],
)
def test_a_wrong_job_file_names_file_key_and_value(old, new, field):
    with pytest.raises(BadFile) as caught:
        read_job(changed("flats-hexagon", (old, new)), "a.toml")
    assert field in str(caught.value)


@pytest.mark.parametrize("name", ["flats-hexagon", "flats-square"])
def test_walked_from_start_to_end(name):
    walk_to_end(Job(name))


def test_its_own_questions():
    job = Job("flats-hexagon")
    assert job.say("how big is it") == "Across the corners, nine thirty-eight."
    assert job.say("what size blank").startswith("Bar for sharp corners")
