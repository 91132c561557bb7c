"""What was cut is in doubt: what is to be measured, and where the slide is counted from then."""

from __future__ import annotations

import pytest

from assistant.jobs.common.facts import told_sizes
from assistant.jobs.steps import Move, SurfaceKey
from assistant.session.state import Doubt, DoubtKind
from assistant.units import inches, quantity
from tests.factories import Job, answer


@pytest.mark.parametrize(
    ("demo", "asked"),
    [
        ("keyseat-inch", "Measure over the key, and tell me."),
        ("keyseat-metric", "Measure floor to opposite side, and tell me."),
        ("slot-inch", "Measure the depth of the slot, and tell me."),
        ("turn-shaft", "Measure the diameter, and tell me."),
        ("flats-hexagon", "Measure across the flats, and tell me."),
    ],
)
def test_what_is_to_be_measured_is_named_to_ear_and_eye(demo: str, asked: str) -> None:
    job = Job(demo)
    job.to_step("roughing-2-set")
    assert job.say("lost count").endswith(asked)
    assert job.glance.instruction.endswith(asked)


def test_after_the_first_space_of_a_gear_there_is_no_tooth_to_measure() -> None:
    job = Job("gear-inch")
    job.to_step("rough-1-1-back")
    assert "I can take back the word, not the metal." in job.say("scratch that")
    assert not job.state.doubts
    job.to_step("rough-2-1-back")
    assert "Measure the tooth, and tell me." in job.say("scratch that")


def test_across_two_flats_of_which_one_is_cut_is_half_of_a_measurement() -> None:
    """The first flat of a pair is 0.044 deep, the other as yet 0.003: 0.953 across. Taken for both,
    it was 0.0235 deep for 0.044 on the dial, and all to come went 0.0205 too deep."""
    job = Job("flats-hexagon")
    job.to_step("roughing-2-first-back")
    assert "Measure across the flats, and tell me." in job.say("scratch that")
    job.says("measured 0.953 in", "table dial reads 3 turns and 28", "that's through")
    job.to_step("roughing-3-set")
    move = job.state.step
    assert isinstance(move, Move)
    assert move.target == inches("0.085")
    # with both cut, a size 0.010 over what it should be is 0.005 of depth that isn't there
    job.to_step("roughing-3-back")
    job.say("scratch that")
    job.says("measured 0.840 in", "table dial reads 3 turns and 28", "that's through")
    move = job.state.plan.step("finishing-1-set")
    assert isinstance(move, Move)
    assert move.target == inches("0.097")  # and 0.003 short of it, as the heavy pass may spring


def test_a_depth_told_for_a_size_over_the_key_is_asked_back() -> None:
    """The slot's own depth is measured more easily, and would be a slot cut right through."""
    job = Job()
    job.to_step("roughing-3-set")
    job.say("lost count")
    outcome = job.try_saying("measured one hundred and forty thou")
    assert answer(outcome).endswith("Yes or no.")
    assert outcome.state.doubts


def test_where_nothing_is_cut_yet_a_lost_count_goes_back_to_the_touch() -> None:
    """The second seat in line, the knee three turns down: the first seat's floor is elsewhere, and
    to come up to it would plunge."""
    job = Job("keyseat-two-in-line")
    job.to_step("seat-2-witness-1-set")
    assert "Back to the touch: knee down past zero, up to zero." in job.say("lost count")
    assert job.say("touched").startswith("Knee up three.")


def test_where_nothing_is_cut_yet_a_slipped_dial_is_zeroed_on_the_spot() -> None:
    job = Job("keyseat-two-in-line")
    job.to_step("seat-2-witness-1-set")
    assert "Touch for the depth where nothing is cut." in job.say("dial slipped")
    assert job.state.step_id == "touch-knee"
    assert job.says("touched", "bare").strip()


def test_what_was_cut_is_where_the_slide_stood_then_not_where_it_stands() -> None:
    """Between two steps of a shaft the cross slide is moved out: the last cut was at 73."""
    job = Job("turn-stepped")
    job.to_step("second-roughing-1-set")
    stands = job.state.axes["cross slide"].position
    assert stands == inches("-0.090")
    said = job.say("lost count")
    asked = "Come to what was turned, just touching. Set the cross slide dial to seventy-three"
    assert asked in said
    job.say("i'm set")
    # 0.144 as planned: nothing else was turned since
    assert job.glance.dial == "under a turn: 71, stop at 144"


def test_a_wall_in_doubt_is_measured_on_its_own_axis() -> None:
    job = Job("slot-inch")
    job.to_step("near-finishing-1-cut")
    job.say("that's through")
    assert "from the back to the wall" in job.say("scratch that")
    assert job.state.doubts == (Doubt(DoubtKind.METAL, "saddle", SurfaceKey("near.size")),)
    stood = job.state.axes["saddle"].position
    job.say("measured 0.760 in")
    assert told_sizes(job.state.facts, SurfaceKey("near.size"))[-1].at == stood


def test_a_fed_cut_taken_back_asks_how_far_the_table_went() -> None:
    """Eight whole turns further the dial reads the same: taken for the start, the feed would run
    eight turns past the end of the seat."""
    job = Job("keyseat-metric")
    job.to_step("roughing-2-cut")
    start = job.state.axes["table"].position
    job.say("that's through")
    job.say("scratch that")
    assert job.state.doubts == (
        Doubt(DoubtKind.METAL, "knee", SurfaceKey("size")),
        Doubt(DoubtKind.TURN, "table"),
    )
    assert job.say("measured 28.64 mm").endswith("Read me the table dial, with its whole turns "
                                                 "from zero.")  # fmt: skip
    job.say("table dial reads thirteen turns")
    assert job.state.axes["table"].position == start + quantity(32, "mm")
    assert job.glance.what == "table stays at"


def test_whole_turns_taken_back_are_asked_for() -> None:
    job = Job("keyseat-metric")
    job.to_step("to-start")
    assert job.glance.dial == "5 turns, stop at 0.00"
    job.say("I'm set")
    job.say("scratch that")
    assert job.state.doubts == (Doubt(DoubtKind.TURN, "table"),)
    job.say("table dial reads no turns")
    assert job.glance.dial == "5 turns, stop at 0.00"


def test_a_feed_s_dial_short_of_zero_is_not_taken_for_past_it() -> None:
    """The cross slide fed from 1.2 before its zero to 2.52 after it, on a dial of 4 a turn."""
    job = Job("turn-metric")
    job.to_step("shoulder-roughing-1-cut")
    job.say("that's through")
    job.say("scratch that")
    job.say("measured 59.80 mm")
    job.say("cross slide dial reads no turns and 2.52")
    assert job.state.axes["cross slide"].position == quantity("2.52", "mm")
    assert job.glance.dial == "stays, at 2.52"
