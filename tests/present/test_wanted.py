"""The words in the foot of the page: they are those that carry the job on."""

from __future__ import annotations

from dataclasses import replace

import pytest

from assistant.phrases.book import load_book
from assistant.present.wanted import WORDS, wanted_words
from assistant.session.state import Doubt, DoubtKind, Phase, Question, State
from assistant.spoken import Intent
from tests.factories import Job, expected_words
from tests.present.doubting import in_doubt

JOBS = ("keyseat-inch", "holes-circle", "divide-ratchet", "dial-in-bore", "thread-external",
        "tap-through", "turn-metric")  # fmt: skip


@pytest.mark.parametrize("name", JOBS)
def test_what_the_foot_asks_for_carries_the_job_on(name: str) -> None:
    """Every step of a job: the words are there, and where they hold no value they are all that is
    needed."""
    job = Job(name)
    while not job.state.finished:
        words = wanted_words(job.state)
        assert words, job.state.step_id
        before = (job.state.step_id, job.state.phase)
        bare = words.split(",")[0].lower()
        job.say(expected_words(job.state) if "..." in bare or "paper" in bare else bare)
        after = (job.state.step_id, job.state.phase)
        assert after != before or job.state.finished, (before, words)


def test_every_intent_is_one_of_the_phrase_book() -> None:
    known = {expected.intent for expected in load_book().expected()}
    assert set(WORDS) <= known


def test_it_asks_for_what_is_waited_for() -> None:
    job = Job("keyseat-inch")
    job.to_step("to-centre")
    state = job.state
    assert wanted_words(State()) == ""
    assert wanted_words(state) == "I'm set"
    assert wanted_words(replace(state, phase=Phase.VERIFY)).startswith("dial reads")
    assert wanted_words(replace(state, listening=False)) == "listen"
    assert wanted_words(replace(state, stopped=True)) == "where are we"
    asking = replace(state, question=Question("", Intent("through")))
    assert wanted_words(asking) == "yes, or no"
    doubtful = in_doubt(state, Doubt(DoubtKind.METAL))
    assert wanted_words(doubtful).startswith("measured")
