"""A machine told by questions: what each answer, right or wrong, makes of it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from itertools import pairwise

import pytest

from assistant.filling.machines.naming import file_name
from assistant.filling.machines.sheet import MachineSheet
from assistant.filling.page import page
from assistant.filling.shop import NEW_MACHINE
from assistant.filling.talk import Talk, of_a_machine
from assistant.filling.words import question, summary
from assistant.machine import Machine, parse_machine
from assistant.spoken import Heard
from tests.filling.talking import (
    DRILL,
    NAMED,
    PLATE,
    QUILL,
    SPEEDS,
    WHEEL,
    after,
    asked,
    begun,
    say,
)

OFF = "Spindle off, and the machine isolated, while you turn a handle or read a plate."


def fresh(**taken: str) -> Talk:
    return of_a_machine(replace(begun().shop, taken=taken))


def told(lines: Iterable[str], talk: Talk | None = None) -> Talk:
    return after(lines, talk or fresh())


def machine(talk: Talk) -> Machine:
    assert isinstance(talk.sheet, MachineSheet)
    return talk.sheet.machine


def spoken(talk: Talk, words: str) -> Talk:
    return say(talk, words, engine="moonshine")


def test_a_drill_press_told():
    talk = told(DRILL)
    assert asked(talk) == "Begin a job now?"
    quill = machine(talk).axes["quill"]
    assert str(quill.per_turn) == "0.5 inch"
    assert quill.settable
    assert not quill.backlash_known
    assert [int(speed.magnitude) for speed in machine(talk).speeds] == [60, 95, 140]
    assert machine(talk).feeds == ()
    assert machine(talk).notes == ("Speeds by belts: isolate the machine before a belt is moved.",)


def test_new_machine_is_one_of_what_can_be_begun():
    shop = {"new job": "question by question", NEW_MACHINE: "a machine of yours"}
    assert say(begun(**shop), "new machine").end == NEW_MACHINE
    assert spoken(begun(**shop), "a new machine").end == NEW_MACHINE


def test_the_spindle_is_off_before_a_handle_is_turned():
    talk = told(NAMED[:-1])
    assert question(talk) == (OFF, "Has the quill a handle with a dial?")
    talk = say(talk, "yes")
    assert OFF not in question(talk), "it is said once"
    assert page(talk).cautions == (OFF,), "and shown as long as it holds"
    assert page(told(SPEEDS)).cautions == (OFF,)


def test_what_has_to_be_done_is_said_once_and_again_when_asked():
    talk = told(NAMED)
    assert question(talk)[0].startswith("Indicator on the quill, or a rule.")
    assert len(question(say(talk, "banana"))) == 1
    assert len(question(say(talk, "say again"))) == 2


# -- the sums -------------------------------------------------------------------------------------


def test_lines_times_one_line_have_to_make_the_turn_and_both_are_shown():
    talk = told((*NAMED, "0.499 in", "100", "5 thou"))
    both, which = question(talk)
    assert both.startswith("100 lines of five thou make a half, and the turn was four ninety-nine")
    assert which == "Which is wrong: the travel, the lines, or one line?"
    assert "per_turn" not in talk.sheet.text
    assert page(talk).answer == (*talk.answer, both)


@pytest.mark.parametrize(
    ("wrong", "then", "turn"),
    [
        ("the travel", ("yes",), "0.5 inch"),  # what the dial makes of it is offered
        ("the lines", ("50",), "0.25 inch"),
        ("one line", ("0.0025",), "0.25 inch"),
    ],
)
def test_what_is_wrong_is_asked_anew_until_it_fits(wrong: str, then: tuple[str, ...], turn: str):
    moved = "0.499 in" if wrong == "the travel" else "1/4 in"
    talk = told((*NAMED, moved, "100", "5 thou", wrong, *then, *WHEEL[3:], *DRILL[10:]))
    assert str(machine(talk).axes["quill"].per_turn) == turn


@pytest.mark.parametrize("line", ["yes", "0.02", "banana", "skip", "that's all", "", "no"])
def test_nothing_else_gets_past_a_sum_that_does_not_fit(line: str):
    talk = told((*NAMED, "0.4 in", "100", "5 thou"))
    again = say(talk, line)
    assert question(again)[-1] == question(talk)[-1]
    assert say(again, "back").asking != again.asking


def test_a_dial_of_the_diameter_counts_twice_what_the_slide_goes():
    lathe = ("lathe", "inch", "yes", "yes", "diameter", "one hundred thou", "200", "one thou")
    talk = told((*lathe, "in", "skip", "settable", "measured", "0.004", "0.194", "6 in"))
    assert 'per_turn = "0.2 in"' in talk.sheet.text
    assert 'backlash = "0.01 in"' in talk.sheet.text
    assert 'travel = "12 in"' in talk.sheet.text
    other = told((*lathe[:4], "travel", *lathe[5:]))
    assert "make two hundred thou, and the turn was one hundred thou" in question(other)[0]
    fits = told(("what it counts", "diameter"), other)
    assert fits.asking is not None
    assert fits.asking.key == "axes.cross_slide.rises"


def test_a_metric_dial_on_an_inch_machine_is_asked_about_and_kept_as_confirmed():
    talk = told((*NAMED, "2 mm", "100", "0.02 mm"))
    assert question(talk)[0] == "The machine's unit is inch."
    talk = told(("yes", *WHEEL[3:], *DRILL[10:]), talk)
    assert "confirmed = true" in talk.sheet.text
    assert str(machine(talk).axes["quill"].per_turn) == "2 millimeter"


def test_what_is_odd_is_asked_with_its_reason_and_no_has_it_measured_again():
    talk = told((*NAMED, "2 in", "yes", "100", "20 thou"))
    assert "a handwheel's turn is 0.02 to 1 in" in question(talk)[0]
    anew = say(talk, "no")
    assert asked(anew) == "How far did the quill go in one turn?"
    ordinary = told((*WHEEL, *DRILL[10:]), anew)
    assert "confirmed" not in ordinary.sheet.text


def test_a_confirmation_lapses_with_what_it_was_about():
    talk = told((*NAMED, "2 in", "yes", "100", "20 thou", "yes", *WHEEL[3:], *DRILL[10:]))
    assert asked(talk) == "Begin a job now?"
    talk = told(("change a turn of the quill", "half an inch", "one line", "five thou"), talk)
    assert asked(talk) == "Begin a job now?"
    assert "confirmed" not in talk.sheet.text


def test_a_machine_without_any_dial_is_refused_where_that_is_told():
    talk = told((*NAMED[:3], "no"))
    assert talk.answer[0] == "Can't be."
    assert asked(talk) == "Has the quill a handle with a dial?"


# -- backlash ------------------------------------------------------------------------------------


def test_backlash_is_worked_out_across_the_dials_zero():
    talk = told((*NAMED, *WHEEL, "measured", "0.004", "0.494"))
    assert talk.answer[-1] == "Backlash worked out, quill: ten thou."
    assert 'backlash = "0.01 in"' in talk.sheet.text


def test_a_reading_that_the_dial_can_not_show_is_refused_at_its_question():
    talk = told((*NAMED, *WHEEL, "measured", "0.6 in"))
    assert talk.answer[0] == "Can't be."
    assert "one turn is 0.5 in" in talk.answer[1]
    assert asked(talk) == "What does the dial read?"


@pytest.mark.parametrize(
    ("second", "reason"),
    [("0.004", "Both sides read the same"), ("0.204", "a backlash of two hundred thou")],
)
def test_a_backlash_that_is_not_likely_is_measured_once_more(second: str, reason: str):
    talk = told((*NAMED, *WHEEL, "measured", "0.004", second))
    assert reason in question(talk)[0]
    talk = say(talk, "no")
    assert asked(talk) == "What does the dial read?"
    talk = told(("0.004", "0.012"), talk)
    assert 'backlash = "0.008 in"' in talk.sheet.text
    assert asked(talk) == "How far does the quill go, from end to end?"


def test_backlash_that_is_skipped_is_not_known_and_said_so():
    talk = told((*NAMED, *WHEEL, "skip"))
    assert talk.answer == ("Backlash of the quill: not known, none is counted.",)
    none = told((*NAMED, *WHEEL, "none"))
    assert 'backlash = "0 in"' in none.sheet.text


# -- rows ----------------------------------------------------------------------------------------


def test_a_number_said_twice_is_taken_once():
    talk = told((*SPEEDS, "sixty", "ninety five", "ninety five"))
    assert talk.answer == ("Ninety-five is there already.",)
    assert talk.sheet.row == (60, 95)


@pytest.mark.parametrize(
    ("line", "asked_back"),
    [
        ("forty", "Forty after ninety-five doesn't rise. Is it right?"),
        ("1400", "Fourteen hundred after ninety-five is a long step. Is it right?"),
        ("3", "Three? Five to thirty thousand is usual. Is it right?"),
    ],
)
def test_what_does_not_go_on_the_row_is_asked_about(line: str, asked_back: str):
    talk = told((*SPEEDS, "sixty", "ninety five", line))
    assert asked(talk).startswith(asked_back)
    assert talk.sheet.row == (60, 95)
    assert say(talk, "no").sheet.row == (60, 95)
    assert say(talk, "scratch that").sheet.row == (60, 95), "only the number that was asked about"
    assert say(talk, "that's all").doubt == talk.doubt
    assert len(say(talk, "yes").sheet.row) == 3


def test_fifteen_and_fifty_are_asked_apart_where_both_go_on_the_row():
    talk = told((*SPEEDS, "twelve"))
    assert asked(spoken(talk, "fifteen")) == "Fifteen, not fifty? Yes or no."
    assert spoken(told((*SPEEDS, "forty")), "fifty").sheet.row == (40, 50), "fifteen can't be"
    assert told((*SPEEDS, "twelve", "fifteen")).sheet.row == (12, 15), "typed, nobody misheard"


def test_two_numbers_in_one_breath_are_no_third_one():
    talk = spoken(told(SPEEDS), "sixty ninety five")
    assert asked(talk) == "Sixty, and then ninety-five? Yes or no."
    assert say(talk, "yes").sheet.row == (60, 95)
    assert say(talk, "no").sheet.row == ()


def test_a_plate_read_from_the_fastest_down_is_put_in_order():
    talk = told((*SPEEDS, "1400", "900", "yes", "560", "340", "that's all"))
    assert talk.sheet.told["?speeds"] == (340, 560, 900, 1400)


def test_a_row_typed_in_one_line_is_read_back_in_one():
    talk = told((*SPEEDS, "45 65 90 65"))
    assert talk.answer == ("Forty-five, sixty-five, ninety.", "Sixty-five is there already.")
    assert asked(talk) == "And the next?"
    assert page(talk).detail == ("45, 65, 90",)


def test_a_row_typed_in_one_line_is_taken_as_far_as_nothing_is_odd():
    talk = told((*SPEEDS, "60 95, 140; 15 320"))
    assert talk.sheet.row == (60, 95, 140)
    assert talk.answer[-1] == "Taken as far as one forty."
    assert "doesn't rise" in asked(talk)


def test_the_last_number_is_taken_back_and_the_row_is_no_answer_yet():
    talk = told((*SPEEDS, "sixty", "nineteen", "yes", "scratch that"))
    assert talk.answer == ("Nineteen taken out.",)
    assert say(talk, "skip").answer == ("That's all ends the row.",)
    assert "speeds" not in talk.sheet.text
    assert asked(told(("back", "back"), talk)) == "Are the speeds by belts, by gears, or variable?"


def test_an_empty_row_does_not_end():
    talk = told((*SPEEDS, "that's all"))
    assert asked(talk) == "What is the slowest speed?"
    assert say(talk, "skip").answer == ("That one I need.",)


def test_a_variable_drive_is_told_by_its_ends():
    talk = told((*QUILL, "variable", "60", "40"))
    assert "must be over the slowest" in talk.answer[1]
    talk = told(("4200", "none", "no"), talk)
    speeds = [speed.magnitude for speed in machine(talk).speeds]
    assert (speeds[0], speeds[-1]) == (60, 4200)
    assert all(1 < high / low < Decimal("1.15") for low, high in pairwise(speeds))
    assert "Variable speed, 60 to 4200 rpm" in machine(talk).notes[0]


def test_feeds_a_turn_are_in_thou_on_an_inch_machine():
    lathe = ("lathe", "inch", "yes", "no", "no", "yes", "1 in", "yes", "200", "five thou", "left")
    talk = told(
        (*lathe, "right", "settable", "none", "30 in", "no", "gears", "45 70", "that's all")
    )
    talk = spoken(told(("a turn",), talk), "two and a half")
    assert talk.answer == ("Two and a half thou a turn.",)
    assert talk.sheet.row == (Decimal("0.0025"),)


def test_feeds_a_minute_given_as_feeds_a_turn_are_asked_about():
    talk = told((*SPEEDS, *PLATE, "a minute", "0.002", "yes", "0.004", "yes", "that's all", "no"))
    assert "wanted 0.05 to 250 in a minute" in question(talk)[0]
    sure = say(talk, "yes")
    assert "confirmed = true" in sure.sheet.text
    assert asked(say(talk, "no")) == "What is the finest feed?"


# -- its name ------------------------------------------------------------------------------------


def test_no_file_is_written_over_unasked():
    there = {"drill-press": "You have a machine of that name."}
    talk = told(("drill press", "inch"), fresh(**there))
    assert asked(talk).startswith("Is it called Big drill press?"), "a free one is offered"
    talk = say(talk, "drill press")
    assert question(talk)[0] == "You have a machine of that name."
    again = say(talk, "no")
    assert "name" not in again.sheet.told
    over = say(talk, "yes")
    assert over.sheet.told["?over"] is True
    renamed = told(("back", "back", "green drill press"), over)
    assert "?over" not in renamed.sheet.told


@pytest.mark.parametrize(
    ("name", "stem"),
    [("Big mill", "big-mill"), ("Ålder #2 (invented)", "alder-2-invented"), ("Ж", "lathe"),
     ("../../etc/passwd", "etc-passwd"), ("a" * 300, "a" * 60)],
)  # fmt: skip
def test_the_file_is_named_after_it_and_can_be_named_nothing_worse(name: str, stem: str):
    assert file_name(name, "lathe") == stem


# -- off the plain way ---------------------------------------------------------------------------


def test_start_over_begins_the_machine_anew():
    talk = told(("start over", "yes"), told(DRILL))
    assert asked(talk) == "What kind of machine is it?"
    assert talk.work == NEW_MACHINE


def test_another_kind_leaves_out_what_it_has_not():
    talk = told(("change the kind", "vertical mill", "no", "no", "no"), told(DRILL))
    assert asked(talk) == "Begin a job now?"
    assert set(machine(talk).axes) == {"quill"}
    assert machine(talk).kind == "vertical mill"


def test_back_goes_all_the_way():
    talk = told(DRILL)
    for _ in range(60):
        talk = say(talk, "back")
    assert asked(talk) == "What kind of machine is it?"
    assert say(talk, "back").answer == ("That's the first question.",)


def test_why_and_help_answer_at_every_question():
    talk = fresh()
    for line in DRILL:
        assert say(talk, "why").answer[0].endswith("."), asked(talk)
        assert say(talk, "what can I say").answer
        talk = say(talk, line)


def test_all_that_is_in_the_file_is_shown():
    lines = summary(told(DRILL))
    assert lines[0] == "Drill press: drill press, in inch"
    assert "travel a turn of the quill: 1/2 in" in lines
    assert "the speeds: 60, 95, 140" in lines


def test_every_answer_leaves_a_text_that_can_be_read_or_lacks_something():
    talk = fresh()
    for line in DRILL:
        talk = say(talk, line)
    parse_machine(talk.sheet.text, "told")


def test_the_same_by_voice_and_typed():
    talk = after(DRILL, fresh(), engine="moonshine")
    assert talk.sheet.text == told(DRILL).sheet.text


def test_sound_that_is_no_command_is_not_answered():
    talk = told(SPEEDS)
    assert say(talk, "", engine="moonshine") is talk
    assert say(talk, "sixty", engine="moonshine", confidence=0.1) is talk
    assert Heard("").words == ""
