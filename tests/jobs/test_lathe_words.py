"""What is said at the lathe: short enough to be followed, and its cautions never left out."""

from __future__ import annotations

import pytest

from assistant.app.cli.sheet import planned
from assistant.present.move_words import LONGEST, seconds
from assistant.present.sentences import spoken
from tests.factories import Job

DEMOS = (
    "turn-shaft", "turn-metric", "bore-bush", "thread-external", "thread-internal", "taper-morse",
    "taper-set-over", "dial-in-bore", "tailstock-line", "face-length", "part-ring", "knurl-knob",
)  # fmt: skip


@pytest.mark.parametrize("name", DEMOS)
def test_every_sentence_is_short(name):
    plan = planned(name).plan
    for step in plan.steps:
        for text in (*step.cautions, *step.say, *step.after):
            for sentence in spoken(text):
                assert seconds(sentence.text) <= LONGEST, sentence.text
    for _, answer in plan.answers:
        if isinstance(answer, str):
            for sentence in spoken(answer):
                assert seconds(sentence.text) <= LONGEST, sentence.text


@pytest.mark.parametrize("name", DEMOS)
def test_the_lathe_s_own_cautions(name):
    """Chuck key, bar out of the back, no emery wrapped round, no braking by hand."""
    said = " ".join(text for step in planned(name).plan.steps for text in step.say).lower()
    for words in ("chuck key", "bar out of the back", "no emery", "never brake the chuck"):
        assert words in said


@pytest.mark.parametrize("name", DEMOS)
def test_step_names_are_unique(name):
    ids = [step.id for step in planned(name).plan.steps]
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize("name", DEMOS)
def test_why_and_where_can_be_asked_in_every_job(name):
    job = Job(name)
    for words in ("where are we", "what now", "how deep", "what speed", "what size", "why"):
        assert job.say(words)
