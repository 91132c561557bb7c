"""A tapped hole: the drill on a named basis, its depth, the turns of the tap, the cautions."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.errors import BadFile, ImpossibleInput
from assistant.jobs.planning import plan_for, read_job
from assistant.jobs.steps import Check, Cut
from assistant.machine import load_machine
from assistant.units import inches, magnitude
from tests.factories import Job
from tests.jobs.walking import MACHINES, changed, plan_of, text_of, value, walk_to_end

BLIND, THROUGH = "tap-blind", "tap-through"


def test_five_sixteenths_eighteen_gets_letter_f():
    """0.3125 - 1.299 x 0.75 / 18 = 0.2584 (percent of 3/4 H a side); letter F is 0.257, which
    leaves 77 percent. Usual charts: letter F."""
    plan = plan_of(BLIND)
    assert value(plan, "tap drill") == Decimal("0.257")
    exact = {t.name: t.value for t in plan.result("tap drill").terms}["exact hole"]
    assert abs(magnitude(exact, "inch") - Decimal("0.2584")) < Decimal("0.0001")
    assert round(plan.result("percent of thread").value.magnitude) == 77


def test_the_basis_is_always_said():
    assert "77 percent of thread, on the three quarters H basis." in (
        plan_of(BLIND).step("tap-drill").after
    )
    other = plan_of(BLIND, changed(BLIND, ('basis = "classic"', 'basis = "B1.1"')))
    assert "five eighths H" in other.step("tap-drill").after[0]
    # the same percentage of a smaller thread: a larger hole, 0.3125 - 1.0825 x 0.75 / 18 = 0.2674
    assert value(other, "tap drill") > Decimal("0.2656")


def test_a_metric_thread_takes_the_drill_of_iso_2306():
    """M10: 8.5 mm (ISO 2306)."""
    assert value(plan_of(THROUGH), "tap drill", "mm") == Decimal("8.5")


def test_a_blind_hole_is_deeper_than_its_thread():
    """Full thread 0.625, 4 threads of chamfer and one pitch: 0.625 + 5 / 18 = 0.9028; with the
    point 0.257 / 2 / tan 59 = 0.0772 it is 0.9800."""
    assert abs(value(plan_of(BLIND), "drill depth") - Decimal("0.9800")) < Decimal("0.0001")


def test_turns_of_the_tap():
    """0.625 x 18 = 11.25, and 4 of the chamfer: 15.25. Through 12 mm at 1.5: 8, and 8: 16."""
    turns = plan_of(BLIND).result("turns of the tap")
    assert turns.value.magnitude == Decimal("15.25")
    assert plan_of(THROUGH).result("turns of the tap").value.magnitude == 16
    bottoming = plan_of(BLIND, changed(BLIND, ('tap = "plug"', 'tap = "bottoming"')))
    assert bottoming.result("turns of the tap").value.magnitude == Decimal("13.25")


@given(depth=st.decimals(Decimal("0.2"), Decimal("1.5"), places=3))
def test_turns_never_fall_short_of_a_full_thread(depth):
    text = changed(BLIND, ('depth = "5/8 in"', f'depth = "{depth} in"'))
    turns = plan_of(BLIND, text).result("turns of the tap").value.magnitude
    assert 0 <= turns - (depth * 18 + 4) < Decimal("0.25")


def test_the_tap_is_turned_by_hand_with_the_spindle_off():
    plan = plan_of(BLIND)
    ids = [step.id for step in plan.steps]
    assert ids.index("check-tap") < ids.index("tap")
    check = plan.step("check-tap")
    assert isinstance(check, Check)
    assert "isolated" in check.say[0]
    assert "never force it" in check.cautions[0]
    tap = plan.step("tap")
    assert isinstance(tap, Cut)
    assert any("before the bottom" in text for text in tap.say)
    assert not any("bottom" in text for text in plan_of(THROUGH).step("tap").say)


def test_the_instruction_gives_the_turns():
    job = Job(BLIND)
    job.to_step("tap")
    assert "Fifteen and a quarter turns of the tap" in job.say("what now")
    assert job.glance.number == "15.25"
    assert "turns of the tap" in job.say("how far do i tap").lower()
    assert job.say("which drill") == "Letter F drill, 77 percent of thread."


def test_a_hole_drilled_short_is_made_deeper_before_it_is_tapped():
    plan = plan_of(BLIND, depth_1=inches("0.880"))
    ids = [step.id for step in plan.steps]
    assert ids.index("deeper-1") < ids.index("tap")


def test_another_drill_tells_its_percentage():
    """#F is in use; a 17/64 leaves (0.3125 - 0.2656) / (1.299 / 18) = 65 percent."""
    text = changed(BLIND, ("percent = 75", 'drill = "17/64 in"'))
    assert round(plan_of(BLIND, text).result("percent of thread").value.magnitude) == 65


@pytest.mark.parametrize("name", [BLIND, THROUGH])
def test_the_demo_is_walked_to_its_end(name):
    job = Job(name)
    walk_to_end(job)
    assert job.assistant.steps_done[0] == job.assistant.steps_done[1]


@pytest.mark.parametrize(
    ("old", "new", "wrong"),
    [
        ("percent = 75", 'drill = "5/16 in"', "as large as the thread"),
        ("percent = 75", 'drill = "3/16 in"', "jam"),
        ("percent = 75", "percent = 120", "percent"),
        ('thread = "5/16-18"', 'thread = "five sixteenths"', "wanted a thread"),
        ('thread = "5/16-18"', 'thread = "5/16-2"', "coarse"),
        ('basis = "classic"', 'basis = "usual"', "basis"),
        ('tap = "plug"', 'tap = "spiral"', "tap"),
        ('depth = "5/8 in"', "", "missing"),
        ('depth = "5/8 in"', 'depth = "-1 in"', "depth"),
    ],
)
def test_what_cannot_be_is_refused_by_file_and_key(old, new, wrong):
    with pytest.raises(BadFile, match=wrong) as caught:
        read_job(changed(BLIND, (old, new)), "a.toml")
    assert str(caught.value).count("a.toml") == 1


def test_a_lathe_is_refused():
    with pytest.raises(ImpossibleInput, match="drill press"):
        plan_for(text_of(BLIND), "a.toml", load_machine(MACHINES / "brook-lathe.toml"), {})
