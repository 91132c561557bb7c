"""F1 and the page of keys: shown until the next key or word, never over a question or `stop`."""

from __future__ import annotations

import pytest

from assistant.app.keys import WORDS, press
from assistant.devices.hidden import HiddenScreen
from assistant.present.glance import Glance, Moment
from assistant.present.keys_page import KEYS
from tests.factories import Job


def on_screen(job: Job) -> Glance:
    assert isinstance(job.screen, HiddenScreen)
    return job.screen.shown[-1]


def test_f1_shows_the_keys_and_says_help() -> None:
    job = Job("keyseat-inch")
    press(job.assistant, "f1")
    shown = on_screen(job)
    assert shown.instruction == "Keys"
    assert shown.number == ""
    assert job.assistant.last_heard == "help"


@pytest.mark.parametrize("key", ["f1", "up", "escape"])
def test_the_next_key_takes_them_away(key: str) -> None:
    job = Job("keyseat-inch")
    press(job.assistant, "f1")
    press(job.assistant, key)
    assert on_screen(job).moment is Moment.CHECK


def test_a_word_takes_them_away_and_counts() -> None:
    job = Job("keyseat-inch")
    press(job.assistant, "f1")
    before = job.state.step_id
    job.say("checked")
    assert job.state.step_id != before
    assert on_screen(job).instruction != "Keys"


def test_stop_and_a_question_are_never_covered() -> None:
    job = Job("keyseat-inch")
    job.say("stop")
    job.assistant.keys_shown = True
    job.assistant.show()
    assert on_screen(job).moment is Moment.TROUBLE
    job = Job("keyseat-inch")
    job.to_step("measure-shaft")
    job.try_saying("measured one point six")
    job.assistant.keys_shown = True
    job.assistant.show()
    assert on_screen(job).moment is Moment.ASK


def test_every_key_that_speaks_is_on_the_page() -> None:
    listed = " ".join(key.lower() for key, _ in KEYS)
    for key in (*WORDS, "escape", "enter", "space"):
        assert key in listed
    said = {key.lower(): what for key, what in KEYS}
    for key, words in WORDS.items():
        assert key == "f1" or said[key] == words
