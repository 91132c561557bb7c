"""What is found wrong where nothing measures it, and what work that moved has to come back to."""

from __future__ import annotations

import pytest

from assistant.jobs.steps import Cut, Move
from assistant.session.belief import DoubtKind
from assistant.session.contradiction import Contradiction
from assistant.spoken import Reason
from assistant.units import inches
from tests.factories import Job, answer, expected_words


def walk(job: Job, until: str) -> None:
    while job.state.step_id != until:
        job.say(expected_words(job.state))


def test_a_cut_that_is_too_deep_and_not_measured_ends_there() -> None:
    job = Job("dovetail-inch")
    walk(job, "first-roughing-1-cut")
    job.say("i went past")
    assert job.state.doubts[0].kind is DoubtKind.LOOK
    said = job.say("no")
    assert said.startswith("Then it's cut too far, and in the record. The rest of that cut is left")
    assert job.state.step_id == "first-roughing-1-back"  # the way back is still to go
    cuts = [step for step in job.state.plan.steps if isinstance(step, Cut)]
    first = {step.id for step in cuts if step.surface == cuts[0].surface}
    assert len(first) > 2
    assert first <= set(job.state.ahead.done)
    job.say("clear")
    assert job.state.step_id == "touch-second"


@pytest.mark.parametrize("demo", ["dovetail-inch", "thread-internal"])
def test_after_it_no_pass_of_that_surface_is_given(demo: str) -> None:
    job = Job(demo)
    while not isinstance(job.state.step, Cut):
        job.say(expected_words(job.state))
    job.say("i went past")
    surface = job.state.doubts[0].surface
    job.say("no")
    for _ in range(60):
        step = job.state.step
        assert not (isinstance(step, Cut | Move) and step.surface == surface)
        words = expected_words(job.state)
        if not words or job.state.finished:
            break
        job.say(words)


@pytest.mark.parametrize("demo", ["drill-press", "tap-blind", "tap-through"])
def test_work_that_moved_is_brought_under_the_spindle_again(demo: str) -> None:
    job = Job(demo)
    while not isinstance(job.state.step, Cut):
        job.say(expected_words(job.state))
    job.say("something moved")
    asked = [job.state.step_id]
    while job.state.step_id.startswith("check"):
        job.say("checked")
        asked.append(job.state.step_id)
    assert asked[:2] == ["check-work", "check-place"]


def test_more_metal_than_there_is_uncut_is_asked_with_that_reason() -> None:
    job = Job("turn-metric")
    while not job.state.axes["cross slide"].zeroed:
        job.say(expected_words(job.state))
    outcome = job.try_saying("already cut to 30.3")
    question = job.state.question
    assert question is not None
    assert question.reason in (Reason.CONTRADICTS, Reason.IMPLAUSIBLE)
    assert question.reason != Reason.CONTRADICTS or question.text == Contradiction.UNCUT
    assert "more metal" in answer(outcome)


@pytest.mark.parametrize("demo", ["divide-table", "divide-ratchet", "broach-inch"])
def test_where_nothing_is_touched_a_new_tool_isnt_touched(demo: str) -> None:
    job = Job(demo)
    while not isinstance(job.state.step, Cut):
        job.say(expected_words(job.state))
    assert "ouch" not in job.say("new cutter")


def test_what_the_guard_never_lets_pass_can_be_left_out() -> None:
    """A told size that can't be, taken on a yes: no reading puts it right, and nobody is stuck."""
    job = Job("flats-square")
    walk(job, "roughing-2-cut")
    for words in ("that's through", "i'm set", "dial slipped", "measured 13.95 mm", "yes"):
        job.say(words)
    said = job.say("touched")
    tried = 0
    while "Leave it out?" not in said:
        held = job.state.held_back.get(job.state.step_id, 0)
        tried += held > 0
        assert tried < 8
        look = job.state.doubts and job.state.doubts[0].kind is DoubtKind.LOOK
        plain = "yes" if look else "knee dial reads 0 turns and 1.08"
        said = job.say(plain if job.state.doubts else expected_words(job.state))
    assert job.state.question is not None
    job.say("no")
    assert job.state.doubts  # something moved, or slipped, can be said
    job.say("knee dial reads 0 turns and 1.08")
    assert job.say("yes").startswith("Left out. It's in the record.")
    assert job.state.step_id == "flat-2-3-back"


def test_a_cut_that_nobody_told_of_is_touched_and_counted_from_there() -> None:
    """Both words taken back, a size that one pass may have left: which, no dial tells any more."""
    job = Job("face-length")
    walk(job, "witness-1-cut")
    job.say("that's through")
    job.say("scratch that")
    job.say("scratch that")
    assert "Touch what is cut." in job.say("measured 2.012 in")
    job.say("touched")
    job.say("clear")
    step = job.state.step
    assert isinstance(step, Move)
    assert step.target == inches("0.007")  # 2.012 to 2.005, the finishing cut's five left
