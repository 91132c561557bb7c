"""The word that a step wants, said aloud the first times, and to whom not."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from assistant.app.first_words import JOBS_OF_A_BEGINNER, FirstWords, When
from assistant.errors import BadInput
from assistant.ports import JobEntry
from tests.factories import Job, expected_words


def job_of(when: When, name: str = "keyseat-inch") -> Job:
    job = Job(name)
    job.assistant.first_words = FirstWords(when)
    return job


def spoken(job: Job, words: str) -> list[str]:
    """What the voice says to it."""
    before = len(job.speaker.said)
    job.say(words)
    return [sentence.text for sentence in job.speaker.said[before:]]


def worked(job: Job) -> list[str]:
    """The last sentence of every answer on the plain way."""
    last = []
    while not job.state.finished:
        last.append(spoken(job, expected_words(job.state))[-1])
    return last


def test_each_word_is_told_until_it_was_said_twice() -> None:
    told = [last for last in worked(job_of(When.FIRST)) if last.startswith("Say ")]
    for words in ("Say checked when you have seen to it.", "Say touched when it touches.",
                  "Say that's through when the cut is finished."):  # fmt: skip
        assert 1 <= told.count(words) <= 2
    assert told.count("Say I'm set when it's as I told you.") == 2
    assert len(told) < 20  # a whole keyseat takes some sixty answers


def test_always_and_never() -> None:
    always = [last for last in worked(job_of(When.ALWAYS)) if last.startswith("Say ")]
    first = [last for last in worked(job_of(When.FIRST)) if last.startswith("Say ")]
    assert len(always) > len(first)
    never = [last for last in worked(job_of(When.NEVER)) if last.startswith("Say ")]
    assert never == ["Say same again for the next part."]  # what the last answer itself says


def test_what_is_asked_with_yes_or_no_or_names_its_word_gets_none() -> None:
    job = job_of(When.ALWAYS)
    for _ in range(60):
        before = job.state.step_id, job.state.phase
        said = spoken(job, expected_words(job.state))
        if said[-1].endswith("half?"):
            break
    assert before != (job.state.step_id, job.state.phase)
    assert said[-1] == "Read it again: one thirty-seven and a half?"


def test_it_is_told_on_coming_to_a_step_alone() -> None:
    job = job_of(When.ALWAYS)
    word = "Say checked when you have seen to it."
    assert spoken(job, "checked")[-1] == word
    assert word not in spoken(job, "what now")
    assert word not in spoken(job, "say again")
    assert word not in spoken(job, "louder")


def test_the_voice_is_asked_to_make_it_ahead() -> None:
    job = job_of(When.ALWAYS)
    job.say("checked")
    assert "Say checked when you have seen to it." in job.speaker.foreseen


def test_a_job_taken_up_again_tells_it_anew() -> None:
    job = job_of(When.FIRST)
    job.to_step("roughing-2-set")
    job.assistant.first_words = FirstWords(When.FIRST)
    job.resume()
    assert job.speaker.said[-1].text == "Same turn?"  # asked with yes or no
    spoken(job, "yes")
    spoken(job, "dial reads three")
    assert spoken(job, "nothing moved")[-1] == "Say I'm set when it's as I told you."


def entry(number: int, *, finished: bool) -> JobEntry:
    at = datetime(2026, 1, number + 1, tzinfo=UTC)
    return JobEntry(f"flats-{number}", "flats", at, at, finished, 40)


@pytest.mark.parametrize("finished", [0, JOBS_OF_A_BEGINNER - 1, JOBS_OF_A_BEGINNER])
def test_who_has_some_jobs_behind_them_knows_the_words(finished: int) -> None:
    jobs = [entry(number, finished=number < finished) for number in range(6)]
    beginner = finished < JOBS_OF_A_BEGINNER
    assert FirstWords.of_journal(When.FIRST, jobs).when is (
        When.FIRST if beginner else When.NEVER
    )  # fmt: skip
    assert FirstWords.of_journal(When.ALWAYS, jobs).when is When.ALWAYS
    assert FirstWords.of_journal(When.NEVER, []).when is When.NEVER


def test_a_setting_that_is_none_is_refused_with_what_would_be_right(tmp_path) -> None:  # type: ignore[no-untyped-def]
    from assistant.app.settings import load_settings

    path = tmp_path / "settings.toml"
    path.write_text('say_words = "sometimes"\n')
    with pytest.raises(BadInput, match=r"say_words.*sometimes.*first"):
        load_settings(path)
