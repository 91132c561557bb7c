"""One spur gear, full-depth teeth by hand (from memory of Machinery's Handbook)."""

from __future__ import annotations

import math
from decimal import Decimal

import pytest

from assistant.errors import BadFile, ImpossibleInput
from assistant.jobs.planning import plan_for, read_job
from assistant.jobs.steps import Cut, Index, Move
from assistant.units import inches, magnitude
from tests.factories import Job
from tests.jobs.walking import changed, machine_of, plan_of, text_of, value, walk_to_end


def test_worked_by_hand():
    """24 teeth, 16 pitch, 20 degrees: blank 26 / 16 = 1.625, whole depth 2.25 / 16 = 0.140625,
    chordal thickness 1.5 sin(90 / 24) = 0.09810; 40 / 24 turns of the crank: 1 and 44 on 66."""
    plan = plan_of("gear-inch")
    assert value(plan, "blank") == Decimal("1.625")
    assert value(plan, "whole depth") == Decimal("0.140625")
    thick = magnitude(plan.result("the tooth").high, "inch")
    assert float(thick) == pytest.approx(1.5 * math.sin(math.radians(90 / 24)), abs=1e-6)
    index = next(step for step in plan.steps if isinstance(step, Index))
    assert (index.turns, index.holes, index.circle) == (1, 44, 66)
    # two thou thinner, each flank a thou: 0.001 / tan 20 deeper
    deeper = float(value(plan, "full depth") - Decimal("0.140625"))
    assert deeper == pytest.approx(0.001 / math.tan(math.radians(20)), abs=1e-5)


def spaces(plan):
    """By simulating the head: each space, and how deep the knee stood when it was last cut."""
    at, depths, knee = 0, {}, None
    for step in plan.steps:
        if isinstance(step, Index):
            at = (at + 1) % 24
        if getattr(step, "axis", "") == "knee" and getattr(step, "target", None) is not None:
            knee = magnitude(step.target, "inch")
        if isinstance(step, Cut):
            depths[at] = knee
    return depths


def test_every_space_ends_at_the_same_depth():
    found = spaces(plan_of("gear-inch"))
    assert len(found) == 24
    assert len(set(found.values())) == 1


def test_a_fat_tooth_goes_deeper_and_those_before_it_are_cut_again():
    """At 0.133 the tooth measures 0.1037, as foreseen; finished at 0.143 it still measures
    0.1000: 0.0039 over the middle of its limits is 0.0054 deeper, 0.148 or 0.149."""
    plan = plan_of(
        "gear-inch", size_1=inches("0.1037"), size_1_at=inches("0.133"),
        size_2=inches("0.1000"), size_2_at=inches("0.143"),
    )  # fmt: skip
    found = spaces(plan)
    assert len(set(found.values())) == 1
    assert next(iter(found.values())) in (Decimal("0.148"), Decimal("0.149"))
    assert plan.step("again-1-cut")


def test_a_small_blank_is_allowed_for():
    """A blank 0.004 small is 0.002 in radius: so much less from its top, and on the vernier."""
    usual, small = plan_of("gear-inch"), plan_of("gear-inch", blank_diameter=inches("1.621"))
    assert usual.full_depth - small.full_depth == inches("0.002")
    assert usual.result("depth slide").value - small.result("depth slide").value == inches("0.002")


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ("teeth = 24", "teeth = 8", "teeth"),
        ("diametral_pitch = 16", 'diametral_pitch = 16\nmodule = "1 mm"', "module"),
        ("pressure_angle = 20", "pressure_angle = 25", "pressure angle"),
        ('kind = "gear cutter"', 'kind = "end mill"', "kind"),
    ],
)
def test_a_wrong_job_file_names_file_key_and_value(old, new, field):
    with pytest.raises(BadFile) as caught:
        read_job(changed("gear-inch", (old, new)), "a.toml")
    assert field in str(caught.value)


def test_what_cannot_be_indexed_or_reached_is_refused():
    with pytest.raises(ImpossibleInput, match="simple indexing"):
        plan_of("gear-inch", changed("gear-inch", ("teeth = 24", "teeth = 127")))
    with pytest.raises(ImpossibleInput, match="collar"):
        plan_of("gear-inch", changed("gear-inch", ('"1-1/4 in"', '"2 in"')))
    with pytest.raises(ImpossibleInput, match="horizontal"):
        plan_for(text_of("gear-inch"), "a.toml", machine_of("flats-square"), {})


def test_walked_from_start_to_end():
    walk_to_end(Job("gear-inch"))


def test_its_own_questions():
    job = Job("gear-inch")
    assert job.say("which cutter") == "Cutter number 5, for 21 to 25 teeth."
    assert job.say("what size blank").startswith("Blank, one")


def test_a_depth_at_which_the_knee_stands_is_not_told_again():
    """Twenty-four spaces at one roughing depth and one finishing depth: two settings, and none in
    between that says to stay. Common practice, no source."""
    plan = plan_of("gear-inch")
    sets = [s for s in plan.steps if isinstance(s, Move) and s.axis == "knee" and s.depth_after]
    assert len(sets) == 2
    assert len([s for s in plan.steps if isinstance(s, Cut)]) == 48
