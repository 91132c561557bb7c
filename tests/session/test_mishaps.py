"""An operator who is out of turn, out of patience or out of luck: the place, the dials and the
metal are never guessed at, and every answer is of use."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

import pytest

from assistant.app.turn import turn
from assistant.jobs.steps import Cut, Ground, Move, Touch
from assistant.phrases.matcher import match
from assistant.present.sentences import instruction_sentences
from assistant.session.allowed import allowed, allowed_sum
from assistant.session.belief import CRANK, Doubt, DoubtKind
from assistant.session.state import Phase, State
from assistant.spoken import Expected, Heard, Reason, Understood
from assistant.units import inches
from tests.factories import BOOK, NOW, Job, answer, expected_words

KINDS = ("keyseat-inch", "keyseat-metric", "turn-shaft", "drill-press", "divide-ratchet")
"""A job of every kind of machine."""
TROUBLE = ("lost count", "dial slipped", "i went past", "it's chattering", "new cutter",
           "something moved", "scratch that", "no")  # fmt: skip


@lru_cache(maxsize=len(KINDS))
def states(name: str) -> tuple[State, ...]:
    """The state at every step of a job that goes as planned."""
    job = Job(name)
    found = [job.state]
    while not job.state.finished:
        job.say(expected_words(job.state))
        found.append(job.state)
    return tuple(found[:-1])


def said(state: State, words: str) -> State:
    return turn(BOOK, state, Heard(words, 1.0, 0.0, 0.0, engine="typed"), NOW).state


@pytest.mark.parametrize("name", KINDS)
def test_no_trouble_carries_the_job_on(name: str) -> None:
    """Only the words that finish a step do: else checks and touches would be left out."""
    for state in states(name):
        here = state.plan.index(state.step_id)
        for words in TROUBLE:
            after = said(state, words)
            if words == "no" and getattr(state.step, "kind", "") == "gauge":
                continue  # the gauge was tried: an answer, no trouble
            assert after.plan.index(after.step_id) <= here, (state.step_id, words)


@pytest.mark.parametrize("name", KINDS)
def test_stop_is_silent_until_the_operator_speaks_on(name: str) -> None:
    for state in states(name):
        stopped = said(state, "stop")
        assert stopped.stopped
        assert not instruction_sentences(stopped)
        spoken_on = turn(BOOK, stopped, Heard("what now", 1.0, 0, 0, engine="typed"), NOW)
        assert not spoken_on.state.stopped
        assert spoken_on.sentences
        assert not spoken_on.state.undoable or spoken_on.state.undoable == stopped.undoable


@pytest.fixture
def job() -> Job:
    return Job()


def test_the_knee_is_dropped_once(job: Job) -> None:
    """What leads to a move isn't said again once the move is begun."""
    job.to_step("to-centre")
    assert "Drop the knee" in job.say("what now")
    assert job.say("how many turns").startswith("Saddle in, four turns")
    said = job.say("i went past")
    assert "Drop the knee" not in said
    assert "Don't back it off" not in said
    assert "Drop the knee" not in job.say("what now")
    job.say("i'm set")
    assert job.state.phase is Phase.VERIFY


@pytest.mark.parametrize("words", ["no", "it moved"])
def test_a_locked_slide_that_moved_is_read_before_it_is_set(job: Job, words: str) -> None:
    job.to_step("to-centre")
    job.say("i'm set")
    assert job.say(words) == "What does it read?"
    said = job.say("one forty two")
    assert "It moved. Unlock, set it, lock, and read again." in said
    assert "Drop the knee" not in said
    assert job.state.step_id == "to-centre"


def test_went_past_while_locking_unlocks_first(job: Job) -> None:
    job.to_step("to-centre")
    job.say("i'm set")
    said = job.say("i went past")
    assert said.startswith("Unlock it, back off, and come again. Out half a turn past")
    assert job.state.phase is Phase.ACT


def test_a_count_that_was_never_begun_is_not_lost(job: Job) -> None:
    assert job.say("lost count").startswith("No count to lose yet.")
    assert job.say("dial slipped").startswith("No zero to lose yet.")
    assert not job.state.doubts
    assert job.say("something moved").startswith("Nothing touched yet.")


def test_back_to_the_touch_goes_the_way_it_was_touched() -> None:
    """A quill is touched going down, and let up after every peck; a cross slide is touched going
    in, and backed out: coming to zero the other way would run the tool into the work."""
    drill = Job("drill-press")
    drill.to_step("drill")
    assert "quill up past zero, down to zero" in drill.say("lost count")
    lathe = Job("turn-shaft")
    lathe.to_step("touch-work")
    lathe.says("touched", "clear")
    assert "cross slide out past zero, in to zero" in lathe.say("lost count")


def test_the_dial_in_question_is_one_that_was_zeroed(job: Job) -> None:
    """Running the table back, it is the knee's: the table was never zeroed."""
    job.to_step("roughing-2-back")
    assert job.resume().startswith("Before we go on. Read me the knee dial. Same turn?")
    job.say("dial reads thirty three")
    said = job.say("nothing moved")
    assert said.startswith("Spindle off, or knee down")


def test_same_turn_is_half_an_answer(job: Job) -> None:
    job.to_step("roughing-4-set")
    job.resume()
    assert job.say("same turn") == "And what does it read?"
    assert job.say("yes") == "And what does it read?"
    # a bare reading is heard back with the turn that it was taken for
    assert job.say("thirty eight").startswith("Knee, one turn and thirty-eight.")


def test_another_turn_is_a_lost_count(job: Job) -> None:
    job.to_step("roughing-3-set")
    job.resume()
    said = job.say("no")
    assert said.startswith("I'll work from the size.")
    assert [doubt.kind for doubt in job.state.doubts] == [
        DoubtKind.MOVED, DoubtKind.METAL, DoubtKind.FLOOR,
    ]  # fmt: skip
    assert job.say("nothing moved").endswith("Measure over the key, and tell me.")


@pytest.mark.parametrize("lost", ["lost count", "dial slipped"])
def test_after_measuring_the_floor_gives_the_dial_back(job: Job, lost: str) -> None:
    job.to_deep_pass()
    job.to_step("roughing-3-set")
    job.say(lost)
    said = job.say("measured one point eight oh four")
    asked = "Come to the floor, just touching. Set the knee dial to seventy-one there."
    assert asked in said
    assert job.state.belief.lost("knee") is not None
    assert job.say("i'm set").startswith("Knee up")
    assert job.state.belief.lost("knee") is None


def test_two_commands_taken_back_keep_the_dial_in_doubt(job: Job) -> None:
    job.to_step("roughing-2-set")
    job.say("i'm set")
    job.say("scratch that")
    assert [doubt.kind for doubt in job.state.doubts] == [DoubtKind.DIAL]
    job.say("scratch that")
    assert job.glance.move is None
    job.say("clear")  # where the dial isn't needed it isn't asked for
    assert [doubt.kind for doubt in job.state.doubts] == [DoubtKind.DIAL]
    assert job.glance.move is None


def test_two_commands_taken_back_keep_the_metal_in_doubt(job: Job) -> None:
    job.to_step("roughing-2-cut")
    job.say("that's through")
    job.says("scratch that", "scratch that")
    assert DoubtKind.METAL in [doubt.kind for doubt in job.state.doubts]
    assert job.state.figure is None


def test_what_is_taken_back_is_named(job: Job) -> None:
    """Stop, a setting and a note are passed over."""
    job.to_step("roughing-2-set")
    job.says("i'm set", "louder", "stop")
    assert job.say("scratch that").startswith("Taken back: i'm set.")


def test_a_mishap_that_was_none_is_taken_back_whole(job: Job) -> None:
    job.to_step("roughing-3-cut")
    job.say("i went past")
    assert job.state.doubts
    assert job.say("scratch that").startswith("Taken back: i went past.")
    assert not job.state.doubts


def test_how_much_left_follows_the_measurement(job: Job) -> None:
    """Ten were left for finishing; measured six over the aim, six are left, and none at the end."""
    job.to_step("measure-size-1")
    assert job.say("how much left") == "Ten to full depth."
    job.say("measured one point six six six")
    assert job.say("how much left") == "Five to full depth."
    assert job.say("how deep") == "Two oh nine deep."
    job.to_step("measure-size-2")
    job.say("measured one point six six oh")
    assert job.say("how much left") == "Nothing to full depth."


def test_too_deep_leaves_nothing(job: Job) -> None:
    job.to_step("measure-size-1")
    said = job.say("measured one point six four oh")
    assert "nine under: too deep" in said
    assert "Don't shim it." in said
    assert job.say("how much left") == "Nothing to full depth."


def test_a_difference_counts_from_the_size_that_was_said(job: Job) -> None:
    """Before the last cut, over the key 1.67068 is said as 1.671: "ten over" is over that."""
    job.to_step("measure-size-1")
    assert "About now, over the key, one six seven one." in job.say("what now")
    assert job.say("ten over").startswith("One six eight one: seventeen over the limit.")
    assert job.state.facts["size.1"] == inches("1.681")


def test_a_difference_counts_in_the_unit_that_was_said(job: Job) -> None:
    job.say("metric")
    job.to_step("measure-size-1")
    assert job.say("bang on").startswith(
        "Forty-two point four four millimetres: eighteen hundredths over the limit."
    )


def test_deep_comes_after_its_number(job: Job) -> None:
    job.to_step("roughing-2-cut")
    assert job.say("how deep") == "Thirty-three deep, after this cut."


def test_paper_on_top_asks_how_thick(job: Job) -> None:
    job.to_step("touch-knee")
    job.say("touched")
    assert job.say("paper on top") == "How thick?"
    assert job.say("three thou").startswith("Three thou. Zero the knee. Knee up three.")


def test_questions_take_yes_and_no(job: Job) -> None:
    assert job.say("no") == "Then see to it first. Say checked when it's right."
    job.to_step("witness-1-back")
    assert job.say("no").startswith("All right.")
    job.say("yes")
    assert isinstance(job.state.step, Move)
    assert job.state.step_id == "roughing-2-set"


def test_an_uneven_mark_is_looked_into(job: Job) -> None:
    job.to_step("look-at-mark")
    assert job.say("no").startswith("Then see why")
    assert job.state.step_id == "look-at-mark"
    assert "Then we touch again." in job.say("it moved")
    assert job.state.step_id == "check-work"


def test_a_new_tool_of_a_hole_has_its_own_touch() -> None:
    job = Job("drill-press")
    job.to_step("drill-peck-1")
    assert job.say("new cutter").startswith("New tool: touch its point again.")
    assert job.state.step_id == "touch-drill"
    assert "arbor" not in job.say("it's chattering")


def test_a_lost_count_of_the_tap_s_turns_is_no_lost_zero() -> None:
    job = Job("tap-blind")
    job.to_step("tap")
    assert job.say("lost count").endswith("Count again from where it bites.")
    assert not job.state.doubts


def test_taking_back_keeps_the_unit(job: Job) -> None:
    job.to_step("roughing-2-set")
    job.say("metric")
    job.say("scratch that")
    assert job.state.unit == "mm"


@pytest.mark.parametrize("words", ["xyzzy", "touched three thou i'm set", "seventeen bananas"])
def test_nonsense_changes_nothing(job: Job, words: str) -> None:
    job.to_step("roughing-2-set")
    before = job.state
    outcome = job.try_saying(words)
    assert not isinstance(outcome.said, Understood)
    assert not outcome.records
    assert answer(outcome)
    assert job.state.step_id == before.step_id
    assert job.state.doubts == ()


def test_what_comes_after_every_pass_is_said_in_full_once(job: Job) -> None:
    job.to_step("look-at-mark")
    full = job.say("it's even")
    assert full.startswith("Spindle off, or knee down exactly one turn, before you run back.")
    job.to_step("measure-walls")
    assert job.say("it's even") == "Run back the same way, the knee as it was. Clear of the end?"
    assert job.say("what now") == full


def test_how_far_past_may_be_told(job: Job) -> None:
    job.to_step("roughing-2-set")
    job.say("went past by four thou")
    assert job.glance.number == "0.004"
    job.say("i went two thou past")
    assert job.glance.number == "0.002"


def test_another_wheel_s_dial_may_be_asked_for(job: Job) -> None:
    """The saddle stands 0.9375 in: four turns of 0.200 and 137 and a half."""
    job.to_step("roughing-2-set")
    said = job.say("what should the saddle read")
    assert said == "One thirty-seven and a half on the saddle dial."
    assert job.say("what should the knee read") == "Thirty-three on the knee dial."


def test_the_new_cutter_s_width_may_be_told_with_it(job: Job) -> None:
    job.to_step("to-centre")
    job.say("new cutter is three seventy four")
    assert job.state.facts["cutter.width"] == inches("0.374")
    assert job.state.step_id == "check-cutter-width"  # a thou under: the seat comes out too tight
    job.say("checked")
    assert job.state.step_id == "touch-side"


def test_a_size_that_is_in_is_said_to_be(job: Job) -> None:
    job.to_step("measure-size-1")
    assert "That's in." not in job.say("measured one point six six eight")
    job.to_step("measure-size-2")
    assert job.say("measured one point six six oh").startswith(
        "One six six oh: four inside. That's in."
    )


def test_what_must_not_be_done_between_two_seats_is_never_left_out() -> None:
    job = Job("keyseat-two-in-line")
    job.to_step("measure-size-2")
    assert "don't unclamp, and don't move the saddle" in job.say("bang on")


def test_the_words_of_the_trade(job: Job) -> None:
    job.to_step("check-direction")
    assert job.say("what now").startswith("Conventional, no climbing.")
    job.to_step("touch-knee")
    assert job.say("touched") == "Paper on top, or bare?"


WITH_OWN_QUESTIONS = (
    *KINDS, "flats-hexagon", "thread-external", "taper-morse", "square-block-inch", "tap-blind",
    "woodruff-inch", "angle-sine-bar", "broach-inch", "dial-in-bore", "dovetail-inch",
    "holes-circle", "holes-tapped", "keyseat-two-in-line",
)  # fmt: skip
"""Jobs whose own questions are all there are."""


def allowed_anywhere(name: str) -> Iterator[tuple[Expected, ...]]:
    """What may be said in every part of every step of a job, and in every doubt."""
    state = Job(name).state
    axes = {axis: replace(at, zeroed_at=1, by=(Ground.WORK,)) for axis, at in state.axes.items()}
    belief = replace(state.belief, axes=axes)
    yield allowed_sum(state)
    yield allowed(replace(state, finished=True))
    for step in state.plan.steps:
        for phase in Phase if isinstance(step, Touch | Move) else (Phase.ACT,):
            if phase is not Phase.ACT and getattr(step, "target", step) is None:
                continue
            yield allowed(replace(state, step_id=step.id, phase=phase, belief=belief))
    for ground in Ground if axes else ():
        for axis in ("", CRANK, *axes):
            shaken = replace(belief, shaken={(ground, axis): 2})
            for step in state.plan.steps:
                if isinstance(step, Move | Cut):
                    yield allowed(replace(state, belief=shaken, step_id=step.id))


def test_every_phrase_of_the_book_is_taken_somewhere() -> None:
    """Each example is understood, or its value asked back, at some step of some job: one that is
    "not now" everywhere would be an empty promise on the wall card."""
    left = {
        (name, example.lower().replace(",", "").replace("-", " "))
        for name, phrases in BOOK.intents.items()
        for example in phrases.examples
        # answers to a question, what is heard while it isn't listening, and numbers alone
        if name not in ("correct", "listen", "number")
    }
    asked_back = (Reason.IMPLAUSIBLE, Reason.AMBIGUOUS)
    seen: set[tuple[str, ...]] = set()
    for job_name in WITH_OWN_QUESTIONS:
        for expected in allowed_anywhere(job_name):
            names = tuple(f"{one.intent}{[slot.name for slot in one.slots]}" for one in expected)
            if names in seen:
                continue
            seen.add(names)
            intents = {one.intent for one in expected}
            for name, words in sorted(left):
                if name in intents:
                    said = match(BOOK, expected, Heard(words, 1.0, 0.0, 0.0, engine="typed"))
                    if isinstance(said, Understood) or said.reason in asked_back:
                        left.discard((name, words))
    assert not left


def test_a_yes_that_comes_to_nothing_ends_the_question() -> None:
    job = Job("keyseat-metric")
    job.to_step("measure-cutter")
    job.try_saying("measured 8.01 mm")
    assert job.state.question is not None
    assert job.say("yes").startswith("Can't be. cutter 8.01 mm: wider than the seat")
    assert job.state.question is None
    assert "shaft.diameter" in job.state.facts
    job.say("measured 7.98 mm")
    assert job.state.step_id == "measure-key"


@pytest.mark.parametrize("demo", ["divide-ratchet", "divide-table", "broach-inch"])
def test_a_tool_that_nothing_is_touched_with_is_set_before_the_next_cut(demo: str) -> None:
    """It is asked once, also where the program was ended meanwhile; and in every other job a touch
    or a setting finds the tool."""
    job = Job(demo)
    while not isinstance(job.state.step, Cut):
        job.say(expected_words(job.state))
    here = job.state.step_id
    assert not job.state.plan.finds_the_tool
    assert job.say("new cutter") == f"{job.state.plan.new_tool} Then say I'm set."
    assert job.state.doubts == (Doubt(DoubtKind.TOOL),)
    assert f"{job.state.plan.new_tool} Then say I'm set." in job.resume()
    job.say("i'm set")
    assert not job.state.doubts
    assert job.state.step_id == here
