"""What is answered stands on the screen too: every question in every job, and the quick sums."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from unittest.mock import patch

import pytest

from assistant.app.turn import Outcome, turn
from assistant.devices.screen import typeset
from assistant.present.answer_lines import answer_lines, answered
from assistant.present.formatting import MINUS, show_number
from assistant.present.glance import Ear, Glance, Moment
from assistant.present.glance_of import glance
from assistant.session.allowed import allowed
from assistant.session.reply import Answer, Ask, Instruction, ReadBack, Say, Travel, Verdict, Why
from assistant.session.state import State
from assistant.spoken import Figure, Heard, SlotKind, Understood
from assistant.units import Quantity
from tests.devices.pictures import drawn
from tests.factories import BOOK, NOW, Job
from tests.present.test_walk import UNITS, heard_lengths
from tests.session.walks import DEMOS, walked

NOT_QUESTIONS = frozenset(
    {"stop", "quit_listening", "undo", "finish", "ready_set", "through", "clear", "checked",
     "touched", "quick_sum", "help", "skip"}
)  # fmt: skip


@pytest.fixture(scope="module", params=DEMOS)
def states(request: pytest.FixtureRequest) -> list[State]:
    found = list(walked(request.param))
    return found[:: max(1, len(found) // 4)]


def questions(state: State) -> list[str]:
    """A phrase for each command of this state that takes no value and moves nothing."""
    phrases = []
    for expected in allowed(state):
        known = BOOK.intents.get(expected.intent)
        if known is None or expected.slots or expected.intent in NOT_QUESTIONS:
            continue
        phrases += known.examples[:1]
    return phrases


def shown_after(outcome: Outcome) -> Glance:
    """The screen as the assistant shows it after a reply."""
    lines, noted = answered(outcome.reply, outcome.state)
    return glance(outcome.state, answer=lines, noted=noted)


LONG = 90
"""Letters of an answer that may be tight on a small screen."""


def words_drawn(shown: Glance) -> str:
    """Every word that is set on a small screen, in the order of setting."""
    with patch.object(typeset, "write", wraps=typeset.write) as written:
        drawn(shown, (800, 480))
    return " " + " ".join(" ".join(call.args[1] for call in written.call_args_list).split()) + " "


def check(outcome: Outcome) -> int:
    """Every part of the reply is on the screen, with the number the ear got; how many numbers."""
    shown = shown_after(outcome)
    if shown.moment in (Moment.TROUBLE, Moment.ASK):
        return 0
    if len(" ".join(shown.answer)) > LONG:
        on_page = words_drawn(shown)
        assert all(f" {line} " in on_page for line in shown.answer), shown.answer
    seen = " ".join((*shown.answer, shown.noted))
    texts = [sentence.text for sentence in outcome.sentences]
    numbers = 0
    for part in outcome.reply.parts:
        match part:
            case Instruction() | Ask():
                continue
            case Say():
                assert part.text.rstrip(".") in seen, (part, seen)
            case Answer():
                unit = "" if part.figure.move is not None else part.unit or outcome.state.unit
                numbers += same(part.figure, unit, seen, texts)
            case ReadBack() if part.kind is SlotKind.LENGTH:
                numbers += same(part.value, part.unit or outcome.state.unit,
                                seen, texts)  # fmt: skip
            case Why():
                for term in part.figure.terms:
                    numbers += same(term.value, outcome.state.unit, seen, texts)
            case ReadBack() | Travel() | Verdict():
                assert seen
    return numbers


def same(figure: Figure | Quantity, unit: str, seen: str, texts: list[str]) -> int:
    """1 where the number on the screen is one that the sentences are read as."""
    number, symbol = show_number(figure, unit)
    assert f"{number} {symbol}".rstrip() in seen, (number, symbol, seen)
    if symbol not in UNITS:
        return 0
    value = Decimal(number.replace(MINUS, "-"))
    assert abs(value) in {abs(v) for v in heard_lengths(texts, Glance(Moment.NOTE, unit=symbol))}, (
        number, symbol, texts,
    )  # fmt: skip
    return 1


def test_every_question_is_answered_on_the_screen_too(states: list[State]) -> None:
    asked = numbers = 0
    for state in states:
        if state.finished:
            continue
        for words in questions(state):
            outcome = turn(BOOK, state, Heard(words, 1.0, 1.0, 2.0, engine="typed"), NOW)
            if not isinstance(outcome.said, Understood):
                continue
            numbers += check(outcome)
            asked += 1
    assert asked > 6
    plan = states[0].plan
    # where nothing is cut but a mark by hand there is no depth, speed or size to ask for
    assert numbers > 0 or (plan.full_depth is None and plan.result("speed") is None)


SUMS = {
    "keyseat-inch": ("half of three seventy-five", "tap drill for three eighths sixteen",
                     "decimal for seven sixteenths", "to metric one inch",
                     "turns for nine forty saddle"),
    "keyseat-metric": ("half of eight", "tap drill for M8", "two point five plus one"),
}  # fmt: skip


@pytest.mark.parametrize("name", SUMS)
def test_quick_sums_are_shown(name: str) -> None:
    job = Job(name)
    job.to_step("set-speed")
    understood = numbers = 0
    for words in SUMS[name]:
        job.say("quick sum")
        outcome = job.try_saying(words)
        if not isinstance(outcome.said, Understood):
            continue
        understood += 1
        numbers += check(outcome)
        shown = job.glance
        assert shown.answer or shown.noted, words
        assert shown.instruction  # the step stays where it is
    assert understood >= 2
    assert numbers >= 2


def test_the_answer_stands_till_the_next_command() -> None:
    job = Job("keyseat-inch")
    job.to_step("set-speed")
    job.say("why")
    assert any("surface speed" in line for line in job.glance.answer)
    assert job.glance.number  # the step's own number stays
    job.say("i'm set")
    assert not job.glance.answer


def test_what_was_told_stands_in_the_foot_of_the_next_page() -> None:
    job = Job("keyseat-inch")
    job.to_step("touch-side")
    job.say("touched")
    job.say("three thou")
    shown = job.glance
    assert "0.003 in" in shown.noted
    assert not shown.answer  # the dial keeps its place


def test_an_answer_is_drawn_in_a_frame_that_holds_it() -> None:
    job = Job("keyseat-inch")
    job.to_step("set-speed")
    job.say("why")
    plain = replace(job.glance, answer=())
    for size in ((800, 480), (1920, 1080), (1080, 1920)):
        page, pixels = drawn(job.glance, size)
        _, without = drawn(plain, size)
        assert (pixels != without).any()
        assert not (pixels[-page.margin // 3 :] != without[-page.margin // 3 :]).any()


def test_a_question_has_the_page_to_itself() -> None:
    job = Job("keyseat-inch")
    assert answer_lines(job.try_saying("why").reply, job.state)
    job.say("stop")
    assert job.glance.answer == ()


def test_an_idle_look_makes_no_new_page() -> None:
    job = Job("keyseat-inch")
    first = job.assistant._glance()
    assert job.assistant._glance() is first
    for name, value in (("ear", Ear.SPEAKING), ("level", 0.5), ("trouble", ("Voice: gone",)),
                        ("last_heard", "what now"), ("ear_waits_for", "f9")):  # fmt: skip
        before = job.assistant._glance()
        setattr(job.assistant, name, value)
        assert job.assistant._glance() is not before, name
    job.say("checked")
    assert job.assistant._glance().place == "step 2 of " + first.place.rpartition(" ")[2]
