"""What comes next, and what is asked before it: one small job, and each ground shaken in it.

A seat milled in three passes, the saddle over its middle and the knee at its depth, then a second
one beside it. Each step that is done has the record ten times its place from one; the knee's zero
is two records before its touch is done.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from decimal import Decimal
from types import MappingProxyType
from typing import Any

import pytest

from assistant.jobs.plan import Plan
from assistant.jobs.steps import (
    Check,
    Cut,
    Ground,
    Index,
    Measure,
    Move,
    Note,
    Step,
    SurfaceKey,
    Touch,
)
from assistant.session.belief import CRANK, AxisState, Belief, Doubt, DoubtKind
from assistant.session.next import Ahead
from assistant.units import inches

FIRST, SECOND = SurfaceKey("size"), SurfaceKey("seat-2.size")
WORK, TOOL, DIAL, COUNT = Ground.WORK, Ground.TOOL, Ground.DIAL, Ground.COUNT


def touch(name: str, axis: str, **more: Any) -> Touch:
    return Touch(id=name, title=name, axis=axis, toward=1, surface="the side", **more)


def move(name: str, axis: str, target: str | None, **more: Any) -> Move:
    there = None if target is None else inches(target)
    return Move(id=name, title=name, axis=axis, target=there, **more)


def sets(name: str, target: str, surface: SurfaceKey = FIRST) -> Move:
    return move(name, "knee", target, surface=surface, deeper=1)


def cut(name: str, number: int, surface: SurfaceKey = FIRST, **more: Any) -> Cut:
    return Cut(id=name, title=name, number=number, of=3, depth=inches(0), taken=inches("0.04"),
               surface=surface, **more)  # fmt: skip


def size(name: str, number: int, surface: SurfaceKey = FIRST) -> Measure:
    return Measure(id=name, title=name, fact=name, gauge="micrometer", surface=surface,
                   number=number, at_axis="knee", slope=Decimal(-1))  # fmt: skip


SEAT: tuple[Step, ...] = (
    Check(id="check", title="held?", rests=(WORK,)),
    size("width", 0, SurfaceKey("")),
    touch("touch-side", "saddle"),
    move("to-centre", "saddle", "0.500"),
    touch("touch-knee", "knee"),
    move("table-out", "table", None),
    sets("set-1", "0.003"),
    cut("cut-1", 1),
    sets("set-2", "0.043"),
    cut("cut-2", 2),
    size("measure-1", 1),
    sets("set-3", "0.053"),
    cut("cut-3", 3),
    size("measure-2", 2),
)
BESIDE: tuple[Step, ...] = (
    move("away", "knee", "-0.300"),
    move("over", "saddle", "2.500"),
    sets("set-4", "0.003", SECOND),
    cut("cut-4", 1, SECOND),
    size("measure-4", 1, SECOND),
    Note(id="deburr", title="deburr"),
)


def plan(*steps: Step, depth_axis: str = "knee") -> Plan:
    return Plan(title="a seat", operation="", unit="inch", steps=steps, depth_axis=depth_axis)


def without_measuring(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    return tuple(step for step in steps if not (isinstance(step, Measure) and step.surface))


@dataclass
class Job:
    """A plan, what is believed and what is done."""

    plan: Plan
    belief: Belief = field(init=False)
    done: dict[str, int] = field(default_factory=dict)
    at: int = 1000
    """The next record, once something went wrong."""

    def __post_init__(self) -> None:
        axes = {name: AxisState(inches(0)) for name in ("saddle", "knee", "table")}
        self.belief = Belief(MappingProxyType(axes))

    def to(self, name: str) -> Job:
        """All steps before that one are done as planned, each the next one as `next` has it."""
        for place, one in enumerate(self.plan.steps):
            following = self.ahead.step()
            assert following is not None
            assert following.id == one.id
            if one.id == name:
                break
            self.do(one.id, 10 * (place + 1))
        return self

    def do(self, name: str, at: int = 0) -> Job:
        """A step is done: what that tells, and its record."""
        if not at:
            self.at += 10
            at = self.at
        one = self.plan.step(name)
        belief = self.belief
        if isinstance(one, Touch):
            belief = belief.zero(one.axis, one.toward, None, one.by, at - 2)
        if isinstance(one, Move) and one.target is not None:
            belief = belief.stand(one.axis, one.target, one.approach, at - 2)
            if one.zero_after:
                belief = belief.zero(one.axis, 1, None, belief.axes[one.axis].by, at - 1)
        if isinstance(one, Cut):
            if one.feed_target is not None:
                belief = belief.stand(one.feed_axis, one.feed_target, 1, at - 2)
            belief = belief.cut()
        if isinstance(one, Measure) and one.surface:
            belief = belief.measure(one.surface, one.number, at - 2)
        for ground in one.anew:
            belief = belief.shake(ground, "", at - 1)
        self.belief = belief
        self.done[name] = at
        return self

    def shake(self, ground: Ground, name: str = "") -> Job:
        self.at += 10
        self.belief = self.belief.shake(ground, name, self.at)
        return self

    @property
    def ahead(self) -> Ahead:
        return Ahead(self.plan, self.belief, dict(self.done))

    @property
    def next(self) -> str:
        following = self.ahead.step()
        return "" if following is None else following.id

    @property
    def asked(self) -> list[tuple[DoubtKind, str]]:
        return [(doubt.kind, doubt.axis) for doubt in self.doubts]

    @property
    def doubts(self) -> tuple[Doubt, ...]:
        return self.ahead.unknown(self.ahead.step())

    def goes_on(self, most: int = 12) -> list[str]:
        """What comes, each done in turn, until the job is where it was."""
        came: list[str] = []
        undone = self.plan.steps[self.ahead.undone].id
        while self.next != undone:
            came.append(self.next)
            self.do(self.next)
            assert len(came) < most, came
        return came


def seat(name: str, *steps: Step, depth_axis: str = "knee") -> Job:
    """The job at a step, on the plain way."""
    return Job(plan(*(steps or (*SEAT, *BESIDE)), depth_axis=depth_axis)).to(name)


# -- the plain way --------------------------------------------------------------------------------


def test_on_the_plain_way_the_steps_follow_each_other_to_the_end() -> None:
    job = seat("deburr").do("deburr")
    assert job.next == ""
    assert job.ahead.step() is None
    assert job.ahead.undone == len(job.plan.steps)


def test_nothing_is_asked_before_a_word_of_trouble() -> None:
    for step in SEAT:
        assert seat(step.id).asked == []


def test_a_size_told_in_doubt_is_not_asked_for_again() -> None:
    job = seat("measure-1")
    job.belief = job.belief.measure(FIRST, 1, 900)
    assert job.next == "set-3"


@pytest.mark.parametrize(
    ("step", "knee"), [("touch-knee", "set-1"), ("cut-1", "set-1"), ("measure-1", "set-3")]
)
def test_what_sets_each_axis_for_the_next_cut(step: str, knee: str) -> None:
    """Not for the one after it; a measurement on the way to it changes nothing."""
    job = seat(step)
    places = {axis: job.plan.steps[place].id for axis, place in job.ahead.setters.items()}
    assert places == {"saddle": "to-centre", "knee": knee}


# -- the work and the tool ------------------------------------------------------------------------


def test_work_that_moved_is_checked_then_touched_and_set_again() -> None:
    """The seat's own floor tells the knee: it is measured, and come to, and not touched beside."""
    job = seat("set-2").shake(WORK)
    assert job.goes_on() == ["check", "touch-side", "to-centre"]
    assert job.asked == [(DoubtKind.METAL, "knee"), (DoubtKind.FLOOR, "knee")]


def test_before_anything_is_cut_the_knee_is_touched_again_too_and_the_table_run_out() -> None:
    job = seat("set-1").shake(WORK)
    assert job.goes_on() == ["check", "touch-side", "to-centre", "touch-knee", "table-out"]
    assert job.asked == []


def test_a_new_tool_leaves_the_work_s_check_alone() -> None:
    job = seat("set-2").shake(TOOL)
    assert job.goes_on() == ["touch-side", "to-centre"]


def test_an_edge_found_for_the_spindle_outlives_the_tool() -> None:
    found = tuple(
        replace(step, by=(WORK,)) if step.id == "touch-side" else step for step in SEAT
    )  # fmt: skip
    job = seat("set-1", *found).shake(TOOL)
    assert job.goes_on() == ["touch-knee", "table-out"]


def test_what_was_measured_of_a_tool_is_measured_of_the_next() -> None:
    steps = tuple(replace(step, rests=(TOOL,)) if step.id == "width" else step for step in SEAT)
    assert seat("set-1", *steps).shake(TOOL).goes_on()[0] == "width"
    assert "width" not in seat("set-1", *steps).shake(WORK).goes_on()


def test_where_the_floor_does_not_set_the_depth_the_crest_is_touched_again() -> None:
    """What is touched is still there: another axis' work beside it doesn't take it away."""
    job = seat("set-2", *SEAT, depth_axis="").shake(DIAL, "knee")
    assert job.goes_on() == ["touch-knee"]


def test_a_bar_that_is_turned_down_can_not_be_touched_where_it_was() -> None:
    steps = tuple(
        replace(step, stays=False) if step.id == "touch-knee" else step for step in SEAT
    )  # fmt: skip
    job = seat("set-2", *steps, depth_axis="").shake(DIAL, "knee")
    assert job.next == "set-2"
    assert job.asked == [(DoubtKind.METAL, "knee"), (DoubtKind.FLOOR, "knee")]


# -- one axis -------------------------------------------------------------------------------------


def test_a_dial_that_slipped_is_that_axis_alone() -> None:
    assert seat("set-2").shake(DIAL, "saddle").goes_on() == ["touch-side", "to-centre"]
    job = seat("set-2").shake(DIAL, "knee")
    assert job.next == "set-2"
    assert job.asked == [(DoubtKind.METAL, "knee"), (DoubtKind.FLOOR, "knee")]


def test_measured_since_the_cut_the_floor_alone_is_come_to() -> None:
    assert seat("set-3").shake(DIAL, "knee").asked == [(DoubtKind.FLOOR, "knee")]
    # cut once more, it is as deep as nobody measured yet
    again = (*SEAT[:-1], sets("set-4", "0.058"), cut("cut-4", 4), SEAT[-1])
    job = seat("set-4", *again).shake(DIAL, "knee")
    assert job.asked == [(DoubtKind.METAL, "knee"), (DoubtKind.FLOOR, "knee")]


def test_a_count_lost_before_any_cut_goes_back_to_the_touch_without_losing_its_zero() -> None:
    job = seat("set-1").shake(COUNT, "knee")
    assert job.next == "set-1"
    assert job.asked == [(DoubtKind.TOUCH, "knee")]


def test_an_axis_is_asked_for_where_the_next_cut_stands_on_it() -> None:
    """The saddle has to stand over the middle: it is found, and set, before the knee is. The
    table isn't counted at all."""
    job = seat("set-2").shake(COUNT, "saddle")
    assert job.next == "to-centre"
    assert job.asked == [(DoubtKind.TOUCH, "saddle")]
    in_the_cut = seat("cut-2").shake(COUNT, "saddle")
    assert in_the_cut.next == "to-centre"
    assert in_the_cut.asked == [(DoubtKind.TOUCH, "saddle")]
    # the depth of the cut at hand it is in: it isn't set anew
    deep = seat("cut-2").shake(COUNT, "knee")
    assert deep.next == "cut-2"
    assert deep.asked == [(DoubtKind.METAL, "knee"), (DoubtKind.FLOOR, "knee")]
    assert seat("set-2").shake(COUNT, "table").asked == []
    assert seat("cut-2").shake(COUNT, "table").asked == []


def test_an_axis_is_not_touched_before_it_is_used() -> None:
    """The table that goes over after the first cut is touched then, and not before that cut."""
    steps = (
        touch("touch-table", "table"), touch("touch-knee", "knee"),
        sets("set-1", "0.003"), cut("cut-1", 1), move("over", "table", "1.000"),
        sets("set-2", "0.043"), cut("cut-2", 2),
    )  # fmt: skip
    job = seat("set-1", *steps).shake(DIAL, "table")
    assert job.next == "set-1"
    job.do("set-1").do("cut-1")
    assert job.next == "touch-table"
    assert job.do("touch-table").next == "over"


@pytest.mark.parametrize(
    ("ground", "kind"),
    [
        (Ground.PLACE, DoubtKind.DIAL),
        (Ground.TURN, DoubtKind.TURN),
        (Ground.AWAY, DoubtKind.TURN),
    ],
)
def test_where_only_the_place_is_gone_its_dial_is_read(ground, kind) -> None:
    assert seat("set-2").shake(ground, "knee").asked == [(kind, "knee")]


def test_an_axis_moved_out_of_the_way_is_read_and_brought_back_before_the_cut() -> None:
    job = seat("set-2").shake(Ground.AWAY, "saddle")
    assert job.next == "to-centre"
    assert job.asked == [(DoubtKind.TURN, "saddle")]
    assert job.goes_on() == ["to-centre"]


def test_an_axis_found_elsewhere_than_it_was_set_is_set_again() -> None:
    for stands, comes in (("0.500", "cut-2"), ("0.510", "to-centre")):
        job = seat("cut-2").shake(Ground.PLACE, "saddle")
        job.belief = job.belief.stand("saddle", inches(stands), 1, job.at + 1)
        assert job.next == comes


def test_a_feed_found_on_its_way_along_the_cut_is_not_sent_back_to_its_start() -> None:
    steps = (
        touch("touch-table", "table"), move("to-start", "table", "0.2"),
        touch("touch-knee", "knee"),
        sets("set-1", "0.003"), move("at-the-end", "table", "0.3"),
        cut("cut-1", 1, feed_axis="table", feed_target=inches("1.5")),
    )  # fmt: skip
    job = seat("cut-1", *steps).shake(Ground.TURN, "table")
    job.belief = job.belief.stand("table", inches("0.9"), 1, job.at + 1)
    assert job.next == "cut-1"


# -- metal ----------------------------------------------------------------------------------------


def test_metal_in_doubt_is_measured_where_it_is_cut_on_and_not_elsewhere() -> None:
    job = seat("set-2").shake(Ground.METAL, FIRST)
    assert job.doubts == (Doubt(DoubtKind.METAL, "knee", FIRST),)
    assert seat("set-2").shake(Ground.METAL, SECOND).asked == []
    job.belief = job.belief.measure(FIRST, 1, job.at + 1)
    assert job.asked == []


def test_what_nothing_measures_is_looked_at() -> None:
    job = seat("set-2", *without_measuring(SEAT)).shake(Ground.METAL, FIRST)
    assert job.doubts == (Doubt(DoubtKind.LOOK, "knee", FIRST),)


def test_the_next_measurement_tells_how_deep_it_is_else_the_last() -> None:
    named = {"set-2": "measure-1", "measure-1": "measure-1", "cut-3": "measure-2",
             "away": "measure-2"}  # fmt: skip
    for step, measure in named.items():
        found = seat(step).ahead.measure_of(FIRST)
        assert found is not None
        assert found.id == measure
    assert seat("set-2").ahead.measure_of(SurfaceKey("elsewhere")) is None


def test_a_tooth_with_one_space_cut_can_not_be_measured() -> None:
    steps = tuple(replace(s, alone=True) if isinstance(s, Cut) and s.number == 1 else s
                  for s in SEAT)  # fmt: skip
    assert seat("set-1", *steps).ahead.measure_of(FIRST) is not None  # nothing is cut yet
    assert seat("cut-1", *steps).ahead.measure_of(FIRST) is None
    assert seat("set-2", *steps).ahead.measure_of(FIRST) is None
    assert seat("measure-1", *steps).ahead.measure_of(FIRST) is not None


# -- two seats ------------------------------------------------------------------------------------


def test_beside_a_finished_seat_the_floor_of_that_one_is_not_come_to() -> None:
    """The second seat's floor isn't cut: a lost count goes to the touch, and a lost zero is touched
    again. The table stands over it already; the knee goes down all the same before anything else,
    as it would have after the touch."""
    assert seat("set-4").shake(COUNT, "knee").asked == [(DoubtKind.TOUCH, "knee")]
    assert seat("set-4").shake(DIAL, "knee").goes_on() == ["touch-knee", "away"]


def test_where_the_top_is_cut_away_the_last_floor_is_all_there_is() -> None:
    steps = tuple(replace(step, stays=False) if step.id == "touch-knee" else step
                  for step in (*SEAT, *BESIDE))  # fmt: skip
    job = seat("set-4", *steps).shake(DIAL, "knee")
    assert job.doubts == (Doubt(DoubtKind.FLOOR, "knee", FIRST),)


def test_the_first_seat_in_doubt_does_not_hold_up_the_second() -> None:
    assert seat("set-4").shake(Ground.METAL, FIRST).asked == []


# -- made anew ------------------------------------------------------------------------------------


CHANGED: tuple[Step, ...] = (
    replace(SEAT[1], rests=(TOOL,)), *SEAT[2:4], touch("touch-knee", "knee"),
    sets("set-1", "0.003"), cut("cut-1", 1),
    Note(id="change", title="the next cutter", anew=(TOOL,)), touch("touch-tee", "knee"),
    sets("set-2", "0.500", SECOND), cut("cut-2", 1, SECOND), size("measure-2", 1, SECOND),
)  # fmt: skip


def test_a_tool_changed_on_the_plain_way_leads_nowhere_back() -> None:
    """The side was found for the spindle, and the old cutter's width is not measured again."""
    found = tuple(replace(s, by=(WORK,)) if s.id == "touch-side" else s for s in CHANGED)
    assert seat("measure-2", *found).next == "measure-2"


def test_another_cutter_after_the_change_is_touched_where_the_last_was() -> None:
    found = tuple(replace(s, by=(WORK,)) if s.id == "touch-side" else s for s in CHANGED)
    assert seat("set-2", *found).shake(TOOL).goes_on() == ["touch-tee"]


def test_a_side_touched_with_the_old_cutter_is_touched_with_the_new_one() -> None:
    job = Job(plan(*CHANGED)).to("change").do("change", 65)
    assert job.next == "touch-side"


# -- a zero in two parts, the crank, and coming back ----------------------------------------------


def test_what_belongs_to_a_touch_is_done_again_with_it() -> None:
    """The knee comes up by the paper and is zeroed there."""
    steps = (*SEAT[:5], move("paper", "knee", "0.003", zero_after=True), *SEAT[5:])
    job = seat("set-1", *steps).shake(DIAL, "knee")
    assert job.goes_on() == ["touch-knee", "paper", "table-out"]
    assert "paper" not in seat("set-1", *steps).shake(DIAL, "saddle").goes_on()


DIVIDED: tuple[Step, ...] = (
    SEAT[0], cut("mark-1", 1, SurfaceKey("")),
    Index(id="index-2", title="on", number=2, of=4, turns=10), cut("mark-2", 2, SurfaceKey("")),
)  # fmt: skip


def test_the_crank_is_asked_for_where_its_count_is_lost_or_cut_work_moved() -> None:
    wanted = [(DoubtKind.CRANK, CRANK)]
    assert seat("index-2", *DIVIDED).shake(COUNT, CRANK).asked == wanted
    assert seat("mark-2", *DIVIDED).shake(COUNT, CRANK).asked == wanted
    moved = seat("index-2", *DIVIDED).shake(WORK).do("check")
    assert moved.asked == wanted
    moved.belief = moved.belief.find(COUNT, CRANK, moved.at + 1)
    assert moved.asked == []
    # nothing cut: any division is as good as another
    assert seat("mark-1", *DIVIDED).shake(WORK).do("check").asked == []


def test_after_a_power_cut_the_dial_in_hand_is_read_and_it_is_told_whether_anything_moved() -> None:
    job = seat("set-2").shake(Ground.HELD).shake(Ground.TURN, "knee")
    assert job.asked == [(DoubtKind.TURN, "knee"), (DoubtKind.MOVED, "")]
    job.belief = job.belief.stand("knee", inches("0.003"), 1, job.at + 1)
    assert job.asked == [(DoubtKind.MOVED, "")]
    job.belief = job.belief.find(Ground.HELD, "", job.at + 2)
    assert job.asked == []
