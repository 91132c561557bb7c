"""Ends and sides: numbers worked by hand; geometry and common practice, no source, unless said."""

from __future__ import annotations

import dataclasses
from decimal import Decimal

import pytest

from assistant.jobs.operations.sides.side import ROUND, SIDES, opposite, order
from assistant.jobs.operations.sides.strokes import LIGHT, SideStroke
from assistant.jobs.planning import plan_for
from assistant.jobs.steps import Cut, Move, Touch
from assistant.units import inches, mm
from tests.factories import Job
from tests.jobs.walking import changed, machine_of, plan_of, sheet, text_of, value, walk_to_end

ENDS, ROUND_IT = "sides-length", "sides-round"

IMPOSSIBLE = [
    # demo, what stands there, what is put there, what is said
    (ENDS, 'length = "99.5 mm"', 'length = "96.5 mm"', "a skim off either side"),
    (ENDS, 'max_pass = "1.2 mm"', 'max_pass = "9 mm"', "more than half of the cutter, 8, is a"),
    (ENDS, 'max_pass = "1.2 mm"', 'max_pass = "0.3 mm"', "more than a pass may take, 0.3"),
    (ENDS, 'first = "right"', 'first = "back"', "wanted right or left"),
    (ENDS, 'kind = "end mill"', 'kind = "face mill"', 'wanted "end mill"'),
    (ROUND_IT, 'height = "0.625 in"', "", "the jaws are in the way below it"),
    (ROUND_IT, 'height = "0.625 in"', 'height = "1.5 in"', "wanted a longer cutter"),
    (ROUND_IT, 'width = "1.500 in"', "", "stock.width is missing"),
    (ROUND_IT, 'milled = "round"', 'milled = "top"', 'wanted "ends" or'),
]

CORNERS = {"right end": (1, 0), "left end": (-1, 0), "back": (0, 1), "front": (0, -1)}
OUT = {"right": (1, 0), "left": (-1, 0), "back": (0, 1), "front": (0, -1)}


def carried(axis: str, way: int) -> tuple[int, int]:
    """The way of the work: right and back are positive."""
    return (way, 0) if axis == "table" else (0, way)


def with_climb(job: str, axis: str, climb: str):
    machine = machine_of(job)
    axes = {name: dataclasses.replace(one, climb=climb) if name == axis else one
            for name, one in machine.axes.items()}  # fmt: skip
    return dataclasses.replace(machine, axes=axes)


def cuts(plan, part=""):
    return [step for step in plan.steps if isinstance(step, Cut) and part in step.id]


# -- which way ------------------------------------------------------------------------------------


@pytest.mark.parametrize("side", ROUND, ids=lambda side: side.where)
def test_every_side_is_fed_against_the_teeth_and_climbs_with_them(side):
    """By vectors. "It was found practical to always rotate the end mill in the opposite direction
    to the feed of the workpiece. This is termed conventional milling"; in climb milling it
    "rotates in the direction of the feed" (a cutter maker's user guide, pages 117 and 118,
    somta.se). A right-hand cutter turns clockwise seen from above: at n of its middle the teeth go
    (n.y, -n.x), and the metal of the right-hand end lies at (-1, 0) of it."""
    out = OUT[side.where]
    metal = (-out[0], -out[1])
    teeth = (metal[1], -metal[0])
    for climbing in (False, True):
        work = carried(side.feed, side.way(climbing))
        assert (teeth[0] * work[0] + teeth[1] * work[1] > 0) is climbing
        # the cutter goes the other way over the work: off the corner that it then goes away from
        begins = CORNERS[side.begins(climbing)]
        assert begins == (work[0], work[1])
    # and the work is carried to the cutter, which stands outside
    assert carried(side.axis, side.sign) == out


def test_conventional_cuts_follow_each_other_round_the_outside():
    """Each begins off the corner at which the last one ended, counter-clockwise seen from above."""
    for side, after in zip(ROUND, (*ROUND[1:], ROUND[0]), strict=True):
        ends = side.begins(climbing=True)  # the other way, it begins where this one ends
        assert ends == after.called
    assert [side.where for side in order("round", SIDES["left"], False)] == [
        "left", "front", "right", "back",
    ]  # fmt: skip
    assert opposite(SIDES["back"]) is SIDES["front"]


def test_all_round_every_side_says_its_own_way():
    """Worked out above: right end saddle out, back table right, left end saddle in, front table
    left; and the cutter stands off the corner first."""
    plan = plan_of(ROUND_IT)
    said = {cut.id[:6]: cut.say[0].removeprefix("Spindle on. ") for cut in cuts(plan)}
    assert said == {
        "side-1": "Saddle out: conventional, no climbing.",
        "side-2": "Table right: conventional, no climbing.",
        "side-3": "Saddle in: conventional, no climbing.",
        "side-4": "Table left: conventional, no climbing.",
    }
    runs = [" ".join(plan.step(f"side-{n}-run").say)
            for n in ("1-skim-1", "2-skim-1", "3-roughing-1", "4-roughing-1")]  # fmt: skip
    assert [run.removeprefix("Spindle off. ") for run in runs] == [
        "Run the saddle in till the cutter's off the front.",
        "Run the table left till the cutter's off the right end.",
        "Run the saddle out till the cutter's off the back.",
        "Run the table right till the cutter's off the left end.",
    ]


def test_the_backlash_is_taken_up_toward_the_work_on_every_side():
    """Touched and deepened the same way: table right, saddle in, table left, saddle out."""
    plan = plan_of(ROUND_IT)
    ways = {"1": 1, "2": 1, "3": -1, "4": -1}
    for step in plan.steps:
        if isinstance(step, Move) and step.surface:
            assert step.approach == step.deeper == ways[step.id[5]], step.id
    touches = [s for s in plan.steps if isinstance(s, Touch) and s.axis != "knee"]
    assert [s.toward for s in touches] == [1, 1, -1, -1]


# -- sizes ----------------------------------------------------------------------------------------


def test_an_end_is_milled_to_length_from_what_it_measures():
    """Stock 99.5; a skim of 0.4 and the climbing cut of 0.25 leave 98.85. 96 wanted: 2.85 off. 0.25
    is left for finishing, 2.60 go in three passes of 1.2 at most: 0.8667, to the dial 0.88, then
    half of 1.72, twice. On 5 mm a turn none is a turn."""
    plan = plan_of(ENDS, now_length=mm("98.85"))
    assert value(plan, "off the other end", "mm") == Decimal("2.85")
    targets = [plan.step(f"side-2-roughing-{n}-set").target for n in (1, 2, 3)]
    assert targets == [mm("0.88"), mm("1.74"), mm("2.60")]
    move = sheet(ENDS)["side-2-roughing-2-set"].move
    assert (move.turns, move.part, move.direction) == (0, Decimal("0.86"), "right")
    told = {"now.length": mm("98.85"), "side-2.size.1": mm("96.23"),
            "side-2.size.1.at": mm("2.60")}  # fmt: skip
    plan = plan_for(text_of(ENDS), f"{ENDS}.toml", machine_of(ENDS), told)
    # 96.23 and 96 wanted: 0.23 further, 2.83, set to a division of 0.02
    assert plan.step("side-2-finishing-1-set").target == mm("2.84")


def test_what_is_foreseen_follows_the_skims():
    """Two skims and the climbing cut: 99.5 - 0.8 - 0.25 = 98.45; measured 99.2 before: 98.15."""
    two = {"side-1.clean.1": "no"}
    read = {"stock.length": mm("99.2"), **two}
    for told, now in ((two, "98.45"), (read, "98.15")):
        plan = plan_for(text_of(ENDS), f"{ENDS}.toml", machine_of(ENDS), told)
        assert plan.step("measure-now-length").nominal == mm(now)
        assert plan.step("side-1-close-set").target == mm("1.06")  # 1.05, to the dial


def test_all_round_is_worked_by_hand():
    """Length 2.360 now, 2.250 wanted: 0.110; 0.010 for finishing, 0.100 in two of 0.050 (0.060 at
    most), the table going left: -0.050, -0.100, -0.110. Width 1.485 - 1.375 likewise. The knee goes
    0.625 up: 6 turns of 0.100 and 25."""
    plan = plan_of(ROUND_IT, now_length=inches("2.360"), now_width=inches("1.485"))
    for number in (3, 4):
        targets = [plan.step(f"side-{number}-{name}-set").target
                   for name in ("roughing-1", "roughing-2", "finishing-1")]  # fmt: skip
        assert targets == [inches("-0.050"), inches("-0.100"), inches("-0.110")]
    move = sheet(ROUND_IT)["side-1-height"].move
    assert (move.turns, move.part, move.direction) == (6, Decimal("0.025"), "up")


def test_it_stands_out_further_than_ever_comes_off():
    """99.5 - 95.95 = 3.55 come off at the most, and 2.5 for the cutter: 6.05, told as 7."""
    assert plan_of(ENDS).step("side-1-hold").figure.value == mm("7")


def test_a_hollow_end_ends_where_the_other_would_not_clean_up():
    """Stock 97.7: 97.7 - 96.05 - 0.4 = 1.25 may go. Two skims of 0.4 and 0.25 are 1.05; a third
    would be 1.45."""
    text = changed(ENDS, ('length = "99.5 mm"', 'length = "97.7 mm"'))
    told = {"side-1.clean.1": "no", "side-1.clean.2": "no"}
    plan = plan_for(text, "a.toml", machine_of(ENDS), told)
    assert plan.has("side-1-skim-2-cut")
    assert not plan.has("side-1-skim-3-cut")
    assert "too little" in plan.step("side-1-no-stock").say[0]


# -- climbing -------------------------------------------------------------------------------------


def test_only_light_finishing_cuts_climb_where_a_lock_drags():
    stroke = SideStroke(SIDES["right"], machine_of(ENDS).axis("saddle"), True, "mm")
    cut = cuts(plan_of(ENDS), "side-2-finishing-1")[0]
    for taken, kind, climbs in (("0.25", "finishing", True), ("0.25", "roughing", False),
                                (f"{LIGHT['mm']}", "finishing", True),
                                ("0.5", "finishing", False)):  # fmt: skip
        one = dataclasses.replace(cut, taken=mm(taken), kind=kind)
        assert stroke.climbing(one) is climbs
    fit = with_climb(ENDS, "saddle", "eliminator").axis("saddle")
    heavy = dataclasses.replace(cut, taken=mm("0.5"))
    assert dataclasses.replace(stroke, feed=fit).climbing(heavy)


def test_the_climbing_cut_begins_where_the_one_before_it_ended():
    """Conventional it goes saddle out, off the back: there the climbing one begins, saddle in."""
    plan = plan_of(ENDS)
    run, cut = plan.step("side-2-finishing-1-run"), plan.step("side-2-finishing-1-cut")
    assert "off the back." in run.say[0]
    assert "Nip the saddle lock" in run.say[1]
    assert cut.say == ("Spindle on. Saddle in: climbing, light.",)
    assert cut.after == ("Then ease the saddle lock.",)
    assert any("pulls the work in" in one for one in run.cautions)
    assert plan.step("side-2-roughing-3-cut").feed_approach == -cut.feed_approach


@pytest.mark.parametrize("climb", ["never", "eliminator"])
def test_what_climbs_is_what_the_machine_allows(climb):
    plan = plan_for(text_of(ENDS), f"{ENDS}.toml", with_climb(ENDS, "saddle", climb), {})
    ways = {cut.say[0].rsplit(": ", 1)[1] for cut in cuts(plan, "finishing")}
    words = {"never": {"conventional, no climbing."}, "eliminator": {"climbing, light."}}
    assert ways == words[climb]
    assert plan.has("check-climbing") is (climb == "never")
    assert plan.has("side-1-close-cut") is (climb != "never")
    assert not any("Nip the" in one for step in plan.steps for one in step.say)


def test_which_way_is_answered_as_the_cut_at_hand_goes():
    job = Job(ENDS)
    for step, answer in (("side-2-roughing-1-set", "Saddle out: conventional, no climbing."),
                         ("side-2-finishing-1-set", "Saddle in: climbing, light.")):  # fmt: skip
        job.to_step(step)
        assert job.say("which way do I feed") == answer


# -- trouble --------------------------------------------------------------------------------------


def test_a_new_cutter_is_let_down_off_the_work():
    """The top is touched anew with the cutter over the work: it has to be off it before the knee
    comes up, though it was run off once already."""
    job = Job(ROUND_IT)
    job.to_step("side-3-roughing-2-set")
    said = job.say("new cutter")
    assert "Touch the top" in said
    job.say("touched")
    said = job.say("bare")
    assert said.index("off the right end") < said.index("Knee up, six turns")


def test_another_side_does_not_ask_for_the_axis_that_feeds_along_it():
    """The table was set for the end; along the back it feeds, and nobody counts it."""
    job = Job(ROUND_IT)
    job.to_step("side-2-skim-1-cut")
    job.say("new cutter")
    said = [job.say(words) for words in ("touched", "bare", "i'm set")]
    assert "Round to the back" in said[-1]
    assert "table dial" not in " ".join(said)


def test_what_moved_is_told_how_it_lies_not_to_turn_it_once_more():
    job = Job(ENDS)
    job.to_step("side-2-roughing-2-set")
    said = job.say("it moved") + job.say("checked")
    assert "The other end over the edge." in said
    assert "urn it" not in said


@pytest.mark.parametrize("name", [ENDS, ROUND_IT])
def test_walked_from_start_to_end(name):
    walk_to_end(Job(name))
