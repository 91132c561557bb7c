"""What the tests of every operation need: its plan, its sheet, the job walked to its end."""

from __future__ import annotations

from typing import Any

from assistant.app.cli.sheet import planned, walk
from assistant.app.paths import configs_folder
from assistant.jobs.plan import Plan
from assistant.jobs.planning import plan_for
from assistant.machine import Machine, load_machine
from assistant.present.for_the_ear import seconds as voice_seconds
from assistant.present.move_words import LONGEST, seconds
from assistant.spoken import Understood
from assistant.textfile import read_file
from assistant.units import magnitude
from tests.factories import Job, expected_words

JOBS = configs_folder() / "jobs"
MACHINES = configs_folder() / "machines"
ABOUT = 0.3
"""Seconds: the length of a sentence is worked out from its words, and its numbers vary."""


def text_of(job: str) -> str:
    """The text of a demo job."""
    return read_file(JOBS / f"{job}.toml")


def machine_of(job: str) -> Machine:
    """The machine that a demo job names."""
    line = next(line for line in text_of(job).splitlines() if line.startswith("machine"))
    name = line.split('"')[1]
    return load_machine(MACHINES / f"{name}.toml")


def plan_of(job: str, text: str | None = None, /, **facts: Any) -> Plan:
    """The plan of a demo job, with facts: `size_1` is told as `size.1`."""
    named = {name.replace("_", "."): value for name, value in facts.items()}
    return plan_for(text or text_of(job), f"{job}.toml", machine_of(job), named)


def changed(job: str, *swaps: tuple[str, str]) -> str:
    """The text of a demo job with lines changed; each must be there."""
    text = text_of(job)
    for old, new in swaps:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text


def sheet(job: str) -> dict[str, Any]:
    """Each step's figure, as if all went as planned."""
    return {step.id: figure for step, figure in walk(planned(job))}


def value(plan: Plan, name: str, unit: str = "inch"):
    """A named result's magnitude."""
    figure = plan.result(name)
    assert figure is not None, name
    return magnitude(figure.value, unit)


def walk_to_end(job: Job, most: int = 900) -> list[str]:
    """Say what an operator says when all goes as planned, to the end; every sentence answered, as
    it is written.

    Each has to be short enough to be said in about four seconds, as the voice has it.
    """
    ids = [step.id for step in job.state.plan.steps]
    assert len(ids) == len(set(ids)), sorted(one for one in ids if ids.count(one) > 1)
    said = [sentence.text for sentence in job.opening]
    for _ in range(most):
        if job.state.finished:
            break
        words = expected_words(job.state)
        assert words, job.state.step_id
        outcome = job.try_saying(words)
        assert isinstance(outcome.said, Understood), f"{words!r}: {outcome.said}"
        said += [sentence.text for sentence in outcome.sentences]
    else:
        raise AssertionError(f"never ended; stands at {job.state.step_id}")
    too_long = [text for text in said if seconds(text) > LONGEST + ABOUT]
    too_long += [text for text in job.speaker.texts if voice_seconds(text) > LONGEST + ABOUT]
    assert not too_long, too_long
    return said
