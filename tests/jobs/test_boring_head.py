"""Boring with a boring head: arithmetic by hand; common practice, no source."""

from __future__ import annotations

from decimal import Decimal

import pytest

from assistant.errors import BadFile, ImpossibleInput
from assistant.jobs.planning import plan_for, read_job
from assistant.jobs.steps import Cut
from assistant.units import inches, magnitude
from tests.factories import Job, answer
from tests.jobs.walking import changed, machine_of, plan_of, text_of, value, walk_to_end


def opened(plan, step):
    return magnitude(plan.step(step).figure.value, "inch")


def test_worked_by_hand():
    """1.000 to 1.2505 (aimed 5 tenths inside 1.2500 +0.0010): 0.12525 a side, 0.2505 on a dial that
    reads the diameter. 0.008 a side is left to finish; 0.11725 in cuts of at most 0.040: three of
    0.03908, 0.07817 on the dial."""
    plan = plan_of("boring-head-inch")
    assert value(plan, "full depth") == Decimal("0.2505")
    assert opened(plan, "pass-1-set") == Decimal("0.078")
    assert opened(plan, "finishing-1-set") == Decimal("0.016")
    cuts = [step for step in plan.steps if isinstance(step, Cut)]
    assert all(cut.taken <= inches("0.080") for cut in cuts)
    assert cuts[-1].depth == inches("0.2505")


@pytest.mark.parametrize(("reads", "left"), [("diameter", "0.0942"), ("radius", "0.0471")])
def test_one_counts_all_on_the_diameter_or_all_on_the_radius(reads, left):
    """After the second pass the bore is 1.1563 of 1.2505: 0.0942, as a dial that reads the diameter
    counts it, or 0.0471 a side. Opened to it is said on the same."""
    text = changed("boring-head-inch", ('reads = "diameter"', f'reads = "{reads}"'))
    plan = plan_of("boring-head-inch", text)
    cut = plan.step("pass-2-cut")
    assert magnitude(cut.left, "inch") == pytest.approx(Decimal(left), abs=Decimal("0.00005"))
    told = [step.left_on for step in plan.steps if isinstance(step, Cut)]
    assert set(told) == {f"on the {reads}"}
    assert value(plan, "full depth") == Decimal("0.2505") * (
        1 if reads == "diameter" else Decimal("0.5")
    )
    taken = magnitude(cut.taken, "inch")
    assert abs(opened(plan, "pass-2-set") - taken) <= Decimal("0.0005")


def test_the_finishing_cut_comes_from_the_measured_bore():
    """1.2320 and not 1.2345: 1.2505 - 1.2320 = 0.0185 on a dial that reads the diameter, 0.00925
    on one that reads the radius: nine and a half."""
    sizes = {"size_1": inches("1.0782"), "size_2": inches("1.2320")}
    assert opened(plan_of("boring-head-inch", **sizes), "finishing-1-set") == Decimal("0.0185")
    text = changed("boring-head-inch", ('reads = "diameter"', 'reads = "radius"'))
    plan = plan_of("boring-head-inch", text, **sizes)
    assert opened(plan, "finishing-1-set") in (Decimal("0.009"), Decimal("0.0095"))


def test_in_at_once_and_too_big():
    assert not any(s.id.startswith("finishing") for s in
                   plan_of("boring-head-inch", size_1=inches("1.2506")).steps)  # fmt: skip
    assert "Too big" in plan_of("boring-head-inch", size_1=inches("1.2520")).step("too-far").say[0]


def test_in_after_the_first_pass_nothing_more_comes_off():
    """The scan told the finished size at the measurement after the first of four passes, and was
    sent on: it is held by the limits like every other."""
    job = Job("boring-head-inch")
    job.to_step("measure-size-1")
    assert "more than a pass" in answer(job.try_saying("measured 1.2505 in"))
    assert "That's in" in job.say("yes")
    left = job.state.plan.steps[job.state.plan.index(job.state.step_id) :]
    assert not any(isinstance(step, Cut) for step in left)


def test_still_under_is_cut_again():
    plan = plan_of("boring-head-inch", size_1=inches("1.2345"), size_2=inches("1.2490"))
    assert opened(plan, "finishing-2-set") == Decimal("0.0015")


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('hole = "1.000 in"', 'hole = "1.3 in"', "hole"),
        ('reach = "1-1/4 in"', 'reach = "1/2 in"', "reach"),
        ('reads = "diameter"', 'reads = "area"', "reads"),
        ('graduation = "0.001 in"', "", "graduation"),
    ],
)
def test_a_wrong_job_file_names_file_key_and_value(old, new, field):
    with pytest.raises(BadFile) as caught:
        read_job(changed("boring-head-inch", (old, new)), "a.toml")
    assert field in str(caught.value)


def test_a_machine_without_a_quill_is_refused():
    for job in ("keyseat-inch", "broach-inch"):
        with pytest.raises(ImpossibleInput):
            plan_for(text_of("boring-head-inch"), "a.toml", machine_of(job), {})


def test_walked_from_start_to_end():
    job = Job("boring-head-inch")
    walk_to_end(job)


def test_its_verdict_is_that_of_a_bore():
    job = Job("boring-head-inch")
    job.to_step("measure-size-2")
    assert "under the limit" in job.say("one point two three two")


def test_the_bar_is_let_come_back_before_it_is_measured():
    """Bored in numbers with a bar that springs by a twentieth, the hole came out two thou too big:
    what the last rough cut sprang was measured as still to come off, and came off besides."""
    steps = [step.id for step in plan_of("boring-head-inch").steps]
    for measured, cut in (("measure-size-2", "pass-3"), ("measure-size-3", "finishing-1")):
        place = steps.index(measured)
        assert steps[place - 4 : place] == [
            f"{cut}-cut", f"{cut}-spring-out", f"{cut}-spring-cut", f"{cut}-out",
        ]  # fmt: skip


def test_passes_after_a_light_first_one_are_divided_anew():
    """1.0700 after the first cut and not 1.0782, since the hole lay to one side: 1.1563 for the
    second would take 0.0432 a side. From 1.0700 to 1.2345 are 0.08225 a side: three of 0.0274."""
    plan = plan_of("boring-head-inch", size_1=inches("1.0700"))
    cuts = [step for step in plan.steps if isinstance(step, Cut)]
    assert all(cut.taken <= inches("0.080") for cut in cuts)
    assert opened(plan, "pass-2-set") == Decimal("0.0545")
    assert [s.id for s in plan.steps if s.id.endswith("-set")][:4] == [
        "pass-1-set", "pass-2-set", "pass-3-set", "pass-4-set",
    ]  # fmt: skip


def test_the_last_setting_is_not_on_the_limit():
    """1.2340 to 1.2505 is 0.00825 on a dial that reads the radius: eight and a half are nearest,
    and leave 1.2510, on the limit before the hand is a hair off the mark. Eight leave 1.2500."""
    text = changed("boring-head-inch", ('reads = "diameter"', 'reads = "radius"'))
    plan = plan_of("boring-head-inch", text, size_1=inches("1.2340"))
    assert opened(plan, "finishing-1-set") == Decimal("0.008")
