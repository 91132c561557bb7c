"""Dividing head and rotary table: turns, holes, arms, and what simple indexing can't do."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calc.indexing import possible
from assistant.errors import BadFile, BadInput, ImpossibleInput
from assistant.jobs.milling.dividing import Dividing
from assistant.jobs.planning import plan_for, read_job
from assistant.jobs.steps import Cut, Index
from assistant.machine import load_machine, parse_machine
from assistant.present.glance import Moment
from assistant.units import quantity
from tests.factories import Job
from tests.jobs.walking import MACHINES, changed, machine_of, plan_of, text_of, walk_to_end

HEAD, TABLE = "divide-ratchet", "divide-table"
LEAT = load_machine(MACHINES / "leat-vertical.toml")
MERE = load_machine(MACHINES / "mere-vertical.toml")


def test_seven_on_forty_to_one():
    """40 / 7 = 5 5/7 turns: 5 turns and 35 holes on a circle of 49 (US Army OD1644: ratio /
    divisions). The arms hold 36 holes, since the one that the pin is in is not counted."""
    step = plan_of(HEAD).step("index-2")
    assert isinstance(step, Index)
    assert (step.turns, step.holes, step.circle) == (5, 35, 49)
    arms = plan_of(HEAD).step("divide-arms")
    assert "35 spaces, 36 holes" in arms.say[0]


@given(divisions=st.integers(2, 240))
def test_what_is_moved_is_the_division_exactly_or_it_is_refused(divisions):
    """By fractions: turns + holes / circle, once round in `divisions` moves, is 40 turns."""
    dividing = Dividing(LEAT, divisions)
    circles = [hole for plate in LEAT.plates for hole in plate]
    if not possible(40, divisions, circles):
        with pytest.raises(ImpossibleInput, match="simple indexing can't do it"):
            dividing.index(2, divisions)
        return
    step = dividing.index(2, divisions)
    part = Fraction(step.holes, step.circle) if step.circle else Fraction(0)
    assert (step.turns + part) * divisions == 40
    if step.circle:
        assert step.circle in circles


@given(divisions=st.integers(2, 240), ratio=st.sampled_from([40, 60, 72, 90]))
def test_a_rotary_table_counts_each_division_from_zero(divisions, ratio):
    """Within half of what the dial shows, and never added up: the last is as good as the first."""
    text = (MACHINES / "mere-vertical.toml").read_text(encoding="utf-8")
    machine = parse_machine(text.replace("dividing_ratio = 90", f"dividing_ratio = {ratio}"),
                            f"{ratio}.toml")  # fmt: skip
    dividing = Dividing(machine, divisions)
    turns = 0
    for number in range(2, divisions + 1):
        turns += dividing.index(number, divisions).turns
        setting = dividing.setting(number)
        assert setting.turns == turns
        at = setting.turns * Fraction(360, ratio) + Fraction(setting.dial_degrees)
        off = abs(at - Fraction(360 * (number - 1), divisions)) * 3600
        assert off <= Fraction(5) + Fraction(1, 10**6)
    turns += dividing.index(divisions + 1, divisions).turns
    assert turns == ratio


def test_the_table_s_words():
    """360 / 11 = 32.7272 degrees = 8 turns of 4 and 0 degrees 43 minutes 38 seconds, on a
    vernier of 10 seconds: 40."""
    step = plan_of(TABLE).step("index-2")
    assert "past zero 8 times" in step.say[1]
    assert "43 minutes, 40 seconds" in step.say[2]
    assert (step.figure.what, step.figure.value.magnitude) == ("table past", 32)


def test_a_zero_that_is_stopped_at_is_not_passed():
    """The last mark at 327 degrees 16 minutes 20 seconds is 81 turns of 4 degrees, and some. From
    there the dial comes to zero nine times up to 360 degrees: eight are passed, the ninth is the
    stop. Told "past zero 9 times, to zero", one turns to the tenth. Of four, each is 90 degrees,
    22 turns and a half: past zero 22 times, to 2 degrees; then to zero, past it 22 times too."""
    assert "past zero 8 times" in plan_of(TABLE).step("index-round").say[1]
    plan = plan_of(TABLE, changed(TABLE, ("divisions = 11", "divisions = 4")))
    half, whole = plan.step("index-2"), plan.step("index-3")
    assert "past zero 22 times" in half.say[1]
    assert half.say[2] == "To 2 degrees on its dial."
    assert "past zero 22 times" in whole.say[1]
    assert whole.say[2] == "To zero on its dial."
    one = plan_of(TABLE, changed(TABLE, ("divisions = 11", "divisions = 90")))
    assert one.step("index-2").say[1:] == ("Unlock the table. Wheel on.", "To zero on its dial.")


def test_whole_turns_need_no_plate():
    """40 / 8 = 5 turns."""
    plan = plan_of(HEAD, changed(HEAD, ("divisions = 7", "divisions = 8")))
    step = plan.step("index-2")
    assert (step.turns, step.holes, step.circle) == (5, 0, 0)
    assert not any(one.id in ("divide-plate", "divide-arms") for one in plan.steps)


def test_an_angle_instead_of_a_whole_circle():
    """9 degrees a turn: 15 degrees = 1 2/3 turns."""
    text = changed(HEAD, ("divisions = 7", "angle = 15\ncount = 4"))
    plan = plan_of(HEAD, text)
    step = plan.step("index-2")
    assert step.turns + Fraction(step.holes, step.circle) == Fraction(5, 3)
    assert sum(isinstance(one, Index) for one in plan.steps) == 3
    assert not any(one.id == "check-round" for one in plan.steps)


def test_what_simple_indexing_cannot_do_is_said_with_its_error():
    text = changed(HEAD, ("divisions = 7", "divisions = 51"))
    with pytest.raises(ImpossibleInput, match="seconds of arc out each time"):
        plan_of(HEAD, text)


def test_division_by_division_counted_aloud():
    job = Job(HEAD)
    job.to_step("index-2")
    said = job.say("what now")
    assert said == (
        "Division 2 of 7. Unlock the head. Five turns and thirty-five holes on the forty-nine "
        "circle. Drop the pin, move the arms on. Lock it."
    )
    assert job.say("how many turns") == said
    assert job.glance.moment is Moment.INDEX
    assert (job.glance.number, job.glance.unit) == ("5", "turns")
    assert job.glance.what == "crank"
    assert job.glance.dial == "5 turns + 35 holes, on the 49 circle"
    assert job.glance.stop is not None
    assert (job.glance.stop.number, job.glance.stop.unit) == ("35", "holes")  # as large as any
    assert job.say("next division").startswith("Cut number 2")
    assert job.say("next division").startswith("Division 3 of 7.")
    assert job.say("which division") == "Division 3 of 7."
    assert job.say("how many divisions left") == "4 to go after this one."


def test_why_names_ratio_and_divisions():
    job = Job(HEAD)
    job.to_step("index-3")
    assert "Ratio of the head, forty" in job.say("why")


@pytest.mark.parametrize("name", [HEAD, TABLE])
def test_the_demo_is_walked_to_its_end(name):
    job = Job(name)
    walk_to_end(job)
    assert job.assistant.steps_done[0] == job.assistant.steps_done[1]
    cuts = [step for step in job.state.plan.steps if isinstance(step, Cut)]
    assert len(cuts) == {HEAD: 7, TABLE: 11}[name]


def test_other_jobs_share_the_steps():
    """A hexagon on the head: 40 / 6 = 6 2/3 turns."""
    hexagon = Dividing(LEAT, 6)
    assert [step.id for step in hexagon.setup()] == ["divide-plate", "divide-arms", "divide-first"]
    step = hexagon.index(2, 6, "flat-2-index")
    assert step.id == "flat-2-index"
    assert step.turns + Fraction(step.holes, step.circle) == Fraction(20, 3)
    assert Dividing(MERE, 6).index(2, 6).turns == 15


def test_one_move_of_ninety_is_the_whole_story():
    step = Dividing(MERE, 0, quantity(90, "degree")).index(2, 0)
    assert step.figure.what == "table at"
    assert step.figure.value.magnitude == Decimal(90)


@pytest.mark.parametrize(
    ("old", "new", "wrong"),
    [
        ("divisions = 7", "divisions = 1", "divisions"),
        ("divisions = 7", "divisions = 7\nangle = 10", "both"),
        ("divisions = 7", "", "missing"),
        ("divisions = 7", "angle = 100\ncount = 6", "once round"),
        ('do = "cut"', 'do = "paint"', "do"),
    ],
)
def test_what_cannot_be_is_refused_by_file_and_key(old, new, wrong):
    with pytest.raises(BadFile, match=wrong):
        read_job(changed(HEAD, (old, new)), "a.toml")


def test_a_lathe_is_refused():
    with pytest.raises(BadInput, match="mill"):
        plan_for(text_of(HEAD), "a.toml", load_machine(MACHINES / "brook-lathe.toml"), {})
    assert machine_of(HEAD).dividing_ratio == 40


@pytest.mark.parametrize(
    ("old", "new", "wrong"),
    [
        ('divider = "dividing head"', 'divider = "indexer"', "divider"),
        ("dividing_ratio = 40", "dividing_ratio = 0", "dividing_ratio"),
        ("[15, 16, 17, 18, 19, 20]", "[15, 1]", "plates"),
        ("depth_stop = true", 'depth_stop = "yes"', "depth_stop"),
        ("dividing_ratio = 40", "dividing_ratio = 40\ndivider_finest = 0", "divider_finest"),
    ],
)
def test_a_profile_that_cannot_be_is_refused_by_key(old, new, wrong):
    text = (MACHINES / "leat-vertical.toml").read_text(encoding="utf-8")
    assert old in text
    with pytest.raises(BadFile, match=wrong):
        parse_machine(text.replace(old, new), "leat.toml")
