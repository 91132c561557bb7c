"""A job under way that a later version of the program takes up: the place is kept whatever is
called otherwise, no metal is cut twice, and what would be planned otherwise is said and asked."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from assistant import __version__
from assistant.errors import BadFile, BadInput, JournalError
from assistant.guard import check
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Check, Cut, Ground, Measure, Move, Step
from assistant.machine import parse_machine
from assistant.phrases import saying
from assistant.present.glance import Moment
from assistant.present.paper import history
from assistant.present.paper.plain import plain_text
from assistant.present.paper.record import job_record
from assistant.session import reduce, work
from assistant.session.begin import resume
from assistant.session.carry import key_of
from assistant.session.codec import decode, encode
from assistant.session.events import JobStarted, PlanKept, Record, Resumed
from assistant.session.instruct import dial_at
from assistant.session.state import DoubtKind, State
from assistant.units import inches
from tests.factories import NOW, Job, expected_words
from tests.session.sample_events import JOURNALS
from tests.session.walks import DEMOS, walked

OLD_JOBS = sorted((JOURNALS / "jobs").glob("*.jsonl"))
Planner = Callable[[Plan], Plan]
Later = Callable[[Planner], None]


@pytest.fixture
def later(monkeypatch: pytest.MonkeyPatch) -> Later:
    """Lets the program plan every job otherwise from now on, as a later version might."""
    now = work.plan_for

    def use(change: Planner) -> None:
        monkeypatch.setattr(work, "plan_for", lambda *args, **how: change(now(*args, **how)))

    return use


def all_steps(change: Callable[[Step], Step]) -> Planner:
    return lambda plan: replace(plan, steps=tuple(change(step) for step in plan.steps))


renamed = all_steps(lambda step: replace(step, id=f"other {step.id}", title=step.title.upper()))


def _moved_on(step: Step) -> Step:
    if isinstance(step, Move) and step.pass_number > 1 and step.target is not None:
        return replace(step, target=step.target + inches("0.002") * step.deeper)
    return step


deeper = all_steps(_moved_on)
"""The settings of the passes two thou deeper."""


def with_a_check(plan: Plan) -> Plan:
    new = Check(id="look", title="Look at the belt", say=("Look at the belt.",))
    return replace(plan, steps=(new, *plan.steps))


def can_not(plan: Plan) -> Plan:
    raise BadFile("job.toml", "cutter", "0.3 in", "wanted a wider one")


def settle(job: Job, plan: str = "yes") -> None:
    """Answer what is asked after a resume, till the job is back at its step."""
    for _ in range(9):
        doubt = job.state.doubts[0] if job.state.doubts else None
        if doubt is None:
            return
        if doubt.kind is DoubtKind.MOVED:
            job.say("nothing moved")
        elif doubt.kind is DoubtKind.PLAN:
            job.say(plan)
        else:
            now, wheel = job.state.axes[doubt.axis], job.state.machine.axis(doubt.axis)
            said = job.say(f"dial reads {saying.say_reading(dial_at(wheel, now, now.position))}")
            if said.endswith("Yes or no."):
                job.say("yes")
    raise AssertionError(job.state.doubts)


def to_the_end(job: Job) -> None:
    for _ in range(600):
        if job.state.finished:
            return
        job.say(expected_words(job.state))
    raise AssertionError(job.state.step_id)


def set_for(job: Job) -> Move:
    """The setting at hand."""
    assert isinstance(job.state.step, Move)
    return job.state.step


# -- only names are otherwise ---------------------------------------------------------------------


@pytest.mark.parametrize("demo", DEMOS)
def test_the_place_is_found_whatever_was_renamed(demo: str, later: Later) -> None:
    states = [state for state in walked(demo)[1:-1] if state.plan.steps[0].id in state.done][::5]
    later(renamed)
    for before in states:
        after = resume(before, NOW).state
        assert after.differs is None
        assert after.step is not None
        assert before.step is not None
        assert after.step_id == f"other {before.step_id}"
        assert key_of(after.step) == key_of(before.step)
        assert after.phase is before.phase
        done = {name for name in before.confirmed if before.plan.has(name)}
        assert {f"other {name}" for name in done} <= set(after.confirmed)
        assert not [doubt for doubt in after.doubts if doubt.kind is DoubtKind.PLAN]
        assert check(after) is None


def test_a_job_with_other_names_is_worked_to_its_end(later: Later) -> None:
    job = Job("turn-stepped")
    job.to_step("roughing-2-set")
    cuts = [name for name in job.state.confirmed if isinstance(job.state.plan.step(name), Cut)]
    later(renamed)
    said = job.resume()
    assert "plans it otherwise" not in said
    settle(job)
    job.says("scratch that", "scratch that")
    assert "Nothing to take back" in job.say("scratch that"), "the steps it was about are gone"
    settle(job)
    to_the_end(job)
    assert len(cuts) == 1
    entered = [getattr(one.event, "step_id", "") for one in job.journal.read(job.assistant.job_id)]
    assert not set(entered) & {f"other {name}" for name in cuts}, "no cut is made twice"


# -- numbers are otherwise ------------------------------------------------------------------------


def test_what_would_be_planned_otherwise_is_said_and_asked_first(later: Later) -> None:
    job = Job()
    job.to_step("roughing-2-set")
    target = set_for(job).target
    assert target is not None
    later(deeper)
    said = job.resume()
    assert "This version plans it otherwise. Set pass 2: thirty-five, was thirty-three." in said
    assert said.endswith("Keep the plan it has? Yes or no.")
    assert job.glance.moment is Moment.ASK
    assert "thirty-five" in job.glance.instruction
    assert job.glance.move is None, "no number before it is answered"
    for words in ("i'm set", "touched", "what now"):
        job.try_saying(words)
        assert job.state.doubts[0].kind is DoubtKind.PLAN
    job.say("yes")
    settle(job)
    assert set_for(job).target == target
    assert "otherwise" not in job.resume(), "asked once for the same"


def test_the_other_plan_can_be_taken(later: Later) -> None:
    job = Job()
    job.to_step("roughing-2-set")
    target = set_for(job).target
    assert target is not None
    later(deeper)
    job.resume()
    settle(job, plan="no")
    assert set_for(job).target == target + inches("0.002")
    assert job.state.differs is None
    assert "other" not in job.resume()
    settle(job)
    to_the_end(job)


def test_what_is_told_is_worked_in_by_the_version_at_work(later: Later) -> None:
    job = Job()
    job.to_step("roughing-2-set")
    later(deeper)
    job.resume()
    settle(job, plan="yes")
    said = job.say("cut forty thou this pass")
    assert "From here as this version plans it." in said
    assert job.state.differs is None
    to_the_end(job)


def test_a_new_check_is_asked_and_the_place_is_kept(later: Later) -> None:
    job = Job()
    job.to_step("roughing-2-set")
    later(with_a_check)
    assert "Look at the belt: new." in job.resume()
    settle(job, plan="no")
    assert job.state.step_id == "look"
    assert "Back to where" in job.say("checked") or job.state.step_id == "roughing-2-set"
    assert job.state.step_id == "roughing-2-set"


def test_in_a_cut_another_depth_is_not_taken(later: Later) -> None:
    job = Job()
    job.to_step("roughing-2-cut")
    later(deeper)
    said = job.resume()
    assert "Set pass 2: thirty-five, was thirty-three." in said
    assert "That doesn't go on from what is done." in said
    assert "Begin the job new, and say what is already cut." in job.say("no")
    assert job.state.doubts[0].kind is DoubtKind.PLAN, "no leaves the question open"
    settle(job)
    assert isinstance(job.state.step, Cut)
    job.say("that's through")


def test_shallower_passes_are_not_cut_where_the_metal_is_gone(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    job = Job("turn-shaft")
    job.to_step("roughing-3-set")
    reached = job.state.belief.cut_at["cross slide"].position
    now = work.plan_for
    swap = ('max_cut = "0.050 in"', 'max_cut = "0.025 in"')
    assert swap[0] in job.state.job_text

    def lighter(text: str, *args: object, **how: object) -> Plan:
        return now(text.replace(*swap), *args, **how)  # type: ignore[arg-type]

    monkeypatch.setattr(work, "plan_for", lighter)
    assert "This version plans it otherwise" in job.resume()
    settle(job, plan="no")
    step = set_for(job)
    assert step.target is not None
    assert (step.target - reached) * step.deeper > inches(0), "deeper than what is cut"
    assert (step.target - reached) * step.deeper < inches("0.050")
    to_the_end(job)


# -- what today's checks refuse -------------------------------------------------------------------


def test_a_job_that_can_not_be_planned_any_more_keeps_its_plan(later: Later) -> None:
    job = Job()
    job.to_step("roughing-2-set")
    later(can_not)
    said = job.resume()
    assert "This version can't plan this job: cutter 0.3 in: wanted a wider one." in said
    settle(job)
    job.say("i'm set")
    assert isinstance(job.state.step, Cut)
    job.say("that's through")
    assert "can't plan" not in job.resume(), "said once"
    settle(job)
    assert "One twenty" in job.say("running at one twenty"), "no depth hangs on it"
    job.to_step("measure-size-1")
    said = job.say(expected_words(job.state))
    assert "Can't be. job.toml: cutter 0.3 in: wanted a wider one." in said
    assert "Begin the job new, and say what is already cut." in said
    assert isinstance(job.state.step, Measure), (
        "nothing deeper is given on a plan that may be wrong"
    )


def test_a_word_of_trouble_counts_where_its_value_can_not_be_worked_in(later: Later) -> None:
    job = Job()
    job.to_step("roughing-2-set")
    later(can_not)
    job.resume()
    settle(job)
    said = job.say("new cutter three seventy six")
    assert "Can't be." in said
    assert job.state.belief.lost("knee") is not None


def read_records(path: Path) -> list[Record]:
    lines = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]
    return [
        Record(one["seq"], one["command"], datetime.fromisoformat(one["at"]),
               decode(json.dumps(one["event"])))
        for one in lines
    ]  # fmt: skip


@pytest.mark.parametrize("path", OLD_JOBS, ids=lambda path: path.stem)
def test_a_job_of_an_earlier_version_is_taken_up_and_worked_on(path: Path) -> None:
    records = read_records(path)
    begun = records[0].event
    assert isinstance(begun, JobStarted)
    with pytest.raises(BadInput):
        parse_machine(begun.machine_text, begun.machine_name)
    job = Job("tram-vice")
    job.journal.append("old-1", records)
    before = reduce.replay(records)
    job.assistant.resume("old-1")
    settle(job)
    assert job.state.step_id == before.step_id
    assert set(before.confirmed) <= set(job.state.confirmed)
    to_the_end(job)


def test_replaying_reads_no_machine_file(monkeypatch: pytest.MonkeyPatch) -> None:
    job = Job("turn-metric")
    job.to_step("roughing-2-set")
    records = job.journal.read(job.assistant.job_id)
    kept = [replace(one, event=decode(encode(one.event))) for one in records]

    def refuse(*_: object) -> None:
        raise AssertionError("read again")

    monkeypatch.setattr(reduce, "machine_once_taken", refuse)
    assert reduce.replay(kept).machine == job.state.machine


def test_a_machine_that_nobody_can_read_is_said() -> None:
    with pytest.raises(JournalError, match="machine"):
        reduce.fold(JobStarted("a", "a.toml", "", 'name = "a"', "a.toml"), State())


def test_the_journal_tells_which_version_took_it_up(later: Later) -> None:
    job = Job()
    later(deeper)
    job.resume()
    events = [one.event for one in job.journal.read(job.assistant.job_id)]
    assert [one.program for one in events if isinstance(one, Resumed)] == [__version__]
    assert len([one for one in events if isinstance(one, PlanKept)]) == 1


def test_the_record_on_paper_tells_of_it(later: Later) -> None:
    job = Job()
    job.to_step("roughing-2-set")
    later(deeper)
    job.resume()
    settle(job, plan="no")
    document, _ = job_record(job.journal.read(job.assistant.job_id), "job-1", lambda when: when)
    text = plain_text(document)
    assert "This version would plan it otherwise" in text
    assert f"by version {__version__}" in text


def test_every_ground_has_its_words_on_paper() -> None:
    assert set(history._UNSURE) == set(Ground)


def test_a_measured_size_is_still_asked_for(later: Later) -> None:
    job = Job()
    job.to_step("measure-size-1")
    later(renamed)
    job.resume()
    settle(job)
    assert isinstance(job.state.step, Measure)
    to_the_end(job)
