"""The live loop and quick sums: which grammar the ear is held to, and for how long."""

from __future__ import annotations

from assistant.app.run_live import Live
from assistant.devices.ear import HeardEvent
from assistant.session.sums import SUM_SECONDS
from assistant.spoken import Heard, WordAutomaton
from tests.factories import Job


class ListeningEar:
    """An ear that hears nothing and keeps what it is held to."""

    ready = True
    waiting = 0.0

    def __init__(self) -> None:
        self.held: list[WordAutomaton] = []
        self.reports: list[object] = []

    def listen_for(self, grammar: WordAutomaton) -> None:
        self.held.append(grammar)

    def prepare(self, grammars: list[WordAutomaton]) -> None:
        """Nothing to prepare."""

    def interrupt(self) -> None:
        """Nothing to forget."""

    def poll(self) -> list[object]:
        reports, self.reports = self.reports, []
        return reports


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


def test_steps_that_share_a_grammar_keep_their_own_bands():
    """A size is said in the same words at both, so the ear is held to the same sentences; but the
    width of a cutter is no width of a key."""
    job = Job()
    job.to_step("measure-shaft")
    job.say("measured one point five")
    ear = ListeningEar()
    live = Live(job.assistant, ear, clock=job.clock.monotonic)  # type: ignore[arg-type]
    live.step()
    job.say("measured three seventy five")
    assert job.state.step_id == "measure-key"
    job.clock.advance(1.0)
    live.step()
    (grammar,) = ear.held
    job.clock.advance(1.0)
    now = job.clock.monotonic()
    heard = Heard("measured three seventy four", 0.95, now, now + 1, grammar.id, "moonshine")
    ear.reports.append(HeardEvent(heard))
    live.step()
    assert job.state.question is None
    assert job.state.step_id == "set-speed"


def test_what_was_begun_before_the_step_changed_means_what_it_meant_then():
    job = Job()
    job.to_step("measure-shaft")
    ear = ListeningEar()
    live = Live(job.assistant, ear, clock=job.clock.monotonic)  # type: ignore[arg-type]
    live.step()
    begun = job.clock.monotonic()
    grammar = ear.held[-1]
    job.clock.advance(0.5)
    job.say("measured one point five")
    live.step()
    heard = Heard("measured three seventy five", 0.95, begun, begun + 1, grammar.id, "moonshine")
    ear.reports.append(HeardEvent(heard))
    live.step()
    assert job.state.question is not None
    assert job.state.step_id == "measure-cutter"
