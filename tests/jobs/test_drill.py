"""One hole to depth: the point, pecks, pilot, reamer, counterbore, countersink; the depth told."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.errors import BadFile, BadInput, ImpossibleInput
from assistant.jobs.drilling.hole_tools import HoleTool, speed_of
from assistant.jobs.planning import plan_for, read_job
from assistant.jobs.steps import Cut, Measure, Move, Note
from assistant.machine import load_machine
from assistant.units import inches, magnitude, mm
from tests.factories import Job
from tests.jobs.walking import (
    MACHINES,
    changed,
    machine_of,
    plan_of,
    text_of,
    value,
    walk_to_end,
)

PRESS, BORE = "drill-press", "drill-counterbore"


def cuts(plan, kind: str = "drilling") -> list[Cut]:
    return [step for step in plan.steps if isinstance(step, Cut) and step.kind == kind]


def test_the_reamer_gets_its_drill():
    """7/16 = 0.4375; a machine reamer is left 0.010 to 0.015 or so: 27/64 = 0.4219 leaves 0.0156,
    the drill at or below. Checked by the allowance table of `calc`, whose sources it names."""
    plan = plan_of(PRESS)
    assert any("27/64" in step.say[0] for step in plan.steps if step.id == "set-speed")
    assert cuts(plan, "reaming")


def test_depth_from_the_touch_has_the_point():
    """27/64 at 118 degrees: 0.421875 / 2 / tan 59 = 0.1267; 1.75 + 0.1267 = 1.8767."""
    assert abs(value(plan_of(PRESS), "drill depth") - Decimal("1.8767")) < Decimal("0.0001")


def test_pecks_end_at_the_depth_and_are_on_the_dial():
    """Three diameters, then two, then one at a time; the quill's dial shows 0.005 and halves."""
    plan = plan_of(PRESS)
    pilot = [step for step in cuts(plan) if step.id.startswith("pilot")]
    ends = [magnitude(step.depth, "inch") for step in pilot]
    assert ends[:3] == [Decimal("0.375"), Decimal("0.625"), Decimal("0.75")]
    assert ends == sorted(ends)
    assert abs(ends[-1] - value(plan, "pilot depth")) < Decimal("1e-9")
    assert all(magnitude(step.feed_target, "inch") % Decimal("0.0025") == 0 for step in pilot)
    assert "Peck 1 of 12" in pilot[0].say[0]


def test_the_countersink_is_counted_from_the_edge_of_the_hole():
    """1/2 in over a hole reamed to 7/16 at 82 degrees: (0.5 - 0.4375) / 2 / tan 41 = 0.0359. From
    the drill's 27/64, which is gone by then, it came to 0.0449 and a mouth of 0.516."""
    plan = plan_of(PRESS)
    assert abs(value(plan, "sink depth") - Decimal("0.0359")) < Decimal("0.0001")
    assert plan.step("touch-sink").surface == "the edge of the hole"


def test_a_countersink_over_a_counterbore_starts_at_its_edge():
    """16 mm over the 15 mm that takes the head of an M8 screw, at 90 degrees: 0.5 deep."""
    text = changed(BORE, ('screw = "M8"', 'screw = "M8"\n[hole.countersink]\ndiameter = "16 mm"'))
    plan = plan_of(BORE, text)
    across = dict(plan.drawing)["counterbore_across"]
    assert magnitude(across, "mm") == 15
    assert value(plan, "sink depth", "mm") == Decimal("0.5")


def test_a_reamer_goes_through_with_its_chamfer():
    """1-3/4 thick: a quarter of 7/16, 0.1094, beyond it. It stopped at the thickness, with the
    chamfer still in the hole; a blind one goes to its depth."""
    through = changed(PRESS, ('depth = "1-3/4 in"', 'through = "1-3/4 in"'))
    assert value(plan_of(PRESS, through), "ream depth") == Decimal("1.859375")
    assert value(plan_of(PRESS), "ream depth") == Decimal("1.75")


def test_the_counterbore_is_as_deep_as_the_head():
    """M8 socket head cap screw: its head is 8 mm high (ISO 4762)."""
    plan = plan_of(BORE)
    assert value(plan, "counterbore depth", "mm") == 8
    # through 22 mm: 22 + 9/2/tan 59 + 0.9 = 25.60
    assert abs(value(plan, "drill depth", "mm") - Decimal("25.604")) < Decimal("0.001")
    last = cuts(plan)[-1]
    assert "breaks through" in last.say[0]


def test_a_short_hole_is_deepened_from_what_was_measured():
    """1.750 wanted; at 1.730 it is 0.020 short. It stood at 1.8775 on the dial: on to 1.8975."""
    plan = plan_of(PRESS, depth_1=inches("1.730"))
    again = plan.step("deeper-1")
    assert magnitude(again.feed_target, "inch") == Decimal("1.8975")
    assert "measure-depth-2" in [step.id for step in plan.steps]
    # in at once: nothing more is cut
    assert "deeper-1" not in [step.id for step in plan_of(PRESS, depth_1=inches("1.760")).steps]


@given(short=st.decimals(Decimal("0.001"), Decimal("0.090"), places=3))
def test_what_is_short_is_made_up_and_never_too_little(short):
    plan = plan_of(PRESS, depth_1=inches(Decimal("1.750") - short))
    went_on = magnitude(plan.step("deeper-1").feed_target, "inch") - Decimal("1.8775")
    assert short <= went_on <= short + Decimal("0.0025")


def test_short_then_in_typed():
    job = Job(PRESS)
    job.to_step("measure-depth-1")
    said = job.say("measured one point seven three oh")
    assert "twenty under the limit" in said
    assert job.state.step_id == "deeper-1"
    assert "On with the same drill." in said
    job.say("that's through")
    assert "inside" in job.say("measured one point seven five five")
    assert job.state.step_id == "ream-speed"


def test_too_deep_is_said():
    job = Job(PRESS)
    job.to_step("measure-depth-1")
    assert "too deep" in job.say("measured one point eight three oh")
    assert job.state.step_id == "too-deep"


def test_a_feeler_told_changes_the_way_on_to_the_face():
    plan = plan_of(PRESS, paper_drill=inches("0.020"))
    move = plan.step("paper-drill")
    assert isinstance(move, Move)
    assert magnitude(move.target, "inch") == Decimal("0.02")
    bare = plan_of(PRESS, paper_drill=inches(0))
    assert "paper-drill" not in [step.id for step in bare.steps]


def test_a_large_drill_wants_a_pilot():
    """0.2 to 0.3 of the drill (common practice, no source): 20 mm wants 6 at the most."""
    text = changed(BORE, ('drill = "9 mm"', 'drill = "20 mm"'), ('screw = "M8"',
                   'diameter = "32 mm"\ndepth = "8 mm"'))  # fmt: skip
    note = plan_of(BORE, text).step("pilot")
    assert isinstance(note, Note)
    assert magnitude(note.figure.value, "mm") == 6


def test_depth_by_the_stop():
    text = changed(PRESS, ('ream = "0.4375 in"', 'ream = "0.4375 in"\ndepth_by = "stop"'))
    plan = plan_of(PRESS, text)
    assert isinstance(plan.step("drill-stop"), Note)
    assert all(step.feed_target is None for step in cuts(plan))
    job_plan = plan_of(PRESS, text, depth_1=inches("1.73"))
    assert "stop" in job_plan.step("deeper-1").say[1]


@pytest.mark.parametrize("name", [PRESS, BORE])
def test_the_demo_is_walked_to_its_end(name):
    job = Job(name)
    said = walk_to_end(job)
    assert job.assistant.steps_done[0] == job.assistant.steps_done[1]
    assert "Chips out by brush." in said


@pytest.mark.parametrize(
    ("at", "reads", "then"),
    [
        ("drill-peck-1", "two turns and 275", "drill"),
        ("drill", "three turns and 387.5", "measure-depth-1"),
        ("ream", "three turns and 260", "sink-speed"),
    ],
)
def test_a_hole_gone_past_is_as_deep_as_that(at, reads, then):
    """It was sent half a turn deeper, to come back up to its depth."""
    job = Job(PRESS)
    job.to_step(at)
    job.say("i went past")
    assert "half a turn" not in job.say(f"quill dial reads {reads}")
    assert job.state.step_id == then


def test_questions_on_the_way():
    job = Job(PRESS)
    job.to_step("drill")
    assert job.say("what speed").startswith("Speed,")
    assert "turn of the spindle" in job.say("what feed")
    assert "Drill point" in job.say("why") or job.state.figure is not None
    assert job.say("how deep").endswith("deep, after this cut.")


@pytest.mark.parametrize(
    ("job", "old", "new", "wrong"),
    [
        (PRESS, 'ream = "0.4375 in"', 'ream = "0.4375 in"\ndrill = "1/2 in"', "smaller"),
        (PRESS, 'pilot = "1/8 in"', 'pilot = "1/2 in"', "smaller"),
        (PRESS, 'diameter = "1/2 in"', 'diameter = "3/8 in"', "must be less"),
        (PRESS, 'depth = "1-3/4 in"', 'depth = "90 in"', "100 diameters"),
        (PRESS, 'depth = "1-3/4 in"', 'depth = "0"', "more than zero"),
        (BORE, 'screw = "M8"', 'screw = "M8.5"', "wanted one of"),
        (BORE, 'screw = "M8"', 'diameter = "8 mm"\ndepth = "4 mm"', "wider"),
        (BORE, 'drill = "9 mm"', 'drill = "9 mm"\npoint = 200', "point"),
    ],
)
def test_what_cannot_be_is_refused_by_file_and_key(job, old, new, wrong):
    with pytest.raises(BadFile, match=wrong) as caught:
        read_job(changed(job, (old, new)), "a.toml")
    assert str(caught.value).count("a.toml") == 1


def test_the_wrong_machine_is_refused():
    with pytest.raises(ImpossibleInput, match="drill press"):
        plan_for(text_of(PRESS), "a.toml", load_machine(MACHINES / "brook-lathe.toml"), {})
    with pytest.raises(BadInput, match="quill"):
        plan_for(text_of(PRESS), "a.toml", load_machine(MACHINES / "weir-vertical.toml"), {})


def test_inch_and_metric_agree():
    """The same hole in both: 25.4 mm and 1 in."""
    metric = changed(BORE, ('drill = "9 mm"', 'drill = "6.35 mm"'), ('through = "22 mm"',
                     'depth = "25.4 mm"'), ('screw = "M8"', 'diameter = "12.7 mm"\n'
                     'depth = "6.35 mm"'))  # fmt: skip
    inch = changed(PRESS, ('ream = "0.4375 in"', 'drill = "1/4 in"'),
                   ('depth = "1-3/4 in"', 'depth = "1 in"'))  # fmt: skip
    a = value(plan_of(BORE, metric), "drill depth", "mm")
    b = value(plan_of(PRESS, inch), "drill depth", "inch")
    assert abs(a - b * Decimal("25.4")) < Decimal("1e-9")
    assert machine_of(BORE).unit == "mm"
    assert isinstance(plan_of(PRESS).step("measure-depth-1"), Measure)
    assert mm(1) != inches(1)


def test_only_a_drill_breaks_through():
    """A counterbore ends on its floor: easing off "as it breaks through" would be waiting for what
    must not come. Common practice, no source."""
    plan = plan_of("drill-counterbore")
    assert "breaks through" in " ".join(plan.step("drill").say)
    assert plan.step("counterbore").say == ("Spindle on.",)


def test_speeds_begin_at_the_low_end_of_what_the_sources_say():
    """Brass with HSS: 200 ft/min in one source for drilling, 150 in another in general. On a light
    machine the lower one: 12 x 150 / (pi x 0.25) = 2292 rpm at most for a 1/4 drill."""
    tool = HoleTool("drill", "1/4 drill", inches("0.25"), "drilling", "brass")
    speed = speed_of(tool, machine_of("tap-blind"), "inch", {})
    worked_out = next(term.value for term in speed.terms if term.name == "worked out")
    assert magnitude(worked_out, "rpm") == pytest.approx(Decimal("2291.8"), abs=Decimal("0.1"))
