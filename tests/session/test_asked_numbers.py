"""Questions about numbers: both named, answered by the number, and by no yes that nobody said."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from assistant.app.keys import press
from assistant.phrases.compiler import compile_grammar
from assistant.session.allowed import SURE_YES, allowed
from assistant.session.state import State
from assistant.spoken import Heard, Opinion, Reason, Refused, Understood
from assistant.units import magnitude
from tests.factories import BOOK, NOW, Job, answer
from tests.session.walks import said, unmoved


def at_the_paper(demo: str = "keyseat-inch") -> Job:
    job = Job(demo)
    job.to_step("touch-knee")
    job.say("touched")
    return job


def at_a_pass(demo: str = "keyseat-inch") -> Job:
    job = Job(demo)
    job.to_step("roughing-3-set")
    return job


def asked(job: Job, words: str) -> str:
    """What is asked back; nothing is taken."""
    before = job.state
    outcome = job.try_saying(words)
    assert isinstance(outcome.said, Refused)
    assert unmoved(before, job.state)
    return answer(outcome)


def measured_in_metric() -> Job:
    job = Job("keyseat-metric")
    job.to_step("measure-size-1")
    return job


@pytest.mark.parametrize(
    ("job", "words", "question"),
    [
        (lambda: at_a_pass("keyseat-metric"), "cut 0,05 this pass",
         "Point oh five millimetres? Yes or no."),
        (lambda: at_a_pass("keyseat-metric"), "cut oh oh five",
         "Point five millimetres, or five hundredths of a millimetre? Say it again."),
        (at_the_paper, "paper is 0,02",
         "A comma is a decimal point in millimetres only. Write it with a point."),
        (at_a_pass, "cut oh oh three", "Thirty thou, or three thou? Say it again."),
        (at_the_paper, "paper is point one", "One tenth, or one hundred thou? Say it again."),
        (at_the_paper, "paper is point three",
         "Three tenths, or three hundred thou? Say it again."),
        (measured_in_metric, "measured half under",
         "Point oh oh five millimetres under, or point five millimetres under? Say it again."),
        (measured_in_metric, "quarter under",
         "Point oh oh two five millimetres under, or point two five millimetres under? "
         "Say it again."),
    ],
)  # fmt: skip
def test_what_may_mean_ten_times_as_much_is_asked(job, words: str, question: str) -> None:
    made = job()
    assert asked(made, words) == question
    if made.state.question is not None and made.state.question.otherwise is not None:
        assert not made.glance.number  # to show one of them large would be to choose it


def test_a_decimal_comma_is_one_in_a_metric_job() -> None:
    job = at_a_pass("keyseat-metric")
    job.say("cut 0,5 this pass")
    assert magnitude(job.state.told[-1].value, "mm") == Decimal("0.5")


def test_yes_chooses_neither_and_the_number_said_again_does() -> None:
    job = at_a_pass()
    question = asked(job, "cut oh oh three")
    before = job.state
    assert job.say("yes") == question
    assert unmoved(before, job.state)
    assert "Thirty thou" in job.say("thirty thou")
    assert job.state.question is None


def test_out_of_the_band_it_is_asked_with_yes_and_no_after_all() -> None:
    job = at_a_pass()
    asked(job, "cut oh oh three")
    assert asked(job, "three thou") == "Three thou? Yes or no."
    assert "Three thou" in job.say("yes")


def test_no_leaves_it() -> None:
    job = at_the_paper()
    asked(job, "paper is point three")
    assert "Paper on top, or bare?" in job.say("no")
    assert job.state.question is None


def test_another_value_is_taken_for_the_answer() -> None:
    job = at_a_pass()
    assert asked(job, "cut ninety thou") == "Ninety thou? Yes or no."
    assert job.say("cut fifty thou").startswith("Fifty thou.")
    job = at_a_pass()
    asked(job, "cut ninety thou")
    assert job.say("fifty thou").startswith("Fifty thou.")


def test_so_is_the_same_thing_told_in_another_way() -> None:
    job = at_the_paper()
    asked(job, "ninety thou")
    job.say("bare")
    assert job.state.question is None
    assert job.state.facts["paper.knee"].magnitude == 0 if "paper.knee" in job.state.facts else True
    job = Job()
    job.to_step("measure-size-1")
    asked(job, "measured three inches")
    job.say("two over")
    assert job.state.question is None


@pytest.mark.parametrize("words", ["how much left", "i'm set", "louder", "it's chattering", "why"])
def test_any_other_word_of_the_step_has_it_asked_once_more(words: str) -> None:
    job = at_a_pass()
    question = asked(job, "cut ninety thou")
    before = job.state
    assert job.say(words) == question
    assert unmoved(before, job.state)
    assert job.state.question == before.question


def test_a_command_half_heard_is_taken_when_it_is_said_again() -> None:
    job = Job()
    job.to_step("roughing-3-cut")
    half = Heard("that's through", 0.4, engine="moonshine")
    job.assistant.hear(half)
    assert job.state.question is not None
    job.say("that's through")
    assert job.state.question is None
    assert job.state.step_id != "roughing-3-cut"


def test_went_past_alone_is_not_by_what_was_misheard() -> None:
    job = at_a_pass()
    heard = Heard("went past by four thou", 0.4, engine="moonshine")
    job.assistant.hear(heard)
    assert job.state.question is not None
    job.say("I went past")
    assert job.state.last_intent is not None
    assert not job.state.last_intent.slots


@pytest.mark.parametrize("key", ["enter", "space"])
@pytest.mark.parametrize("words", ["cut ninety thou", "cut oh oh three", "dial reads three inches"])
def test_enter_and_the_pedal_have_a_number_asked_again(key: str, words: str) -> None:
    job = at_a_pass()
    question = asked(job, words)
    before = job.state
    for _ in range(3):
        press(job.assistant, key)
        assert unmoved(before, job.state)
        assert job.state.question == before.question
        assert job.state.last_reply == tuple(question.replace("? ", "?|").split("|"))


def test_a_question_about_a_command_is_answered_by_them() -> None:
    job = Job()
    job.to_step("roughing-3-cut")
    job.assistant.hear(Heard("that's through", 0.4, engine="moonshine"))
    press(job.assistant, "enter")
    assert job.state.step_id != "roughing-3-cut"


def test_the_words_of_the_step_are_in_the_grammar_of_its_question() -> None:
    job = at_the_paper()
    asked(job, "ninety thou")
    grammar = compile_grammar(BOOK, allowed(job.state))
    for words in ("yes", "yeah", "no", "bare", "no paper", "why", "how much left", "three thou",
                  "paper is three thou", "no four thou", "say again", "stop"):  # fmt: skip
        assert grammar.accepts(words.split()), words
    assert not grammar.accepts(["quick", "sum"])


def question_open(words: str = "ninety thou") -> State:
    job = at_the_paper()
    asked(job, words)
    return job.state


@pytest.mark.parametrize(
    ("confidence", "other", "taken"),
    [(0.5, "", False), (SURE_YES, "", True), (0.5, "yes", True), (0.85, "bare", False)],
)
def test_a_yes_pulled_from_another_word_has_it_asked_again(
    confidence: float, other: str, taken: bool
) -> None:
    state = question_open()
    opinion = Opinion(other, 0.9 if other else 0.0, "vosk")
    outcome = said_by_ear(state, Heard("yeah", confidence, engine="moonshine", opinion=opinion))
    assert isinstance(outcome.said, Understood) == taken
    assert (outcome.state.question is None) == taken
    if not taken:
        assert outcome.said.reason is Reason.UNSURE
        assert answer(outcome) == "Ninety thou? Yes or no."


def said_by_ear(state: State, heard: Heard):
    from assistant.app.turn import turn

    return turn(BOOK, state, heard, NOW)


def test_a_noise_does_not_change_what_is_asked() -> None:
    state = question_open()
    outcome = said_by_ear(state, Heard("two inches", 0.3, engine="moonshine"))
    assert outcome.state.question == state.question


def test_one_tenth_by_ear_is_asked_and_said_apart() -> None:
    job = at_the_paper()
    outcome = said(job.state, "paper is one tenth")
    assert answer(outcome) == "One tenth, or one hundred and ten thou? Say it again."
    again = said(outcome.state, "a tenth")
    assert isinstance(again.said, Understood)
    assert replace(again.state, last_reply=()).question is None
