"""Every demo worked as planned, once: the states that it goes through, and words turned in them."""

from __future__ import annotations

from functools import cache

from assistant.app.paths import configs_folder
from assistant.app.turn import Outcome, turn
from assistant.session.state import State
from assistant.spoken import Heard
from tests.factories import BOOK, NOW, Job, expected_words

DEMOS = tuple(sorted(path.stem for path in (configs_folder() / "jobs").glob("*.toml")))
MOST_STEPS = 600


@cache
def walked(demo: str) -> tuple[State, ...]:
    """The states before each command of a job that goes as planned, and the last."""
    job = Job(demo)
    states = [job.state]
    while not job.state.finished:
        job.say(expected_words(job.state))
        states.append(job.state)
        assert len(states) < MOST_STEPS, f"{demo} doesn't end: {job.state.step_id}"
    return tuple(states)


def said(state: State, words: str, engine: str = "moonshine") -> Outcome:
    """What `words` lead to in `state`; a spoken word is sure."""
    return turn(BOOK, state, Heard(words, 0.95, engine=engine), NOW)


def unmoved(before: State, after: State) -> bool:
    """Whether a job stands where it stood, whatever was asked or said."""
    return (after.facts, after.axes, after.step_id, after.phase, after.plan, after.confirmed) == (
        before.facts, before.axes, before.step_id, before.phase, before.plan, before.confirmed
    )  # fmt: skip
