"""The live loop and quick sums: which grammar the ear is held to, and for how long."""

from __future__ import annotations

from assistant.app.run_live import Live
from assistant.session.sums import SUM_SECONDS
from assistant.spoken import WordAutomaton
from tests.factories import Job


class ListeningEar:
    """An ear that hears nothing and keeps what it is held to."""

    ready = True
    waiting = 0.0

    def __init__(self) -> None:
        self.held: list[WordAutomaton] = []

    def listen_for(self, grammar: WordAutomaton) -> None:
        self.held.append(grammar)

    def prepare(self, grammars: list[WordAutomaton]) -> None:
        """Nothing to prepare."""

    def poll(self) -> list[object]:
        return []


def test_the_ear_is_held_to_sums_until_they_lapse():
    job = Job()
    ear = ListeningEar()
    live = Live(job.assistant, ear, clock=job.clock.monotonic)  # type: ignore[arg-type]
    live.step()
    of_the_step = ear.held[-1]
    assert of_the_step.accepts(["checked"])
    job.say("quick sum")
    live.step()
    assert ear.held[-1].accepts(["half", "of", "one", "inch"])
    assert not ear.held[-1].accepts(["checked"])
    job.clock.advance(SUM_SECONDS + 0.1)
    live.step()
    assert ear.held[-1].id == of_the_step.id


def test_one_answer_gives_the_step_back():
    job = Job()
    ear = ListeningEar()
    live = Live(job.assistant, ear, clock=job.clock.monotonic)  # type: ignore[arg-type]
    live.step()
    of_the_step = ear.held[-1]
    job.say("quick sum")
    live.step()
    job.say("half of one inch")
    live.step()
    assert ear.held[-1].id == of_the_step.id
