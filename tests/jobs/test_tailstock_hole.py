"""From the tailstock: depths from the touch, a quill with an end, what trouble asks for."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest

from assistant.errors import BadFile, ImpossibleInput
from assistant.jobs.drilling.hole_steps import in_reach
from assistant.jobs.plan import Plan
from assistant.jobs.planning import plan_for, read_job
from assistant.jobs.steps import Cut, Measure, Move, Note, Touch
from assistant.machine import load_machine, parse_machine
from assistant.textfile import read_file
from assistant.units import inches, magnitude
from tests.factories import Job
from tests.jobs.walking import MACHINES, changed, plan_of, text_of, value, walk_to_end

HOLE, TAP, CENTRE = "tailstock-hole", "tailstock-tap", "tailstock-layshaft"
KNOB = "tailstock-knob"
DEMOS = (HOLE, TAP, CENTRE, KNOB)
IMPOSSIBLE = [
    (HOLE, 'depth = "1-1/2 in"', 'depth = "4 in"', "quill feeds 3.80 in from a touch"),
    (HOLE, 'diameter = "1-3/4 in"', 'diameter = "1/2 in"', "no metal would be left"),
]
"""Demo, what stands there, what is put there, what is said."""
SINK = '[hole.countersink]\ndiameter = "5/8 in"\nangle = 82\n'
THROUGH = changed(
    HOLE, ('depth = "1-1/2 in"', 'through = "6 in"'), ('ream = "0.5000 in"', 'drill = "1/2 in"'),
    ('pilot = "3/16 in"\n', ""), (SINK, ""),
)  # fmt: skip
"""Six inches, on a quill of four."""


def ids(plan: Plan) -> list[str]:
    return [step.id for step in plan.steps]


def cuts(plan: Plan, tool: str) -> list[Cut]:
    found = (step for step in plan.steps if isinstance(step, Cut))
    return [step for step in found if step.id == tool or step.id.startswith(f"{tool}-")]


def test_depth_from_the_touch_has_the_point():
    """A half inch reamer gets 31/64 (0.4844), which leaves a machine reamer 1/64 (common practice).
    The point of 118 degrees: 0.4844 / 2 / tan 59 = 0.1455; 1.5 + 0.1455 = 1.6455. Usual tables give
    0.3 of the diameter, 0.1453 (from memory)."""
    plan = plan_of(HOLE)
    assert "31/64" in plan.step("set-speed").say[0]
    assert abs(value(plan, "drill depth") - Decimal("1.6455")) < Decimal("0.0001")
    assert value(plan, "ream depth") == Decimal("1.5")


def test_the_countersink_is_counted_from_the_edge_of_the_reamed_hole():
    """5/8 over 1/2 at 82 degrees: 0.0625 / tan 41 = 0.0719."""
    assert abs(value(plan_of(HOLE), "sink depth") - Decimal("0.0719")) < Decimal("0.0001")


def test_a_thread_gets_its_drill_and_its_depth():
    """M8 takes 6.8 (ISO 2306). 16 full, four threads of a plug tap's chamfer and one pitch besides:
    16 + 5 x 1.25 = 22.25; the point 6.8 / 2 / tan 59 = 2.043. 16 / 1.25 + 4 = 16.8 turns, which
    are seventeen to the quarter above."""
    plan = plan_of(TAP)
    assert value(plan, "tap drill", "mm") == Decimal("6.8")
    assert abs(value(plan, "drill depth", "mm") - Decimal("24.293")) < Decimal("0.001")
    assert plan.result("turns of the tap").value.magnitude == 17


def test_a_centre_drill_goes_in_for_its_mouth():
    """Number 4, pilot 1/8 (ASME B94.11M, from memory): 1/8 x 1.25 = 0.1563, and for a mouth of 1/4
    a cone of (1/4 - 1/8) / 2 / tan 30 = 0.1083: 0.2645."""
    plan = plan_of(CENTRE)
    assert abs(value(plan, "centre depth") - Decimal("0.2645")) < Decimal("0.0001")
    assert magnitude(plan.step("drill").feed_target, "inch") == Decimal("0.2645")


def test_a_centre_drill_by_its_pilot_in_millimetres():
    """A2.5 (ISO 866): 2.5 x 1.25 = 3.125, and (5 - 2.5) / 2 / tan 30 = 2.165: 5.290."""
    text = changed(CENTRE, ('size = "4"', 'size = "A2.5"'), ('"0.250 in"', '"5 mm"'))
    assert abs(value(plan_of(CENTRE, text), "centre depth", "mm") - Decimal("5.290")) < Decimal(
        "0.001"
    )
    assert plan_of(CENTRE, text).step("set-speed").say[0] == "Fit the A2.5 centre drill."


def test_through_and_counterbored():
    """32 thick, 6.6 across: 32 + 6.6 / 2 / tan 59 + a tenth of 6.6 = 34.643. The head of an M6 is 6
    high (ISO 4762)."""
    plan = plan_of(KNOB)
    assert abs(value(plan, "drill depth", "mm") - Decimal("34.643")) < Decimal("0.001")
    assert value(plan, "counterbore depth", "mm") == 6
    assert "breaks through" in plan.step("drill").say[0]
    assert plan.step("drill").say[1] == "Right out before the spindle stops."
    assert "spindle bore clear" in plan.step("check-under").say[0]
    assert not any(isinstance(step, Measure) for step in plan.steps)


# -- the quill's travel ---------------------------------------------------------------------------


def test_past_its_travel_it_is_set_anew_at_the_bottom_for_every_peck():
    """Four inches less two turns of a tenth: it feeds 3.8. Half inch pecks are 1.5, 2.5, 3, 3.5 and
    then half an inch each: 4.0 is out of it, and is half an inch from the bottom at 3.5. In all
    6 + 0.5 / 2 / tan 59 + a tenth of 0.5 = 6.2002; the last peck is 0.2002 on from 6.0."""
    plan = plan_of(HOLE, THROUGH)
    drilled = cuts(plan, "drill")
    told = [magnitude(cut.feed_target, "inch") for cut in drilled]
    half = Decimal("0.5")
    assert told == [Decimal("1.5"), Decimal("2.5"), 3, Decimal("3.5"), *[half] * 5, Decimal("0.2")]
    touches = [s for s in plan.steps if isinstance(s, Touch) and "bottom" in s.surface]
    assert len(touches) == 6
    assert not any(touch.stays for touch in touches)
    assert touches[0].say[0].startswith("Spindle off. Quill out of travel.")


def test_a_peck_longer_than_the_quill_is_cut_in_two():
    """A 40 mm drill goes 120 at first, where the quill feeds 102."""
    hundred = [Decimal(n) for n in (120, 200, 210)]
    assert in_reach(hundred, Decimal(102)) == [102, 120, 200, 210]
    assert in_reach(hundred, None) == hundred


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('depth = "1-1/2 in"', 'depth = "3.7 in"'),  # 3.7 + 0.1455 of the point
        ('depth = "1-1/2 in"', 'through = "3.7 in"'),  # and an eighth of the reamer's chamfer
    ],
)
def test_what_has_to_be_counted_and_is_too_deep_is_refused(old: str, new: str):
    with pytest.raises(ImpossibleInput, match=r"quill feeds 3\.80 in from a touch"):
        plan_of(HOLE, changed(HOLE, (old, new)))


def test_without_its_travel_in_the_file_nothing_is_refused():
    """`wheelcall plan` says then that it isn't checked."""
    profile = read_file(MACHINES / "rill-lathe.toml")
    free = profile.replace('travel = "4 in"', "")
    assert free != profile
    text = changed(HOLE, ('depth = "1-1/2 in"', 'depth = "5 in"'))
    plan = plan_for(text, "a.toml", parse_machine(free, "b.toml"), {})
    assert not any("peck" in step.id for step in plan.steps if isinstance(step, Touch))


# -- the row --------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", DEMOS)
def test_every_tool_is_clamped_before_it_is_touched_and_fed(name: str):
    plan = plan_of(name)
    assert ids(plan).index("check-face") < ids(plan).index("tailstock-wheel")
    loose = True
    for step in plan.steps:
        if isinstance(step, Note) and step.say[0].startswith(("Fit the", "Spindle off. Fit the")):
            loose = True
        elif "Clamp it." in " ".join(step.say):
            loose = False
        elif isinstance(step, Cut) and step.kind != "tapping":
            assert not loose, step.id


def test_measured_with_the_tailstock_away_and_touched_again():
    """1.480 where 1.500 is wanted: twenty short. It stood at 1.6455; on to 1.6655, counted from a
    touch of its own, with a feeler of its own."""
    plan = plan_of(HOLE, depth_1=inches("1.480"), paper_drill_1=inches("0.012"))
    assert "slide it well back" in " ".join(plan.step("measure-depth-1").say)
    at = ids(plan).index("measure-depth-1")
    assert ids(plan)[at + 1 : at + 4] == ["touch-drill-1", "paper-drill-1", "deeper-1"]
    again = plan.step("paper-drill-1")
    assert isinstance(again, Move)
    assert magnitude(again.target, "inch") == Decimal("0.012")
    assert magnitude(plan.step("deeper-1").feed_target, "inch") == Decimal("1.6655")


def test_the_cautions_of_the_trade():
    said = " ".join(walk_to_end(Job(HOLE)))
    for words in (
        "Chuck key out", "loose sleeves", "no finger, no rag, no brush", "A tool may grab",
        "Face it first", "Taper and sleeve clean", "Right out before the spindle stops.",
        "Never turn it backwards.", "Lock the quill when it isn't fed.", "the slack comes first",
        "Spindle off. Deburr the hole.",
    ):  # fmt: skip
        assert words in said, words
    tapped = " ".join(walk_to_end(Job(TAP)))
    assert "Never leave the chuck key in" in tapped
    assert "Unclamp the tailstock: it has to follow the tap." in tapped


def test_work_that_stands_out_far_is_asked_about():
    """2.5 of 1.75 is short; 6 is more than three diameters (common practice)."""
    assert not plan_of(HOLE).has("check-slender")
    far = changed(HOLE, ("2-1/2 in", "6 in"))
    assert plan_of(HOLE, far).has("check-slender")
    held = changed(HOLE, ('"2-1/2 in"', '"6 in"\nsteady = true'))
    assert not plan_of(HOLE, held).has("check-slender")


def test_depth_by_the_scale_along_the_quill():
    text = changed(HOLE, ("[hole.countersink]", 'depth_by = "scale"\n[hole.countersink]'))
    plan = plan_of(HOLE, text, depth_1=inches("1.480"))
    assert isinstance(plan.step("drill-scale"), Note)
    assert plan.has("drill-scale-1")
    assert all(cut.feed_target is None for cut in cuts(plan, "drill"))


@pytest.mark.parametrize("name", DEMOS)
def test_the_demo_is_walked_to_its_end(name: str):
    job = Job(name)
    walk_to_end(job)
    assert job.assistant.steps_done[0] == job.assistant.steps_done[1]


def test_the_long_hole_and_the_short_one_are_walked_to_their_ends(tmp_path):
    for number, text in enumerate((
        THROUGH, changed(HOLE, ('pilot = "3/16 in"', 'depth_by = "scale"')),
    )):  # fmt: skip
        path = tmp_path / f"{number}.toml"
        path.write_text(text, encoding="utf-8")
        walk_to_end(Job(str(number), path))


# -- off the plain way ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "first"), [("something moved", "check-work"), ("new cutter", "touch-drill")]
)
def test_a_word_of_trouble_in_the_hole_has_it_clamped_and_touched_again(words: str, first: str):
    job = Job(HOLE)
    job.to_step("drill")
    job.say(words)
    assert job.state.step_id == first
    if first == "check-work":
        job.say("checked")
    assert "Clamp it." in job.say("what now")
    job.say("touched")
    job.say("bare")
    assert job.state.step_id == "drill"


def test_a_dial_that_slipped_is_touched_again_over_the_hole():
    job = Job(HOLE)
    job.to_step("pilot-peck-3")
    job.say("dial slipped")
    assert job.state.step_id == "touch-pilot"
    assert "feeler" in job.say("what now")


def test_went_past_in_the_hole_is_as_deep_as_that_and_measured():
    """There is no coming back to a depth that was gone past: least of all by half a turn deeper."""
    job = Job(HOLE)
    job.to_step("drill")
    assert "Past it in the hole: stop the feed." in job.say("i went past")
    said = job.say("tailstock dial reads 16 turns and 60")
    assert job.state.step_id == "measure-depth-1"
    assert "half a turn" not in said
    assert not job.state.axes["tailstock"].position.magnitude, "it is out again"


def test_a_peck_gone_past_is_followed_by_the_next():
    job = Job(HOLE)
    job.to_step("drill-peck-1")
    job.say("i went past")
    said = job.say("tailstock dial reads 14 turns and 60")
    assert "Tailstock in, sixteen turns and forty-five and a half." in said


def test_a_reamer_that_sticks_is_never_turned_back():
    job = Job(HOLE)
    job.to_step("ream")
    assert "Never back." in job.say("it's stuck")


def test_the_next_part_is_clamped_and_touched_anew():
    job = Job(TAP)
    walk_to_end(job)
    job.say("same again")
    left = [step.id for step in job.state.plan.steps]
    assert "check-person" not in left
    assert {"check-work", "check-face", "clamp-spot", "touch-drill"} <= set(left)


def test_questions_on_the_way():
    job = Job(TAP)
    job.to_step("drill")
    assert job.say("which drill") == "6.8 millimetre drill, 74 percent of thread."
    assert "turns of the tap" in job.say("how far do i tap").lower()
    assert job.say("what speed").startswith("Speed,")


@pytest.mark.parametrize(
    ("job", "old", "new", "wrong"),
    [
        (HOLE, 'diameter = "1-3/4 in"', 'diameter = "5/8 in"', "no metal would be left"),
        (HOLE, 'how = "three-jaw"', 'how = "three-jaw"\ntailstock = true', "carries the tool"),
        (HOLE, 'how = "three-jaw"', 'how = "between centres"', "carries the tool"),
        (HOLE, "[holding]", '[centre]\nsize = "4"\nmouth = "1/4 in"\n[holding]', "as well as"),
        (CENTRE, '[centre]\nsize = "4"\nmouth = "0.250 in"\n', "", r"one of \[hole\]"),
        (CENTRE, 'size = "4"', 'size = "9"', "0 or 1 to 8"),
        (CENTRE, 'size = "4"', 'size = "A2.6"', "2.5"),
        (CENTRE, 'size = "4"', 'size = "Ax"', "A2.5 and such"),
        (CENTRE, 'mouth = "0.250 in"', 'mouth = "0.350 in"', "mouth"),
        (HOLE, 'pilot = "3/16 in"', 'depth_by = "stop"', "scale"),
        (TAP, 'thread = "M8"', 'thread = "M8.5"', "thread"),
    ],
)
def test_what_cannot_be_is_refused_by_file_and_key(job: str, old: str, new: str, wrong: str):
    with pytest.raises(BadFile, match=wrong) as caught:
        read_job(changed(job, (old, new)), "a.toml")
    assert len(re.findall("a.toml", str(caught.value))) == 1


def test_the_wrong_machine_is_refused():
    with pytest.raises(ImpossibleInput, match="lathe"):
        plan_for(text_of(HOLE), "a.toml", load_machine(MACHINES / "tarn-drill.toml"), {})
    profile = read_file(MACHINES / "rill-lathe.toml")
    bare = parse_machine(profile[: profile.index("[axes.tailstock]")], "bare.toml")
    with pytest.raises(ImpossibleInput, match=r"\[axes.tailstock\]"):
        plan_for(text_of(HOLE), "a.toml", bare, {})
