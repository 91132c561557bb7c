"""Another value for what was told last, in one breath: "no, forty five"."""

from __future__ import annotations

from decimal import Decimal

import pytest

from assistant.session.events import Commanded, Undone
from assistant.session.state import Phase
from assistant.spoken import Reason, Refused
from assistant.units import inches, magnitude
from tests.factories import Job, answer


@pytest.fixture
def shaft() -> Job:
    """Told that the shaft is 1.5 in."""
    job = Job()
    job.to_step("measure-shaft")
    job.say("measured one point five")
    return job


def diameter(job: Job) -> Decimal:
    return magnitude(job.state.facts["shaft.diameter"], "inch")


def test_the_second_value_stands_for_the_first(shaft: Job) -> None:
    said = shaft.say("no, one point five oh one")
    assert "One five oh one" in said
    assert shaft.state.step_id == "measure-cutter", "the place is the same"
    assert diameter(shaft) == Decimal("1.501")
    record = [str(told.value) for told in shaft.state.told]
    assert record == ["1.501 inch"], "the first is not in it"


def test_it_may_be_put_right_again(shaft: Job) -> None:
    shaft.says("no one point five oh one", "no one point five oh two")
    assert diameter(shaft) == Decimal("1.502")


def test_a_question_between_leaves_no_mark(shaft: Job) -> None:
    shaft.says("what size", "no one point five oh one")
    assert diameter(shaft) == Decimal("1.501")


def test_it_is_a_command_that_can_be_taken_back(shaft: Job) -> None:
    shaft.says("no one point five oh one", "scratch that")
    assert shaft.state.step_id == "measure-shaft"
    assert "shaft.diameter" not in shaft.state.facts


def test_the_journal_has_both_and_replays_to_the_same(shaft: Job) -> None:
    shaft.say("no one point five oh one")
    events = [record.event for record in shaft.journal.read(shaft.assistant.job_id)]
    kinds = [type(event) for event in events]
    assert kinds.count(Undone) == 1
    told = [event.intent.name for event in events if isinstance(event, Commanded)]
    assert told[-2:] == ["measured", "measured"]
    shaft.resume()
    assert diameter(shaft) == Decimal("1.501")


def test_an_implausible_one_is_asked_back_before_anything_changes(shaft: Job) -> None:
    outcome = shaft.try_saying("no, nine point five")
    assert isinstance(outcome.said, Refused)
    assert outcome.said.reason is Reason.IMPLAUSIBLE
    assert "Nine five hundred? Yes or no." in answer(outcome)
    assert diameter(shaft) == Decimal("1.5")
    shaft.say("no")
    assert diameter(shaft) == Decimal("1.5")
    assert shaft.state.step_id == "measure-cutter"


@pytest.mark.parametrize(
    "number",
    ["minus five", "ninety nine inches", "nine thousand millimetres", "zero", "three hundred rpm",
     "nine nine nine nine nine nine", "not a number", "-5", "nan"],
)  # fmt: skip
def test_an_odd_number_puts_nothing_right(shaft: Job, number: str) -> None:
    outcome = shaft.try_saying(f"no {number}")
    assert isinstance(outcome.said, Refused)
    assert answer(outcome), "it is told or asked"
    assert diameter(shaft) == Decimal("1.5")


def test_the_paper_is_told_anew_and_the_move_follows() -> None:
    job = Job()
    job.to_step("touch-side")
    job.says("touched", "three thou")
    assert job.glance.number == "0.9405"
    job.say("no, two thou")
    assert job.glance.number == "0.9395"
    assert job.state.facts["paper.saddle"] == inches("0.002")


def test_after_another_command_it_is_too_late() -> None:
    """A setting was made on the first value: that takes "scratch that", and the dial is asked."""
    job = Job()
    job.to_step("touch-side")
    job.says("touched", "three thou", "i'm set")
    assert job.state.phase is Phase.VERIFY
    outcome = job.try_saying("no, two thou")
    assert isinstance(outcome.said, Refused)
    assert job.state.facts["paper.saddle"] == inches("0.003")


def test_there_is_nothing_to_put_right_before_anything_was_told() -> None:
    outcome = Job().try_saying("no, one point five")
    assert isinstance(outcome.said, Refused)
