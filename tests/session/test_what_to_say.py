"""It says what it wants to hear, and what a shop says besides: no word of these carries a job on,
none leaves anybody without an answer."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from functools import lru_cache

import pytest

from assistant.app.turn import turn
from assistant.jobs.steps import Cut, Ground, Measure
from assistant.present.for_the_ear import seconds
from assistant.present.glance_of import WAITING
from assistant.session.aside import JUST
from assistant.session.belief import Doubt, DoubtKind
from assistant.session.mishap import ROWS
from assistant.session.state import State
from assistant.session.wanted import NO_MORE, SAY, WHY, WHY_ONE, WHY_TWO, WORDS, wanted_words
from assistant.spoken import Heard
from tests.factories import BOOK, NOW, Job, answer, expected_words
from tests.present.doubting import in_doubt
from tests.session.at_work import CUT as IN_A_CUT
from tests.session.at_work import AtWork, as_cut

KINDS = ("keyseat-inch", "turn-shaft", "drill-press", "divide-ratchet", "thread-external",
         "tap-through", "broach-inch", "tram-vice")  # fmt: skip
VAGUE = ("ok", "okay", "done", "all done", "next", "ready", "go on", "carry on", "i'm done")
TROUBLE = ("drill broke", "the tap snapped", "it's stuck", "missed the half nut",
           "tool hit the shoulder", "it crashed")  # fmt: skip
ASIDE = ("hang on", "wait", "spindle's on", "spindle's off", "skip the finishing pass")
LONGEST = 4.0
"""Seconds of a sentence."""


@lru_cache(maxsize=len(KINDS))
def states(name: str) -> tuple[State, ...]:
    """The state at every step of a job that goes as planned, alike ones once."""
    job = Job(name)
    found = [job.state]
    seen: set[tuple[object, ...]] = set()
    while not job.state.finished:
        job.say(expected_words(job.state))
        step = job.state.step
        alike = (type(step), job.state.phase, getattr(step, "kind", ""), job.state.plan.operation)
        if alike not in seen or job.state.finished:
            seen.add(alike)
            found.append(job.state)
    return tuple(found)


def said(state: State, words: str, confidence: float = 1.0) -> tuple[State, str]:
    outcome = turn(BOOK, state, Heard(words, confidence, 0.0, 0.0, engine="typed"), NOW)
    return outcome.state, answer(outcome)


def place(state: State) -> int:
    return state.plan.index(state.step_id)


# -- what is meant --------------------------------------------------------------------------------


@pytest.mark.parametrize("name", KINDS)
def test_what_one_says_without_thinking_is_answered_with_the_word_meant(name: str) -> None:
    for state in states(name):
        for words in VAGUE:
            after, spoken = said(state, words)
            assert (after.step_id, after.phase) == (state.step_id, state.phase)
            assert after.seq == state.seq, words
            assert spoken.startswith("Say "), (state.step_id, spoken)
            both = isinstance(state.step, Cut) and not state.finished
            assert (WHY_TWO in spoken and WHY in spoken) or (WHY_ONE in spoken and not both)


def test_the_two_words_are_told_apart() -> None:
    job = Job()
    job.to_step("roughing-2-set")
    assert job.say("done").startswith("Say I'm set when")
    job.say("i'm set")
    assert job.say("done").startswith("Say that's through when the cut is finished.")
    assert "I'm set is for the handle, that's through for a cut." in job.say("ok")
    assert job.state.step_id == "roughing-2-cut"


def test_no_such_word_answers_a_question() -> None:
    job = Job()
    job.to_step("measure-size-1")
    job.try_saying("measured 1.5 in")
    for words in VAGUE:
        assert "Yes or no." in job.say(words)
        assert job.state.question is not None


@pytest.mark.parametrize("name", KINDS)
def test_a_refusal_names_what_can_be_said(name: str) -> None:
    for state in states(name):
        for words in ("bare metal", "which jaws", "no such words"):
            after, spoken = said(state, words)
            if "Not now" not in spoken and "don't know" not in spoken:
                continue  # it can be said there
            assert after.seq == state.seq
            assert "Say " in spoken, (state.step_id, words, spoken)
            assert "Or say what now" in spoken or state.finished, (state.step_id, words)


@pytest.mark.parametrize("name", KINDS)
def test_help_names_what_can_be_said(name: str) -> None:
    for state in states(name):
        _, spoken = said(state, "what can i say")
        assert spoken.startswith("Say ")
        assert NO_MORE in spoken
        assert all(seconds(part) <= LONGEST for part in spoken.split(". ")), spoken
        assert ("drill" in spoken or "tool broke" in spoken) != state.finished


def test_what_is_named_is_taken() -> None:
    """Every word in the answers to "help" can be said there."""
    for name in KINDS:
        for state in states(name):
            _, spoken = said(state, "help")
            listed = [part for part in named(spoken) if part]
            assert listed, spoken
            for words in listed:
                _, reply = said(state, words)
                assert "Not now" not in reply, (state.step_id, words)
                assert "don't know" not in reply, (state.step_id, words)


def named(spoken: str) -> Iterator[str]:
    """The words that an answer lists: after "or say" and "in trouble" up to what ends it."""
    told = spoken.removesuffix(NO_MORE).partition("Or say ")[2].replace("In trouble: ", "")
    for part in told.split(". "):
        if "Hang on" not in part:
            yield from (one.strip(" .") for one in part.replace(" or ", ", ").split(", "))


def test_in_doubt_and_asleep_it_names_what_is_wanted() -> None:
    job = Job()
    job.to_step("roughing-2-set")
    job.say("dial slipped")
    assert "Say " in answer(job.try_saying("that's through"))
    job = Job()
    job.say("quit listening")
    assert "Say listen" in answer(job.try_saying("checked"))


def test_every_word_of_the_foot_has_its_sentence() -> None:
    assert set(SAY) == set(WORDS)


def sentences() -> Iterator[str]:
    yield from (*SAY.values(), WHY, WHY_ONE, WHY_TWO, *NO_MORE.split(". "))
    for row in ROWS.values():
        for words in (row.running, row.still, row.then, *row.kinds.values()):
            yield from (part for text in words for part in text.split(". "))


@pytest.mark.parametrize("text", sorted(set(sentences())))
def test_sentences_are_short(text: str) -> None:
    assert seconds(text) <= LONGEST


# -- what breaks, jams or is run into -------------------------------------------------------------


@pytest.mark.parametrize("name", KINDS)
def test_no_new_word_carries_the_job_on(name: str) -> None:
    for state in states(name):
        if state.finished:
            continue
        for words in (*TROUBLE, *ASIDE, "not you"):
            after, spoken = said(state, words)
            assert place(after) <= place(state), (state.step_id, words)
            assert spoken or words in ("hang on", "wait")
            again, _ = said(after, words)
            assert place(again) <= place(after), (state.step_id, words)


@pytest.mark.parametrize("words", TROUBLE)
@pytest.mark.parametrize("name", KINDS)
def test_a_job_goes_on_to_its_end_after_it(name: str, words: str) -> None:
    """Whatever is asked is answered, and nobody is left without a next step."""
    if name == "tram-vice":
        return  # nothing is cut
    job = AtWork(name, IN_A_CUT, "")
    job.says(words)
    assert job.obeys(
        lambda: job.bench.done, most=400, size=lambda bench: as_cut(bench) or "bang on"
    )


def in_the_cut(name: str, kind: str = "") -> Job:
    job = Job(name)
    for _ in range(300):
        step = job.state.step
        if isinstance(step, Cut) and (step.kind == kind if kind else step.number > 1):
            return job
        job.say(expected_words(job.state))
    raise LookupError(name)


def test_a_broken_drill_is_out_before_another_goes_in() -> None:
    job = in_the_cut("drill-press")
    assert job.say("drill broke").startswith("Stop the feed. Spindle off.")
    assert [doubt.kind for doubt in job.state.doubts] == [DoubtKind.PIECE]
    assert job.say("no").startswith("Get it out first")
    assert job.state.doubts
    assert "touch its point again" in job.say("yes")
    assert job.state.step_id.startswith("touch-")
    assert job.say("scratch that").startswith("Taken back: yes.")
    assert job.state.doubts


def test_a_broken_tap_has_its_own_words_and_no_touch() -> None:
    job = in_the_cut("tap-through", "tapping")
    assert "Back it out by its flutes. No drill into it." in job.say("tap broke")
    job.say("yes")
    assert isinstance(job.state.step, Cut)


def test_before_any_cut_nothing_is_in_the_work() -> None:
    job = Job("drill-press")
    job.say("drill broke")
    assert not job.state.belief.unsure(Ground.PIECE)


def test_what_stuck_may_have_moved_the_work() -> None:
    job = in_the_cut("tap-through", "tapping")
    assert "Don't force it." in job.say("tap is stuck")
    assert [doubt.kind for doubt in job.state.doubts] == [DoubtKind.MOVED]
    job.say("nothing moved")
    assert isinstance(job.state.step, Cut)


def test_no_spindle_is_switched_off_that_isnt_there() -> None:
    job = in_the_cut("broach-inch")
    assert "pindle" not in job.say("it's stuck")


def test_after_a_missed_half_nut_the_place_is_found_and_the_metal_measured() -> None:
    job = in_the_cut("thread-external")
    spoken = job.say("missed the half nut")
    assert spoken.startswith("Tool out at once. Spindle off. Back to the start")
    assert "does the point follow its groove?" in spoken
    assert {doubt.kind for doubt in job.state.doubts} == {DoubtKind.METAL, DoubtKind.DIAL}
    assert "Not now." in answer(Job("turn-shaft").try_saying("missed the half nut"))


def test_a_tool_that_ran_into_something_is_touched_or_found_again() -> None:
    job = in_the_cut("turn-shaft")
    assert "Does the work still run true?" in job.say("tool hit the shoulder")
    kinds = {doubt.kind for doubt in job.state.doubts}
    assert kinds == {DoubtKind.MOVED, DoubtKind.METAL, DoubtKind.FLOOR}


# -- not you, hang on -----------------------------------------------------------------------------


def test_not_you_takes_back_what_was_just_taken() -> None:
    job = Job()
    job.to_step("roughing-2-cut")
    job.say("that's through")
    assert job.say("not you").startswith("Taken back: that's through.")
    assert job.state.step_id == "roughing-2-cut"
    before = job.state
    assert "Nothing is taken." in job.say("not you")
    assert job.state.step_id == before.step_id
    assert job.state.undoable == before.undoable


def test_not_you_is_only_about_what_was_just_said() -> None:
    job = Job()
    job.to_step("roughing-2-cut")
    job.say("that's through")
    job.say("what now")  # heard since, and it took nothing
    here = job.state.step_id
    assert "Nothing is taken." in job.say("not you")
    assert job.state.step_id == here
    late = Job()
    late.say("checked")
    late.clock.advance((JUST + timedelta(seconds=1)).total_seconds())
    assert "Nothing is taken." in late.say("not you")
    assert late.state.confirmed


def test_not_you_drops_a_question() -> None:
    job = Job()
    job.to_step("measure-size-1")
    job.try_saying("measured 1.5 in")
    assert job.say("not you").startswith("All right.")
    assert job.state.question is None
    assert job.state.step_id == "measure-size-1"


def test_hang_on_is_silent_till_the_next_command() -> None:
    job = Job()
    job.to_step("roughing-2-cut")
    for words in ("hang on", "wait", "just a minute"):
        outcome = job.try_saying(words)
        assert not outcome.sentences
        assert outcome.reply.hush
        assert job.state.waiting
        assert job.glance.noted == WAITING
    assert job.say("what now")
    assert not job.state.waiting
    job.say("hang on")
    job.say("that's through")
    assert not job.state.waiting
    assert job.state.step_id != "roughing-2-cut"


def test_hang_on_keeps_a_question_and_the_silence_after_stop() -> None:
    job = Job()
    job.to_step("measure-size-1")
    job.try_saying("measured 1.5 in")
    job.say("hold on")
    assert job.state.question is not None
    job.say("no")
    job.say("stop")
    job.say("hang on")
    assert job.state.stopped


def test_a_word_hardly_heard_asks_nothing() -> None:
    state = states("keyseat-inch")[-2]
    for words in ("ok", "hang on"):
        after, spoken = said(state, words, 0.3)
        assert not spoken
        assert after.question is None


# -- the finishing pass, the spindle --------------------------------------------------------------


def test_a_finishing_pass_that_the_limits_need_is_refused_with_the_size() -> None:
    job = Job()
    job.to_step("roughing-2-cut")
    assert "over the limit. The limits need the finishing pass." in job.say(
        "skip the finishing pass"
    )
    job.to_step("measure-size-1")
    job.say("measured one point six seven two")
    spoken = job.say("no finishing pass")
    assert spoken == "One six seven two: eight over the limit. The limits need the finishing pass."


def test_one_that_they_dont_need_is_asked_and_measured() -> None:
    """Nothing is taken out of the plan: a size inside its limits ends the surface by itself."""
    job = Job("turn-shaft")
    job.to_step("finishing-1-set")
    surface = getattr(job.state.step, "surface", "")
    steps = tuple(
        replace(step, high=step.nominal * 2)
        if isinstance(step, Measure) and step.surface == surface and step.nominal is not None
        else step
        for step in job.state.plan.steps
    )
    wide = replace(job.state, plan=replace(job.state.plan, steps=steps))
    asked, spoken = said(wide, "skip the finishing pass")
    assert spoken.endswith("it stays so. Right? Yes or no.")
    left, spoken = said(asked, "no")
    assert not left.doubts
    left, spoken = said(asked, "yes")
    assert [doubt.kind for doubt in left.doubts] == [DoubtKind.METAL]
    assert "Measure the diameter" in spoken
    assert left.done == wide.done


def test_the_spindle_is_told_back_and_held_against_the_step() -> None:
    job = Job()
    job.to_step("roughing-2-cut")
    assert job.say("spindle's on") == "Spindle on."
    assert job.say("spindle is stopped") == "Spindle off. Back off before you start it again."
    job.to_step("measure-size-1")
    assert "has to stand still" in job.say("spindle's running")
    assert job.say("spindle's off") == "Spindle off."
    assert job.state.step_id == "measure-size-1"


def test_the_foot_of_a_broken_tools_page_asks_yes_or_no() -> None:
    asking = in_doubt(states("keyseat-inch")[3], Doubt(DoubtKind.PIECE))
    assert wanted_words(asking) == "yes, or no"
