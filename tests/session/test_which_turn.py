"""A dial shows its part of a turn and no more: where another turn reads the same and may be meant,
it is asked, and nothing is taken for granted."""

from __future__ import annotations

from decimal import Decimal

import pytest

from assistant.jobs.steps import Move, Touch
from assistant.machine import WAYS
from assistant.phrases import saying
from assistant.present.glance_of import glance
from assistant.session.instruct import dial_at
from assistant.session.state import DoubtKind, State
from assistant.units import Quantity, inches
from tests.factories import Job, answer
from tests.session.walks import said, unmoved, walked


def state_at(demo: str, step: str) -> State:
    return next(state for state in walked(demo) if state.step_id == step)


PAST = (
    ("taper-morse", "roughing-2-set", "cross slide", "one ninety six", "0.196", "-0.004"),
    ("face-length", "roughing-2-set", "compound", "eighty two", "0.082", "-0.018"),
    ("thread-external", "roughing-2-set", "compound", "ninety four", "0.094", "-0.006"),
    # the knee was dropped three turns, and comes up past its zero
    ("keyseat-two-in-line", "seat-2-witness-1-set", "knee", "one turn and thirty eight",
     "0.138", "-0.162"),
)  # fmt: skip
"""Demo, step, dial, what it reads past the finished depth, and the two places that are read so,
in inches from the zero: worked by hand from turns of 0.200 (cross slide), 0.100 and 0.100 in."""


@pytest.mark.parametrize(("demo", "step", "axis", "reading", "past", "before"), PAST)
def test_past_the_finished_depth_is_asked_and_not_taken_for_the_turn_before(
    demo: str, step: str, axis: str, reading: str, past: str, before: str
) -> None:
    state = state_at(demo, step)
    assert isinstance(state.step, Move)
    assert state.step.limit is not None
    assert inches(past) > state.step.limit
    asked = said(state, f"{axis} dial reads {reading}", "typed")
    assert answer(asked).lower().replace("-", " ") == (
        f"{reading}, {WAYS[axis][0]} from zero? yes or no."
    )
    assert unmoved(state, asked.state)
    assert glance(asked.state).move is None
    yes = said(asked.state, "yes").state
    assert yes.axes[axis].position == inches(past)
    assert [doubt.kind for doubt in yes.doubts] == [DoubtKind.METAL]
    assert yes.figure is None
    # no may as well mean that the number was misheard: then it has to be read with its turns
    no = said(asked.state, "no").state
    assert unmoved(state, no)
    assert [doubt.kind for doubt in no.doubts] == [DoubtKind.TURN]
    assert glance(no).move is None
    assert inches(before) == inches(past) - wheel_turn(state, axis)


def wheel_turn(state: State, axis: str) -> Quantity:
    """How far apart the two places are: a turn, or in three turns down those above and below."""
    turn = state.machine.axis(axis).per_turn
    return turn * 3 if state.axes[axis].position == turn * -3 else turn


@pytest.fixture
def job() -> Job:
    return Job()


def knee(job: Job) -> Quantity:
    return job.state.axes["knee"].position


def test_what_was_told_and_is_read_so_is_reached(job: Job) -> None:
    """From 3 on to 71: 29 short of the zero reads the same, and nobody was sent there."""
    job.to_deep_pass()
    job.say("dial reads seventy one")
    assert knee(job) == inches("0.071")
    assert job.state.step_id == "roughing-2-cut"


@pytest.mark.parametrize(
    ("reading", "stands"),
    [("forty", "0.040"),  # on the way, once
     ("seventy five", "0.075"),  # four past, or 25 short of zero: the safer of the two
     ("three", "")],  # not begun, or 32 past
)  # fmt: skip
def test_on_the_way_it_is_where_it_reads(job: Job, reading: str, stands: str) -> None:
    job.to_deep_pass()
    outcome = job.try_saying(f"dial reads {reading}")
    if stands:
        assert job.state.question is None
        assert knee(job) == inches(stands)
    else:
        assert answer(outcome) == "One turn and three? Yes or no."
        assert knee(job) == inches("0.003")


def test_after_no_it_is_read_where_it_was_to_stand(job: Job) -> None:
    """Ten short of zero can't be told in turns from it: come on, and read."""
    job.to_deep_pass()
    job.try_saying("dial reads ninety")  # 19 past, or 10 short of zero
    assert job.state.question is not None
    assert job.say("no") == "All right. Read me the knee dial, with its whole turns from zero."
    assert job.glance.move is None
    assert knee(job) == inches("0.003")
    assert job.say("dial reads seventy one").startswith("Which turn?")
    assert job.glance.move is None
    job.say("dial reads no turns and seventy one")
    assert not job.state.doubts
    assert knee(job) == inches("0.071")


def test_no_where_nothing_was_moved_leaves_it_there(job: Job) -> None:
    job.to_deep_pass()
    job.try_saying("dial reads three")  # not begun, or 32 past
    assert job.say("no").startswith("All right. Knee up sixty-eight, to seventy-one.")
    assert knee(job) == inches("0.003")


def test_a_number_that_was_misheard_is_taken_back(job: Job) -> None:
    job.to_deep_pass()
    job.try_saying("dial reads ninety")
    job.says("no", "scratch that")
    assert DoubtKind.TURN not in [doubt.kind for doubt in job.state.doubts]
    assert knee(job) == inches("0.003")


def test_another_reading_is_told_at_once_and_weighed_anew(job: Job) -> None:
    job.to_deep_pass()
    job.try_saying("dial reads ninety")
    assert job.say("no, eighty nine") == "Eighty-nine, up from zero? Yes or no."
    job.say("no, one turn and twelve")
    assert knee(job) == inches("0.112")
    assert job.state.question is None


def test_a_long_way_leaves_many_turns_and_they_have_to_be_told(job: Job) -> None:
    """The saddle goes 0.9375 in from its zero, at 0.200 a turn."""
    job.to_step("to-centre")
    assert job.say("saddle dial reads fifty") == (
        "Which turn? Read me the saddle dial, with its whole turns from zero."
    )
    assert job.state.axes["saddle"].position == inches("0")
    assert job.glance.move is None
    job.say("saddle dial reads one thirty seven and a half")
    assert job.glance.move is None, "the end of it too: a turn less looks the same"
    said = job.say("four turns and one thirty seven and a half")
    assert said.startswith("Saddle, four turns and one thirty-seven and a half.")
    assert not job.state.doubts
    assert job.state.axes["saddle"].position == inches("0.9375")


def test_resumed_and_read_in_another_turn_is_asked_once_for_each(job: Job) -> None:
    job.to_step("to-centre")
    job.resume()
    job.say("dial reads fifty")
    assert [doubt.kind for doubt in job.state.doubts] == [DoubtKind.TURN, DoubtKind.MOVED]
    job.say("nothing moved")
    job.say("two turns and fifty")
    assert not job.state.doubts
    assert job.state.axes["saddle"].position == inches("0.450")


def test_a_lost_turn_is_a_lost_count(job: Job) -> None:
    job.to_step("to-centre")
    job.say("saddle dial reads fifty")
    assert "Back to the touch" in job.say("lost count")


def test_a_command_taken_back_leaves_the_dial_where_it_was_set(job: Job) -> None:
    """Only the word is taken back: the knee stands at 71, and not 29 short of its zero."""
    job.to_deep_pass()
    job.says("i'm set", "scratch that")
    assert job.state.doubts
    job.say("dial reads seventy one")
    assert knee(job) == inches("0.071")


def test_an_axis_that_stands_is_asked_for_beyond_a_quarter_of_a_turn(job: Job) -> None:
    job.to_deep_pass()
    job.to_step("roughing-2-cut")
    job.say("knee dial reads seventy three")
    assert knee(job) == inches("0.073")
    job.say("scratch that")
    job.says("dial reads seventy one")
    outcome = job.try_saying("knee dial reads twenty")
    assert answer(outcome) == "One turn and twenty? Yes or no."
    job.say("no")
    assert [doubt.kind for doubt in job.state.doubts] == [DoubtKind.TURN]
    job.say("no turn and twenty")
    assert knee(job) == inches("0.020")


def test_the_second_of_two_touches_is_not_a_turn_off() -> None:
    """The plan foresees it from the drawing, to less than the work may be off it."""
    job = Job("centre-bore")
    job.to_step("touch-x-2")
    job.say("touched")
    assert isinstance(job.state.step, Touch)
    near = job.state.step.near
    assert near is not None
    wheel = job.state.machine.axis(job.state.step.axis)
    off = near + wheel.per_turn * Decimal("0.4") * job.state.step.toward
    reading = dial_at(wheel, job.state.axes[wheel.name], off)
    outcome = job.try_saying(f"dial reads {saying.say_turns(0, reading)}")
    assert job.state.question is not None
    assert answer(outcome).endswith("Yes or no.")
    assert job.state.step_id == "touch-x-2"


def zeroing() -> State:
    """The side of the shaft touched, on a dial of .125 a turn that can't be set to zero."""
    job = Job("keyseat-two-in-line")
    job.to_step("touch-side")
    job.says("touched", "bare")
    return job.state


@pytest.mark.parametrize(
    ("typed", "reads"),
    [
        ("dial reads 45½", "0.0455"),
        ("dial reads 45.5", "0.0455"),
        ("45.5", "0.0455"),
        ("dial reads 45 1/2", "0.0455"),
        ("dial reads ½", "0.0005"),
        ("dial reads .5", "0.0005"),
        ("dial reads 0.0455", "0.0455"),
    ],
)
def test_a_half_thou_is_typed_as_it_is_shown(typed: str, reads: str) -> None:
    taken = said(zeroing(), typed, "typed").state
    assert taken.axes["saddle"].zero_reading == inches(reads)


def test_a_zero_is_read_within_one_turn_of_the_dial() -> None:
    state = zeroing()
    asked = said(state, "dial reads point two four oh")
    assert answer(asked).endswith("Yes or no.")
    assert unmoved(state, asked.state)


def test_short_of_zero_is_asked_for_after_past_zero() -> None:
    job = Job("keyseat-two-in-line")
    job.to_step("seat-2-witness-1-set")
    assert job.say("knee dial reads ninety eight").startswith("Which turn?")
    assert job.say("zero turns and ninety eight") == "Ninety-eight, up from zero? Yes or no."
    assert job.say("no") == "Ninety-eight, down from zero? Yes or no."
    assert job.glance.instruction == "Ninety-eight, down from zero? Yes or no."
    job.say("yes")
    assert job.state.axes["knee"].position == inches("-0.002")
    assert job.glance.dial == "under a turn: 5, past zero, stop at 3"


def test_out_of_a_thread_by_one_turn_the_side_of_zero_is_asked():
    """Said to be out of the thread before it was, and taken back: `no turns and 3.76` is where the
    tool still stands, 0.24 out of the zero, and where a turn in would have brought it. It was taken
    for that, and the carriage was to be run back with the tool in the thread."""
    job = Job("thread-internal")
    job.to_step("roughing-2-back")
    job.says("i'm set", "scratch that")
    told = "cross slide dial reads zero turns and three point seven six"
    assert job.say(told) == "Three point seven six, in from zero? Yes or no."
    assert job.say("no") == "Three point seven six, out from zero? Yes or no."
    assert "Cross slide in, one turn." in job.say("yes")


def test_the_side_of_zero_is_named_by_its_way_also_going_out():
    """With the tool 0.161 in from its touch, to be moved out, "past zero" was out, and every
    machinist in the cut said yes to it: the slide was then sent a turn too far in."""
    job = Job("turn-shaft")
    job.to_step("witness-1-set")
    job.says("already cut to one four hundred", "yes", "something moved")
    job.to_step("shoulder-clear")
    assert job.state.axes["cross slide"].position == inches("0.161")
    told = "dial reads no turns and one sixty one"
    assert job.say(told) == "One sixty-one, out from zero? Yes or no."
    assert job.say("no") == "One sixty-one, in from zero? Yes or no."
    job.say("yes")
    assert job.state.axes["cross slide"].position == inches("0.161")
