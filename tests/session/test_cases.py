"""Cases in which trouble led to scrap, typed as their users would: what was told of the metal is
not believed (K1), a tool, a dial or the work changed and what is cut is forgotten (K2).

Each states what would be right. What isn't yet is marked, and the mark has to go with the mending.
"""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from tests.session.at_work import CUT, INDEX, MEASURE, MOVE, AtWork
from tests.torture.mishaps import meant, rules
from tests.torture.mishaps.bench import RESUME
from tests.torture.mishaps.plain import demo_jobs

# -- K1: what was just told about the metal -------------------------------------------------------


@pytest.mark.parametrize(
    ("job", "place", "told", "axis"),
    [
        ("keyseat-inch", "pass 3 of 6", "measured one point six four", "knee"),
        ("keyseat-inch", "finishing", "measured one point six four four", "knee"),
        ("slot-inch", "pass 2 of 5", "measured 0.300", "knee"),
        ("face-metric", "pass 2 of 5", "measured 19.80 mm", "knee"),
    ],
)
def test_case_1_undersize_in_the_cut_is_said_and_not_cut_on(job, place, told, axis):
    work = AtWork(job, CUT, place)
    work.says("I went past", told)
    assert rules.said_of_it(work.spoken)
    assert not work.goes_deeper(axis)


@pytest.mark.parametrize("trouble", ["lost count", "dial slipped"])
def test_case_2_inside_the_limits_before_the_finishing_cut_is_in(trouble):
    work = AtWork("keyseat-inch", MOVE, "pass 6 of 6")
    work.says(trouble, "measured one six five oh")
    assert not work.goes_deeper("knee")


@pytest.mark.parametrize(
    ("job", "moment", "place", "told"),
    [
        ("turn-shaft", CUT, "witness", "measured 3.75 inches"),
        ("keyseat-inch", MOVE, "pass 3 of 6", "measured one point nine"),
    ],
)
def test_case_3_more_than_was_ever_there_is_asked_back(job, moment, place, told):
    work = AtWork(job, moment, place)
    work.says("lost count", told)
    assert work.asks


@pytest.mark.parametrize(
    ("job", "place", "told", "axis", "most"),
    [
        ("keyseat-inch", "pass 4 of 6", "measured one seven eight four", "knee", "0.076"),
        ("turn-shaft", "pass 3 of 5", "measured one four one six", "cross slide", "0.101"),
    ],
)
def test_case_4_a_size_of_the_pass_before_leads_to_no_double_pass(job, place, told, axis, most):
    work = AtWork(job, CUT, place)
    work.says("I went past", told)
    assert max(work.bites(axis)) <= Decimal(most)


def test_case_5_after_an_overrun_the_dial_is_asked_for():
    work = AtWork("keyseat-inch", CUT, "pass 3 of 6")
    work.says("I went past", "measured one seven seven oh")
    work.bench.travel["knee"] = Decimal("0.105")  # where it was run to
    work.obeys(lambda: work.page.move is not None and work.page.move.wheel.axis == "knee")
    assert any("dial reads" in said.words for said in work.turns)


@pytest.mark.parametrize("job", ["keyseat-inch", "keyseat-metric", "keyseat-two-in-line"])
def test_case_6_bang_on_before_the_finishing_cut_does_not_end_the_job(job):
    work = AtWork(job, MEASURE, "efore the finishing cut")
    assert work.page.bar is not None
    left = work.page.bar.full - work.page.bar.now
    work.says("bang on")
    # the next seat is not this one
    assert float(work.goes_deeper("knee", turns=5)) > left * 0.7


@pytest.mark.parametrize("place", ["pass 3 of 4", "pass 4 of 4"])
def test_case_7_inside_the_limits_in_a_plunge_is_in(place):
    work = AtWork("woodruff-inch", CUT, place)
    work.says("I went past", "measured nine sixty")
    assert not work.cut_at_hand


def test_case_8_a_size_after_taking_back_twice_is_of_the_last_cut():
    work = AtWork("keyseat-inch", CUT, "pass 3 of 6")
    work.says("that's through", "scratch that", "scratch that", "measured one seven eight four")
    work.says("yes", "knee dial reads ninety-one", "no")  # not one turn and ninety-one
    work.obeys(lambda: work.page.moment is MEASURE and "finishing" in work.page.instruction, 30)
    # what was cut nobody knows where is come to first, and the rest is counted from there
    assert "just touching" in work.spoken


# -- K2: a tool, a dial or the work changed -------------------------------------------------------


def without_a_shoulder(folder: Path) -> Path:
    """The shaft of the demo, turned right along."""
    text = demo_jobs()["turn-shaft"].read_text(encoding="utf-8")
    begins, ends = text.index("[shoulder]"), text.index("[holding]")
    path = folder / "turn-along.toml"
    path.write_text(text[:begins] + text[ends:], encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("job", "trouble"),
    [
        ("turn-along", "new cutter"),
        ("bore-bush", "new cutter"),
        ("taper-morse", "new cutter"),
        ("face-length", "new cutter"),
        ("bore-bush", "it moved"),
    ],
)
def test_case_9_after_another_tool_what_was_turned_is_measured_first(job, trouble, tmp_path):
    path = without_a_shoulder(tmp_path) if job == "turn-along" else None
    work = AtWork(job, MOVE, "pass 3 of", path)
    work.says(trouble)
    work.obeys(lambda: work.cut_at_hand or work.asks_a_size)
    assert work.asks_a_size


def test_case_10_a_reading_does_not_bring_the_old_cutters_zero_back():
    work = AtWork("keyseat-inch", MOVE, "pass 6 of 6")
    work.says("new cutter", "bang on", "i'm set", RESUME, "knee dial reads four")
    work.obeys(lambda: work.cut_at_hand or work.asks_a_size)
    lost = frozenset({"knee"})
    for said in work.turns:
        lost = rules.still_lost(lost, said)
    assert work.asks_a_size or not lost


@pytest.mark.parametrize(
    ("job", "words"),
    [
        ("thread-internal", "groove"),
        ("thread-external", "half nut closed"),
        ("thread-external", "cross slide's dial to zero there"),
    ],
)
def test_case_11_another_tool_picks_up_the_groove(job, words):
    work = AtWork(job, MOVE, "pass 7 of")
    work.says("new cutter")
    work.obeys(lambda: work.cut_at_hand)
    assert words in work.spoken.lower()


@pytest.mark.parametrize(
    ("job", "place"),
    [("flats-hexagon", "next flat"), ("gear-inch", "Division 3"), ("divide-ratchet", "Division 3")],
)
def test_case_12_a_count_lost_at_the_crank_is_of_the_crank(job, place):
    work = AtWork(job, INDEX, place)
    work.says("lost count")
    assert work.asks
    assert "touch" not in work.page.instruction.lower()


@pytest.mark.parametrize(
    ("job", "place"),
    [
        ("keyseat-inch", "pass 4 of 6"),
        ("woodruff-inch", "pass 3 of 4"),
        ("boring-head-inch", "pass 2 of 4"),
    ],
)
def test_case_13_work_that_moved_in_the_cut_is_got_clear_of_and_clamped(job, place):
    work = AtWork(job, CUT, place)
    work.says("it moved")
    assert not work.cut_at_hand
    first = work.spoken.split("Spindle on")[0].lower()
    assert "clear" in first
    assert "clamp" in first or "tight" in first


def test_case_14_a_new_drill_keeps_the_edges():
    work = AtWork("holes-grid", CUT, "Hole 3")
    work.says("new cutter")
    work.obeys(lambda: work.cut_at_hand)
    touched = {axis for said in work.turns for axis in said.zeroed}
    assert touched <= {"quill"}


def test_case_14_the_face_at_hand_is_touched_again_and_no_other():
    work = AtWork("square-block-inch", MEASURE, "the thickness now")
    work.obeys(lambda: "pass 2" in work.page.pass_place and work.cut_at_hand)
    of = meant.cutting(work.bench.job)
    work.says("it moved")
    work.obeys(lambda: work.cut_at_hand or work.asks_a_size)
    asked = meant.asked(work.bench.job)
    assert (asked.key if asked else meant.cutting(work.bench.job)) == of


def test_case_14_a_new_tool_in_the_boring_head_is_measured_by():
    work = AtWork("boring-head-inch", CUT, "pass 2 of 4")
    work.says("new cutter")
    work.obeys(lambda: work.asks_a_size or work.page.what == "open the head")
    assert work.asks_a_size


def test_case_14_a_new_t_cutter_does_not_cut_the_slot_again():
    work = AtWork("tslot-metric", MEASURE, "the depth of the slot")
    work.obeys(lambda: work.cut_at_hand)
    of = meant.cutting(work.bench.job)
    work.says("new cutter")
    work.obeys(lambda: work.cut_at_hand or work.asks_a_size)
    asked = meant.asked(work.bench.job)
    assert (asked.key if asked else meant.cutting(work.bench.job)) == of
