"""Off the plain way: twice, too early, wrongly, contradicting, nonsense."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from assistant import guard
from assistant.free import hear as hearing
from assistant.free.page import page
from assistant.free.places import Lost, as_axis_state, move_of, nowhere, set_to_dial
from assistant.free.talk import Talk
from assistant.present.glance import Moment
from tests.free.talking import ZEROED, after, begun, machine, said, say

MOVING = (*ZEROED, "two inches left")


@pytest.mark.parametrize(
    "words", ["two inches left", "back to zero", "go to a", "half of that", "once more",
              "row of five half an inch apart right", "middle of a and b", "I'm there", "mark this",
              "next hole", "lost count on the table", "I went past", "how far to a"],
)  # fmt: skip
def test_before_any_zero_there_is_no_number(words: str):
    talk = say(begun(), words)
    assert talk.places == begun().places
    assert page(talk).number == ""
    assert said(talk)


def test_a_move_told_twice_is_asked_about_and_never_added_up():
    talk = after([*MOVING, "two inches left"])
    assert said(talk) == "Are you there with the table? Yes or no."
    assert after(["no"], talk).places == talk.places
    there = after(["yes"], talk)
    assert there.places.legs[0].target.magnitude == -4


def test_there_twice_moves_nothing():
    once = after([*MOVING, "I'm there"])
    assert after(["I'm there"], once).places == once.places


@pytest.mark.parametrize("words", ["no", "gibberish", "zero the saddle", "where am I"])
def test_an_open_question_never_takes_another_word_for_its_answer(words: str):
    talk = after([*MOVING, "I'm there", "half of that"])
    assert after([words], talk).places.leg is None


def test_a_number_of_two_readings_is_asked_and_yes_takes_neither():
    talk = after([*ZEROED, "two left"])
    assert said(talk) == "Two thou left, or two inches left? Say it again."
    assert after(["yes"], talk).places.leg is None
    assert after(["two thou left", "table"], talk).places.legs[0].target.magnitude < 0


def test_past_its_travel_nothing_is_given():
    talk = after([*ZEROED, "table 29 inches left", "I'm there", "table 2 inches left"])
    assert "The table has thirty inches of travel." in said(talk)
    assert talk.places.leg is None
    # it stood at zero once, so that it can't be so far the other way either
    right = after(["table 29.5 inches right"], talk)
    assert right.places.leg is not None
    far = after(["I'm there", "table 1 inch right"], right)
    assert far.places.leg is None


def test_a_row_that_does_not_fit_is_refused_before_its_first_hole():
    talk = after([*ZEROED, "row of 40 one inch apart left"])
    assert "hasn't the travel" in said(talk)
    assert talk.places.pattern is None


def test_went_past_comes_again_from_the_same_side():
    talk = after([*MOVING, "I went past by four thou"])
    shown = page(talk)
    assert shown.dial == "back off ½ turn, stop at 0" or "coming back" in shown.dial
    assert after(["I'm there"], talk).places.slides["table"].dialled.magnitude == -2


def test_taken_back_is_a_word_and_no_handle():
    given = after([*MOVING, "scratch that"])
    assert given.places.slides["table"].lost is Lost.TURN
    assert given.places.leg is None
    zero = after([*ZEROED, "scratch that"])
    assert zero.places.slides["saddle"].lost is Lost.ZERO
    assert zero.places.slides["table"].lost is Lost.NOTHING
    # and that outlives the next one taken back
    both = after(["scratch that"], zero)
    assert both.places.slides["saddle"].lost is Lost.ZERO


def test_a_mark_taken_back_costs_no_place():
    talk = after([*ZEROED, "mark this one", "scratch that"])
    assert not talk.places.marks
    assert talk.places.slides["table"].lost is Lost.NOTHING


def test_a_mark_is_set_anew_only_if_that_is_wanted():
    talk = after([*MOVING, "mark this as a", "yes", "table to zero", "I'm there"])
    asked = after(["mark this as a"], talk)
    assert "Alpha is set already." in said(asked)
    assert after(["no"], asked).places.marks == talk.places.marks
    assert after(["yes"], asked).places.marks["a"]["table"].magnitude == 0


def test_zero_where_it_was_moved_by_hand_asks_and_keeps_the_marks_right():
    talk = after([*MOVING, "I'm there", "mark this one", "table to zero", "I'm there"])
    asked = after(["zero the table", "it reads fifty"], talk)
    assert "Which way did the table go last" in said(asked)
    asked = after(["right"], asked)
    assert "Whole turns from zero" in said(asked)
    told = after(["two turns and fifty", "right"], asked)
    # two turns of 0.200 and 0.050 to the right of the old zero, which lies so far to the left now
    assert told.places.marks["a"]["table"].magnitude == Decimal("-2.45")
    unsure = after(["not sure"], asked)
    assert "Alpha has no table any more." in said(unsure)


def test_a_way_that_the_axis_does_not_have_is_said():
    assert said(say(after(ZEROED), "table 1 inch up")) == "The table goes right or left."
    nothing = say(begun("tarn-drill"), "two inches left")
    assert said(nothing) == "Nothing here goes that way. There is quill down or up."


def test_backlash_that_is_not_known_is_said_and_one_side_kept():
    one = machine("leat-vertical")
    table = replace(one.axes["table"], backlash=one.axes["table"].backlash * 0,
                    backlash_known=False)  # fmt: skip
    unknown = replace(one, axes={**one.axes, "table": table})
    talk = after(["zero the table", "left"], Talk(unknown, nowhere(unknown)))
    assert "Its backlash isn't in the machine's file." in said(talk)
    right = after(["one inch right"], talk)
    assert "coming back ½ turn" in page(right).dial
    assert "coming back" not in page(after(["drop it"], after(["one inch left"], talk))).dial


def test_what_the_guard_can_not_show_is_held_back(monkeypatch: pytest.MonkeyPatch):
    """A wrong number of turns, from wherever, is not said."""

    def wrong(*given: object) -> object:
        move = move_of(*given)  # type: ignore[arg-type]
        return replace(move, turns=move.turns + 1)

    monkeypatch.setattr(hearing, "move_of", wrong)
    talk = after(MOVING)
    assert "I hold that back" in said(talk)
    assert page(talk).moment is Moment.ASK
    assert "Whole turns" in said(talk)


def test_the_guard_finds_each_thing_that_is_wrong_with_a_move():
    talk = after(MOVING)
    leg, slide = talk.places.legs[0], talk.places.slides["table"]
    axis = talk.machine.axis("table")
    now, target = as_axis_state(slide), set_to_dial(axis, leg.target)
    move = move_of(axis, slide, leg)
    assert guard.check_move(axis, now, target, 1, move) is None
    assert guard.check_move(axis, now, target * 20, 1, move) is guard.Rule.REACH
    off = replace(move, reading=move.reading + axis.graduation)
    assert guard.check_move(axis, now, target, 1, off) is guard.Rule.NUMBER
    other = replace(move, direction="right")
    assert guard.check_move(axis, now, target, 1, other) is guard.Rule.NUMBER
    straight = replace(move, back_off=None)
    assert guard.check_move(axis, now, target, 1, straight) is guard.Rule.SLACK


def test_a_cross_slide_says_what_its_dial_counts():
    begin = ("zero the cross slide", "in")
    radius = after([*begin, "cross slide in half a millimetre"], begun("brook-lathe"))
    assert "on the radius" in said(radius)
    diameter = after([*begin, "cross slide in forty thou"], begun("rill-lathe"))
    assert "on the diameter" in said(diameter)
    assert "on the diameter" in page(diameter).instruction
