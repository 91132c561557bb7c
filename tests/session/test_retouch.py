"""Touched again in the middle of a job: what was cut is neither cut again nor touched as if it were
the top, and the job goes on where it was."""

from __future__ import annotations

from dataclasses import replace

from assistant.session import retouch
from assistant.session.state import Doubt, DoubtKind, Phase
from assistant.units import quantity
from tests.factories import Job, expected_words


def test_a_table_dial_that_slipped_has_its_end_touched_again_and_nothing_else() -> None:
    """The top at the start of the seat is cut away: to touch it there would sink the seat twice."""
    job = Job("keyseat-metric")
    job.to_step("roughing-3-back")
    stood = job.state.axes["knee"].position
    assert "Now the end face." in job.say("dial slipped")
    job.says("touched", "bare")
    assert job.state.step_id == "to-start"
    assert job.say("I'm set").startswith("Back to where we were.")
    assert job.state.step_id == "roughing-3-back"
    # the knee was let down for it: where it is, only its dial tells
    assert job.state.doubts == (Doubt(DoubtKind.TURN, "knee"),)
    job.says("knee dial reads three turns and point six", "no", "yes")
    assert job.state.axes["knee"].position < stood
    assert job.glance.what == "table stays at"
    job.say("I'm set")
    assert job.state.step_id == "roughing-4-set"
    assert job.glance.what == "knee up"


def test_another_cutter_is_brought_to_the_floor_and_not_to_a_top_that_is_gone() -> None:
    job = Job("keyseat-metric")
    job.to_step("roughing-3-set")
    job.says("new cutter", "measured 8.00 mm", "I'm set", "I'm set")
    touched = [job.state.step_id]
    for words in ("touched", "bare", "I'm set", "yes", "touched", "bare", "I'm set"):
        job.say(words)
        touched.append(job.state.step_id)
    assert "touch-side" in touched
    assert "touch-table" in touched
    assert "touch-knee" not in touched
    # run back to the start first, then the depth
    assert job.state.step_id == "roughing-2-back"
    said = job.say("I'm set")
    assert said.endswith("Measure the slot, floor to opposite side, and tell me.")
    assert job.state.step_id == "roughing-3-set"
    said = job.say("measured 29.22 mm")
    assert "Come to the floor, just touching." in said
    assert job.state.axes["knee"].position == quantity("0.78", "mm")


def test_a_dial_that_cannot_be_set_is_read_at_the_floor() -> None:
    job = Job("keyseat-two-in-line")
    job.to_deep_pass("forty seven")
    job.to_step("roughing-3-set")
    job.says("something moved", "touched", "bare", "dial reads ten", "I'm set", "yes")
    job.says("touched", "bare", "dial reads five", "I'm set", "I'm set")
    assert job.state.doubts[0].kind is DoubtKind.METAL
    said = job.say("measured 1.016 in")
    asked = "Come to the floor, just touching. What does the knee dial read there?"
    assert said.endswith(asked)
    assert job.glance.instruction == asked
    stood = job.state.cut_at["knee"].position
    job.say("dial reads seventy seven")
    assert job.state.axes["knee"].position == stood
    # from there on by the size: 50 to the depth that 97 of the plan is
    assert job.glance.dial == "under a turn: 50, past zero, stop at 27"


def test_a_new_lathe_tool_is_brought_to_what_was_turned() -> None:
    job = Job("turn-metric")
    job.to_step("roughing-3-set")
    stood = job.state.axes["cross slide"].position
    job.says("new cutter", "touched")
    assert "Measure the diameter" in job.say("I'm set")
    said = job.say("measured 27.90 mm")
    assert "Come to what was turned, just touching." in said
    assert job.state.axes["cross slide"].position == stood


def test_between_holes_the_depth_is_touched_beside_them() -> None:
    job = Job("holes-grid")
    job.to_step("hole-3-table")
    assert "Touch for the depth where nothing is cut." in job.say("something moved")


def test_what_was_measured_holds_on_the_way_back() -> None:
    job = Job("turn-metric")
    job.to_step("shoulder-roughing-1-set")
    job.says("dial slipped", "touched", "I'm set")
    seen = set()
    while job.state.back_to:
        seen.add(job.state.step_id)
        if job.state.doubts:
            job.says("cross slide dial reads one turn and two millimetres", "no", "yes")
        else:
            job.say(expected_words(job.state))
    assert seen
    assert not any(name.startswith("measure") for name in seen), seen
    assert job.state.step_id == "shoulder-roughing-1-set"


def test_a_place_that_another_cutter_has_no_more_is_the_first_cut_to_come() -> None:
    """Four rows with the first cutter, two with the next: row 3 is gone from the plan."""
    job = Job("slot-pocket")
    job.to_step("roughing-2-row-2-in")
    assert job.state.plan is not None
    lost = replace(job.state, back_to="roughing-2-row-7-in", retouching=("saddle",))
    assert retouch.was_at(lost) == "roughing-2-row-2-over-cut"
    assert retouch.origin(lost).startswith("roughing-2-")


def test_a_dial_that_slipped_between_holes_has_all_touched_again() -> None:
    """The drill is in, and the edges are touched with another tool: its point is touched again."""
    job = Job("holes-grid")
    job.to_step("hole-3-table")
    job.say("dial slipped")
    seen = [job.state.step_id]
    while job.state.retouching:
        job.say("bare" if job.state.phase is Phase.PAPER else expected_words(job.state))
        seen.append(job.state.step_id)
    assert {"edge-table", "edge-saddle", "set-speed", "touch-drill"} <= set(seen)
    assert job.state.step_id == "hole-3-table"
