"""The journal tells which version of the program began a job."""

from __future__ import annotations

import json

from assistant import __version__
from assistant.session.codec import decode, encode
from assistant.session.events import JobStarted
from tests.factories import Job, expected_words


def started(job: Job) -> list[JobStarted]:
    records = job.journal.read(job.assistant.job_id)
    return [one.event for one in records if isinstance(one.event, JobStarted)]


def test_a_job_keeps_the_version_that_began_it() -> None:
    assert [event.program for event in started(Job())] == [__version__]


def test_the_next_part_keeps_it_too() -> None:
    job = Job("tram-vice")
    for _ in range(100):
        if job.state.finished:
            break
        job.say(expected_words(job.state))
    before = job.assistant.job_id
    job.say("same again")
    assert job.assistant.job_id != before
    assert [event.program for event in started(job)] == [__version__]


def test_a_journal_from_before_it_was_kept_is_read() -> None:
    event = JobStarted("title", "job", "text", "machine", "mill", "9.9")
    plain = json.loads(encode(event))
    del plain["program"]
    assert decode(json.dumps(plain)) == JobStarted("title", "job", "text", "machine", "mill")
