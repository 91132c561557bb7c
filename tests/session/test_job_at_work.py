"""A keyseat at work, typed: the tone of the shop, mistakes, interruptions."""

from __future__ import annotations

from dataclasses import replace

import pytest

from assistant.session.reduce import replay
from assistant.session.state import DoubtKind
from assistant.spoken import Reason, Refused
from assistant.units import inches, magnitude
from tests.factories import Job


@pytest.fixture
def job():
    return Job()


def at(job: Job, step: str) -> Job:
    job.to_step(step)
    return job


def test_touch_off_in_the_words_of_the_shop(job):
    at(job, "touch-side")
    assert job.say("touched").startswith("That's your side. Paper")
    told = job.say("three thou")
    assert told.startswith("Three thou. Zero the saddle. Don't back it off. Drop the knee")
    assert "four turns and one forty and a half" in told
    assert (job.glance.number, job.glance.unit, job.glance.what) == ("0.9405", "in", "saddle in")
    assert job.say("why") == (
        "Half the shaft, seven fifty. Half the cutter, one eighty-seven and a half. Paper, three."
    )
    assert "Read it again: one forty and a half?" in job.say("i'm set")


def test_a_saddle_that_moved_is_set_again(job):
    at(job, "touch-side")
    job.says("touched", "three thou", "i'm set")
    said = job.say("dial reads one forty two")
    assert "It moved" in said
    assert job.state.step_id == "to-centre"
    # back over the backlash, and in to the same reading
    assert "one forty and a half" in said
    job.says("i'm set", "yes")
    assert job.state.step_id == "touch-knee"


def test_paper_on_top_is_never_dropped(job):
    at(job, "touch-knee")
    job.say("touched")
    said = job.say("three thou")
    assert said.startswith("Three thou. Zero the knee. Knee up three.")
    assert "zero it again" in said
    assert job.say("i'm set").startswith("Run the table out")
    assert job.state.axes["knee"].position == inches(0)


def test_bare_needs_no_paper_move(job):
    at(job, "touch-knee")
    job.say("touched")
    said = job.say("bare")
    assert said.startswith("Zero the knee. Run the table out till the cutter's off the end.")


def test_two_words_never_one_done(job):
    at(job, "roughing-2-cut")
    refused = job.try_saying("i'm set")
    assert isinstance(refused.said, Refused)
    assert refused.said.reason is Reason.NOT_NOW
    assert job.state.step_id == "roughing-2-cut"
    job.say("that's through")


def test_how_much_left_and_questions_leave_no_event(job):
    at(job, "roughing-2-cut")
    before = job.state.seq
    assert job.say("how much left").endswith("to full depth, after this cut.")
    for question in ("how deep", "where are we", "what speed", "what feed", "what size",
                     "what now", "say again", "how far to run", "where did I touch"):  # fmt: skip
        assert job.say(question)
    assert job.state.seq == before


def test_measured_before_finishing_says_how_far_and_where_to_stop(job):
    at(job, "measure-size-1")
    state = job.state
    there = state.belief.stand("knee", inches("0.211"), 1, state.seq)
    job.assistant.state = replace(state, belief=there)
    said = job.say("measured one point six six six")
    assert (
        said == "One six six six: two over the limit. Up six, to seventeen: four inside. Lock it."
    )


def test_scratch_that_takes_back_the_word_not_the_dial(job):
    at(job, "touch-side")
    job.says("touched", "three thou")
    job.say("i'm set")
    said = job.say("scratch that")
    assert "Taken back" in said
    assert job.state.doubts[0].kind is DoubtKind.TURN  # it went four turns, or not yet
    assert job.glance.move is None  # the number is withheld
    assert job.say("dial reads zero").startswith("Which turn?")
    said = job.say("dial reads no turns and zero")
    assert "four turns" in said


def test_scratch_that_after_a_cut_wants_a_measurement(job):
    at(job, "roughing-2-cut")
    job.say("that's through")
    said = job.say("scratch that")
    assert "not the metal" in said
    assert job.state.doubts[0].kind is DoubtKind.METAL
    assert job.state.figure is None
    job.say("measured one point eight four two")  # 0.033 deep: 1.5 + 0.375 - 0.033
    assert not job.state.doubts


def test_undo_is_left_out_by_replay(job):
    at(job, "touch-side")
    job.say("touched")
    before = job.state
    job.say("three thou")
    job.say("scratch that")
    assert job.state.facts == before.facts
    assert job.state.plan == before.plan


def test_replay_gives_the_same_state(job):
    at(job, "measure-size-1")
    job.say("measured one point six seven two")
    job.say("scratch that")
    kept = replay(job.journal.read(job.assistant.job_id))
    # what was last said is a matter of the view, not of the journal
    assert replace(kept, last_reply=(), undoable=()) == replace(
        job.state, last_reply=(), undoable=()
    )


def test_resume_asks_for_the_dial_and_whether_anything_moved(job):
    at(job, "roughing-3-set")
    job.resume()
    assert [doubt.kind for doubt in job.state.doubts] == [DoubtKind.DIAL, DoubtKind.MOVED]
    assert job.glance.move is None
    stood = magnitude(job.state.axes["knee"].position, "thou")
    job.say(f"dial reads {stood.normalize():f}")
    assert job.state.doubts[0].kind is DoubtKind.MOVED
    said = job.say("nothing moved")
    assert "Knee up" in said


def test_resume_after_a_bump_touches_again(job):
    at(job, "roughing-3-set")
    job.resume()
    job.say(f"dial reads {magnitude(job.state.axes['knee'].position, 'thou').normalize():f}")
    assert "clamp it anew" in job.say("something moved")
    assert job.state.step_id == "check-work"
    job.say("checked")
    assert job.state.step_id == "touch-side"


def test_stop_is_one_sentence_and_silence(job):
    at(job, "roughing-2-cut")
    assert job.say("stop") == "Hit your stop button. I can't."
    assert job.speaker.hushed == 1
    assert job.state.question is None


def test_an_implausible_value_is_asked_back_and_no_withheld(job):
    at(job, "measure-shaft")
    outcome = job.try_saying("measured two point five")
    assert isinstance(outcome.said, Refused)
    assert outcome.said.reason is Reason.IMPLAUSIBLE
    assert job.state.question is not None
    assert "shaft.diameter" not in job.state.facts
    job.say("no")
    assert job.state.question is None
    assert "shaft.diameter" not in job.state.facts


def test_a_correction_right_after_the_question(job):
    at(job, "measure-shaft")
    job.try_saying("measured two point five")
    job.say("no one point five")
    assert job.state.facts["shaft.diameter"] == inches("1.5")


def test_a_doubtful_command_is_asked_back(job):
    at(job, "roughing-2-cut")
    outcome = job.try_saying("that's through", confidence=0.3)
    assert isinstance(outcome.said, Refused)
    assert outcome.said.reason is Reason.UNSURE
    assert job.state.step_id == "roughing-2-cut"
    job.say("yes")
    assert job.state.step_id != "roughing-2-cut"


def test_a_pass_beyond_the_cutter_is_asked_back(job):
    at(job, "roughing-2-set")
    outcome = job.try_saying("cut one hundred and twenty thou this pass")
    assert isinstance(outcome.said, Refused)
    assert outcome.said.reason is Reason.IMPLAUSIBLE


def test_past_the_finished_depth_wants_a_measurement(job):
    at(job, "finishing-1-set")
    said = job.say("dial reads two turns and forty")
    assert job.state.doubts[0].kind is DoubtKind.METAL
    assert "easure" in said


def test_went_past_in_the_air_comes_round_again(job):
    at(job, "roughing-2-set")
    said = job.say("i went past")
    assert "back off" in said.lower()
    assert job.state.figure.move.back_off is not None


def test_went_past_in_the_cut_measures(job):
    at(job, "roughing-3-cut")
    job.say("i went past")
    assert job.state.doubts[0].kind is DoubtKind.METAL


def test_lost_count_goes_back_to_the_touch(job):
    at(job, "to-centre")
    said = job.say("lost count")
    assert job.state.doubts[0].kind is DoubtKind.TOUCH
    assert "zero" in said
    said = job.say("i'm set")
    assert "four turns" in said


def test_lost_count_in_depth_measures(job):
    at(job, "roughing-3-set")
    job.say("lost count")
    assert job.state.doubts[0].kind is DoubtKind.METAL


def test_chatter_goes_down_a_speed(job):
    at(job, "roughing-2-cut")
    said = job.say("it's chattering")
    assert "45" in said or "forty-five" in said
    assert magnitude(job.state.plan.result("speed").value, "rpm") == 45


def test_not_listening_hears_only_listen_and_stop(job):
    at(job, "roughing-2-set")
    job.say("quit listening")
    outcome = job.try_saying("i'm set")
    assert isinstance(outcome.said, Refused)
    job.say("listen")
    job.say("i'm set")


def test_skipped_checks_are_in_the_record(job):
    job.say("skip that check")
    assert "check-person" in job.state.skipped
    assert any(told.name == "skipped" for told in job.state.told)


def test_cautions_are_given_once_a_job(job):
    at(job, "touch-side")
    caution = "Only oiled paper stuck on, hands well away."
    assert job.speaker.texts.count(caution) == 1
    at(job, "touch-knee")
    assert job.speaker.texts.count(caution) == 1


def test_the_whole_job_to_the_record(job):
    at(job, "measure-size-1")
    job.say("measured one point six seven four")
    at(job, "measure-size-2")
    job.say("measured one point six six oh")
    said = job.say("i'm set")
    assert job.state.finished
    assert "record" in said
    assert job.assistant.steps_done[0] == job.assistant.steps_done[1]


def test_metric_job_to_the_end():
    job = Job("keyseat-metric")
    job.to_step("measure-size-1")
    job.say("measured twenty six point two")
    job.to_step("measure-size-2")
    job.say("measured twenty five point nine two")
    job.say("i'm set")
    assert job.state.finished


def finish(job: Job) -> None:
    job.to_step("measure-size-1")
    job.say("measured one point six six oh")
    job.say("i'm set")
    assert job.state.finished


def test_same_again_in_a_vice_moves_the_centre_by_half_the_difference(job):
    """Common practice, no source: the back jaw stays, so a shaft 0.010 smaller has its centre
    0.005 nearer to it, and the saddle goes out by that."""
    finish(job)
    stood = job.state.axes["saddle"].position
    first = job.assistant.job_id
    said = job.say("same again")
    assert "Next part" in said
    assert job.assistant.job_id != first
    assert job.state.step_id == "check-work"
    job.say("checked")
    job.say("measured one point four nine oh")
    assert job.state.step_id == "check-shaft-diameter"  # ten thou off: is it the right shaft?
    job.say("checked")
    job.say("bang on")
    assert job.state.step_id == "next-centre"
    assert job.state.step.target == stood - inches("0.005")
    assert not any(step.id == "touch-side" for step in job.state.plan.steps)
    assert any(step.id == "touch-knee" for step in job.state.plan.steps)


def test_same_again_with_the_same_diameter_only_checks_the_top(job):
    finish(job)
    job.says("same again", "checked", "bang on", "bang on")
    assert job.state.step_id == "touch-knee"


def test_whole_turns_told_with_a_reading_are_counted(job):
    """The knee has 0.100 a turn: two turns and eleven are 0.211."""
    at(job, "roughing-3-set")
    job.say("dial reads two turns and eleven")
    assert job.state.axes["knee"].position == inches("0.211")


def test_whole_turns_count_the_way_the_saddle_is_going(job):
    """Still at its zero, on the way in: 0.200 a turn."""
    at(job, "to-centre")
    job.say("dial reads one turn and forty")
    assert job.state.axes["saddle"].position == inches("0.240")


def test_a_misheard_reading_is_asked_back_with_its_turns(job):
    at(job, "roughing-3-set")
    asked = job.try_saying("dial reads two turns and eleven", confidence=0.3)
    assert asked.sentences[0].text.startswith("Two turns and eleven?")


def test_a_correction_keeps_the_axis_that_was_named(job):
    at(job, "roughing-2-set")
    knee = job.state.axes["knee"].position
    job.try_saying("saddle reads one forty", confidence=0.3)
    assert job.state.question is not None
    job.say("no, one forty and a half")
    assert job.state.axes["knee"].position == knee
    # 0.9405 in its fifth turn of 0.200
    assert job.state.axes["saddle"].position == inches("0.9405")


def test_a_deviation_beyond_belief_is_asked_back(job):
    at(job, "measure-size-1")
    refused = job.try_saying("ninety over").said
    assert isinstance(refused, Refused)
    assert refused.reason is Reason.IMPLAUSIBLE
    assert job.state.question is not None


def test_reading_again_after_locking_takes_the_bare_reading(job):
    at(job, "touch-side")
    job.says("touched", "three thou", "i'm set")
    job.say("one forty and a half")
    assert job.state.step_id == "touch-knee"


def test_same_again_is_asked_back_when_hardly_heard(job):
    finish(job)
    first = job.assistant.job_id
    heard = job.try_saying("same again", confidence=0.55)
    assert isinstance(heard.said, Refused)
    assert job.assistant.job_id == first
    job.say("no")
    job.say("same again")
    assert job.assistant.job_id != first
