"""Cases in which what machine or work can't do was commanded (K3), a number was taken that may
mean ten times as much or as little (K4), and others. As in `test_cases`: what would be right."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from assistant.app.keys import press
from assistant.errors import BadInput
from assistant.present.glance import Moment
from assistant.session import work as session_work
from assistant.spoken import Heard, Opinion
from tests.factories import Job
from tests.session.at_work import CUT, MEASURE, MOVE, NOTE, TOUCH, AtWork
from tests.shop.changed import changed
from tests.torture.mishaps.bench import RESUME

# -- K3: what machine and work can do -------------------------------------------------------------


@pytest.mark.parametrize("job", ["keyseat-metric", "keyseat-two-in-line"])
def test_case_15_the_spindle_is_on_before_a_plunge(job):
    work = AtWork(job, MEASURE, "Look at the mark")
    work.obeys(lambda: work.cut_at_hand)
    assert "spindle on" in work.spoken.lower()


def no_shift(work: AtWork, front: str, back: str) -> bool:
    """Whether walls told so lead to no move of the saddle."""
    work.says(f"front wall {front}", f"back wall {back}")
    work.obeys(lambda: work.page.move is not None or work.cut_at_hand)
    return work.page.move is None or work.page.move.wheel.axis != "saddle"


def test_case_16_no_shift_that_makes_the_seat_too_wide():
    """As deep as the operator likes: at the depth that is planned a shift still fits."""
    work = AtWork("keyseat-inch", MOVE, "pass 2 of 6")
    work.says("cut seventy thou", "i'm set", "that's through")
    assert no_shift(work, "547", "578")


def test_case_16_no_shift_that_makes_the_seat_too_wide_after_an_overrun():
    work = AtWork("woodruff-inch", CUT, "pass 2 of 4")
    work.says("I went past", "knee dial reads two turns and seventy eight", "yes")
    work.obeys(lambda: work.page.moment is MEASURE)
    assert no_shift(work, "340", "347")


def test_case_16_walls_that_do_not_add_up_are_asked_back():
    work = AtWork("keyseat-inch", MEASURE, "wall to side")
    work.says("front wall five sixty", "back wall five ninety")  # with the cutter 1.525 of 1.500
    assert work.asks or "wall" in work.page.instruction.lower()


def test_case_16_half_a_thou_off_centre_is_let_be():
    work = AtWork("keyseat-inch", MEASURE, "wall to side")
    work.says("front wall five sixty two", "back wall five sixty three")
    assert "Last chance" not in work.spoken


def test_case_16_the_shift_can_be_declined():
    work = AtWork("woodruff-inch", MEASURE, "wall to side")
    work.says("front wall 342", "back wall 346")
    assert work.says("skip that step").taken


def test_case_17_a_gear_set_too_deep_is_asked_about():
    work = AtWork("gear-inch", MOVE, "pass 2 of 2")
    work.says("dial reads one turn and seventy six")
    assert work.asks


@pytest.mark.parametrize("key", ["enter", "space"])
def test_case_18_a_key_never_says_yes_to_a_number(key):
    work = AtWork("keyseat-inch", MEASURE, "efore the finishing cut")
    work.says("measured one nine seven four")
    assert work.asks
    press(work.bench.job.assistant, key)
    assert work.bench.job.glance.moment is Moment.ASK


def test_case_18_the_finishing_pass_has_a_most():
    work = AtWork("keyseat-inch", MEASURE, "efore the finishing cut")
    work.says("measured one seven four oh")
    if work.asks:
        work.says("yes")
    assert max(work.bites("knee")) <= Decimal("0.076")


def test_case_19_the_carriage_can_be_stopped_by_hand(tmp_path):
    """A quarter of an inch a second is our bound: common practice, no source."""
    path = changed(
        tmp_path, "thread-external", {"thread.name": '"1/2-13 UNC"', "material": '"aluminium"'}
    )
    work = AtWork("thread-external", NOTE, "speed", path)
    assert Decimal(work.page.number) / 13 / 60 <= Decimal("0.25")


@pytest.mark.parametrize("tailstock", ["false", "true"])
def test_case_20_slender_work_is_refused_or_cut_lightly(tailstock, tmp_path):
    slender = {"work.stock": '"1/2 in"', "work.diameter": '"0.400 in"',
               "holding.stick_out": '"12 in"', "holding.tailstock": tailstock}  # fmt: skip
    path = changed(tmp_path, "turn-shaft", slender)
    try:
        work = AtWork("turn-shaft", MOVE, "pass 2 of", path)
    except BadInput:
        return
    assert max(work.bites("cross slide")) <= Decimal("0.020")


def test_case_21_an_undersize_blank_stops():
    work = AtWork("thread-external", MEASURE, "the outside")
    work.says("measured 0.7303")
    assert work.page.moment is not TOUCH


# -- K4: ten times as much or as little -----------------------------------------------------------


@pytest.mark.parametrize(
    ("job", "moment", "place", "words", "wrong"),
    [
        ("keyseat-metric", MOVE, "pass 3 of 6", "cut 0,05 this pass", "0.50 mm"),
        ("keyseat-inch", TOUCH, "Paper", "paper is 0,02", "0.002 in"),
        ("keyseat-inch", MOVE, "pass 3 of 6", "cut oh oh three", "0.030 in"),
        ("keyseat-metric", MOVE, "pass 3 of 6", "cut oh oh five", "0.50 mm"),
        ("keyseat-inch", TOUCH, "Paper", "paper is point one", "0.0001 in"),
        ("keyseat-inch", TOUCH, "Paper", "paper is point three", "0.0003 in"),
        ("keyseat-metric", MEASURE, "efore the finishing cut", "half under", "25.50 mm"),
        ("keyseat-metric", MEASURE, "efore the finishing cut", "quarter under", "25.75 mm"),
    ],
)
def test_case_22_ten_times_as_much_or_as_little_is_asked(job, moment, place, words, wrong):
    work = AtWork(job, moment, place)
    said = work.says(words)
    shown = " ".join((work.page.noted, *work.page.answer))
    assert work.asks or not said.taken or wrong not in shown


def test_case_23_ten_and_tenth_are_asked_by_ear():
    """As both ears heard "one ten". That they hear "one thousand" as "one thou" needs the sound."""
    job, words = Job("keyseat-inch"), "paper is one tenth"
    job.to_step("touch-knee")
    job.say("touched")
    opinion = Opinion(words, 0.93, "vosk")
    job.assistant.hear(Heard(words, 0.93, engine="moonshine", opinion=opinion))
    assert job.glance.moment is Moment.ASK


def test_case_24_a_graduation_in_thou_is_shown_with_its_digits(tmp_path):
    path = changed(tmp_path, "keyseat-inch", {"machine:axes.knee.graduation": '"1 thou"'})
    work = AtWork("keyseat-inch", MOVE, "witness", path)
    assert work.page.number == "0.003"


def test_case_24_a_turn_of_two_hundred_inches_is_refused(tmp_path):
    path = changed(tmp_path, "keyseat-inch", {"machine:axes.knee.per_turn": "200"}, confirmed=False)
    with pytest.raises(BadInput):
        Job("keyseat-inch", path)


# -- others ---------------------------------------------------------------------------------------


def test_the_journal_names_the_programs_version():
    from importlib.metadata import version

    job = Job("keyseat-inch")
    records = job.journal.read(job.assistant.job_id)
    assert any(version("wheelcall") in repr(record.event) for record in records)


def test_a_step_that_a_later_program_names_otherwise_is_found(monkeypatch):
    job = Job("keyseat-inch")
    job.to_step("roughing-2-set")
    planned = session_work.plan_for

    def later(*job_and_facts: Any, **how: Any) -> Any:
        plan = planned(*job_and_facts, **how)
        named = {step.id: step.id.replace("roughing", "rough") for step in plan.steps}
        steps = tuple(replace(step, id=named[step.id]) for step in plan.steps)
        return replace(plan, steps=steps)

    monkeypatch.setattr(session_work, "plan_for", later)
    job.resume()
    job.try_saying("knee dial reads three")
    job.try_saying("nothing moved")
    job.try_saying("cut fifty thou")
    assert job.glance.number == "0.050"


@pytest.mark.parametrize(
    ("job", "place", "no"),
    [
        ("turn-shaft", "pass 2 of 5", "diameter"),
        ("drill-press", "Peck 3", "Measure it,"),
        ("drill-press", "Spot it", "Measure it,"),
        ("part-ring", "pass 1 of 1", "Measure it,"),
        ("broach-inch", "pass 2 of 3", "Measure it,"),
        ("dovetail-inch", "pass 2 of 4", "between the pins"),
        ("boring-head-inch", "pass 2 of 4", "Measure it,"),
    ],
)
def test_went_past_asks_what_helps_in_that_cut(job, place, no):
    at_work = AtWork(job, CUT, place)
    at_work.says("I went past")
    assert no not in at_work.page.instruction


def test_a_hole_of_an_inch_is_not_a_tenth_of_it():
    work = AtWork("boring-head-inch", CUT, "pass 2 of 4")
    work.says("I went past", "measured 0.109")
    assert work.asks


@pytest.mark.parametrize("words", ["nothing moved", "something moved"])
def test_after_a_power_cut_it_may_be_told_at_once_what_moved(words):
    work = AtWork("keyseat-inch", MOVE, "pass 4 of 6")
    assert work.says(RESUME, words).taken


def test_another_pass_may_be_told_while_one_is_asked_about():
    work = AtWork("keyseat-inch", MOVE, "pass 3 of 6")
    work.says("cut ninety thou")
    assert work.asks
    work.says("cut fifty thou")
    assert not work.asks
    assert work.page.number == "0.050"


def test_metal_that_was_cut_before_the_job_can_be_told():
    work = AtWork("keyseat-inch", MOVE, "pass 3 of 6")
    work.says("lost count", "measured 42.5 mm", "yes")  # 0.205 of 0.214 deep
    work.says("I'm set")  # at the floor
    assert work.page.move is not None
    assert work.page.move.direction == "up"
    high = work.bench.job.state.plan.step("measure-size-2").high
    assert Decimal("1.6732") - Decimal(work.page.number) < high.to("inch").magnitude
    assert Decimal(work.page.number) < Decimal("0.02")


def test_the_dial_may_be_told_by_its_name_at_the_touch():
    work = AtWork("keyseat-inch", TOUCH, "touch the top")
    work.says("touched", "bare", RESUME, "scratch that")
    assert work.says("knee dial reads zero").taken


# -- found by the trouble scan --------------------------------------------------------------------


def test_a_count_lost_at_a_hole_is_counted_out_to_the_hole_again():
    work = AtWork("holes-circle", CUT, "Hole 7. Spot")
    at_the_hole = work.stands("table")
    work.says("lost count")
    work.obeys(lambda: work.cut_at_hand)
    assert work.stands("table") == at_the_hole


def test_a_count_lost_at_the_next_touch_is_counted_out_to_the_centre_again():
    work = AtWork("woodruff-inch", TOUCH, "end face")
    over_the_centre = work.stands("saddle")
    work.says("lost count")
    work.obeys(lambda: work.cut_at_hand)
    assert work.stands("saddle") == over_the_centre


def test_after_taking_back_twice_the_whole_turns_are_asked_for():
    work = AtWork("holes-circle", CUT, "Hole 8. Spot")
    hole_8 = work.stands("table")  # nothing is turned from here on
    work.says("scratch that", "scratch that", "table dial reads 0.31")
    assert work.asks
    work.says("table dial reads 14 turns and 0.31")
    assert work.stands("table") == hole_8


def test_a_size_cut_nobody_knows_where_is_found_and_the_rest_counted_from_there():
    """Told 1.115 of a bore that the dial has at 0.983, after the last cut was taken back: what its
    dial read there nobody knows. Ten under a side were sent fifty deeper by the dial as it was."""
    work = AtWork("bore-bush", CUT, "pass 3 of")
    work.says("that's through", "scratch that", "scratch that", "measured 1.115 in", "yes")
    assert "just touching" in work.spoken
    work.says("i'm set")
    move = work.page.move
    assert move is not None
    assert (move.direction, move.distance.magnitude) == ("out", Decimal("0.0105"))
    assert "finishing" in work.page.instruction
