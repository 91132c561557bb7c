"""What could hurt work or people is asked back or withheld, and no cut begins unchecked."""

from __future__ import annotations

import pytest

from assistant.jobs.steps import Check, Cut
from assistant.session.state import DoubtKind
from assistant.spoken import Reason, Refused
from assistant.units import inches
from tests.factories import Job, answer, expected_words

KEYSEATS = ("keyseat-inch", "keyseat-metric", "keyseat-two-in-line")


@pytest.fixture
def job() -> Job:
    return Job()


def at(job: Job, step: str) -> Job:
    job.to_step(step)
    return job


@pytest.mark.parametrize("name", KEYSEATS)
def test_no_cut_before_its_checks_are_confirmed_or_skipped(name: str) -> None:
    job = Job(name)
    plan = job.state.plan
    first_cut = next(index for index, step in enumerate(plan.steps) if isinstance(step, Cut))
    checks = [step.id for step in plan.steps[:first_cut] if isinstance(step, Check)]
    assert checks
    for words in ("that's through", "what now", "clear", "touched", "no"):
        job.try_saying(words)
        assert job.state.step_id == checks[0]
    while not isinstance(job.state.step, Cut):
        job.say(expected_words(job.state))
    assert set(checks) <= job.state.done.keys()


def test_a_skipped_check_is_in_the_record_with_its_time(job: Job) -> None:
    skipped = job.state.step_id
    said = job.say("skip that check")
    assert said.startswith("Skipped. It's in the record.")
    assert skipped in job.state.skipped
    assert any(told.name == "skipped" and told.at for told in job.state.told)


def test_depth_past_the_finished_depth_withholds_every_number(job: Job) -> None:
    at(job, "finishing-1-set")
    job.say("dial reads two turns and forty")
    assert job.state.doubts[0].kind is DoubtKind.METAL
    assert job.state.figure is None
    assert job.glance.move is None
    for question in ("what now", "i'm set", "how many turns", "what should the dial read"):
        job.try_saying(question)
        assert job.state.figure is None
        assert job.glance.move is None


def test_a_pass_beyond_the_cutter_is_asked_back_and_not_taken(job: Job) -> None:
    at(job, "roughing-2-set")
    before = job.state
    outcome = job.try_saying("cut one hundred and twenty thou this pass")
    assert isinstance(outcome.said, Refused)
    assert outcome.said.reason is Reason.IMPLAUSIBLE
    assert answer(outcome).endswith("Yes or no.")
    assert job.glance.move is None
    job.say("no")
    assert job.state.facts == before.facts
    assert job.state.plan == before.plan


def test_a_three_inch_pass_is_never_taken_without_asking(job: Job) -> None:
    at(job, "roughing-2-set")
    for absurd in ("cut three inches this pass", "cut zero thou this pass"):
        outcome = job.try_saying(absurd)
        assert not outcome.state.facts.get("pass.2")
        if job.state.question is not None:
            job.say("no")


def test_against_the_take_up_the_way_round_is_told_first(job: Job) -> None:
    """Past the target, the last of the move must still come from the side where the backlash is
    taken up: back past it first, never straight back to the number."""
    at(job, "roughing-2-set")
    job.say("i went past")
    move = job.state.figure.move
    assert move.back_off is not None
    assert move.back_off > job.state.machine.axis("knee").backlash
    said = " ".join(job.assistant.state.last_reply).lower()
    assert "back off" in said
    assert "then up to" in said or "then in to" in said


def test_a_turn_too_many_is_heard_back(job: Job) -> None:
    """On the dial it looks the same."""
    at(job, "roughing-3-set")
    assert job.say("dial reads two turns and eleven").startswith("Knee, two turns and eleven.")
    job.say("scratch that")
    job.say("dial reads one turn and thirty eight")
    assert job.assistant.state.last_reply[0] == "Knee, one turn and thirty-eight."


def test_turns_beyond_anything_the_job_asks_for_are_asked_back(job: Job) -> None:
    at(job, "roughing-3-set")
    stood = job.state.axes["knee"].position
    said = answer(job.try_saying("dial reads nine turns and thirty eight"))
    assert said == "Nine turns and thirty-eight? Yes or no."
    assert job.state.axes["knee"].position == stood
    assert job.glance.move is None
    job.say("no")
    assert job.state.question is None
    job.try_saying("dial reads nine turns and thirty eight")
    job.say("yes")
    assert job.state.axes["knee"].position == inches("0.938"), "it can't see the machine"


def test_a_paper_of_nothing_is_heard_back(job: Job) -> None:
    at(job, "touch-side")
    job.say("touched")
    assert job.say("point oh oh oh").startswith("Bare. ")


def test_stop_is_its_own_sentence_at_every_step() -> None:
    job = Job()
    while not job.state.finished:
        assert job.say("stop") == "Hit your stop button. I can't."
        job.say(expected_words(job.state))
    said = " ".join(sentence.text.lower() for sentence in job.speaker.said)
    assert "safe" not in said.replace("safety", ""), "it never says that something is safe"
