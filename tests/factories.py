"""What many tests need: a job at work without devices, driven by typed words."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from assistant.app.assistant import Assistant, Devices
from assistant.app.paths import configs_folder
from assistant.app.transcript import Transcript
from assistant.app.turn import Outcome
from assistant.devices.clock import SetClock
from assistant.devices.hidden import HiddenScreen
from assistant.devices.journal import MemoryJournal
from assistant.devices.speaker import SilentSpeaker
from assistant.phrases.book import load_book
from assistant.present.glance import Glance
from assistant.session.state import State
from assistant.spoken import Heard, Understood

NOW = datetime(2026, 1, 5, 9, 0, tzinfo=UTC)
BOOK = load_book()


class Job:
    """A job at work, with every port's fake."""

    def __init__(self, name: str = "keyseat-inch", path: Path | None = None) -> None:
        self.journal = MemoryJournal()
        self.speaker = SilentSpeaker()
        self.screen = HiddenScreen()
        self.clock = SetClock(NOW)
        devices = Devices(self.journal, self.speaker, self.screen, self.clock)
        self.assistant = Assistant(BOOK, devices, Transcript(lambda _line: None))
        self.opening = self.assistant.begin(path or configs_folder() / "jobs" / f"{name}.toml")

    def say(self, words: str) -> str:
        """Type words; the answer as one text. Fails where they aren't understood."""
        outcome = self.try_saying(words)
        assert isinstance(outcome.said, Understood), f"{words!r}: {outcome.said}"
        return answer(outcome)

    def says(self, *lines: str) -> str:
        """Several commands; the last answer."""
        last = ""
        for line in lines:
            last = self.say(line)
        return last

    def resume(self) -> str:
        """As if the program had ended here and the job were taken up again."""
        return " ".join(s.text for s in self.assistant.resume(self.assistant.job_id))

    def try_saying(self, words: str, confidence: float = 1.0) -> Outcome:
        """Words that may be refused."""
        now = self.clock.monotonic()
        return self.assistant.hear(Heard(words, confidence, now, now, engine="typed"))

    @property
    def state(self) -> State:
        """Where the job is."""
        return self.assistant.state

    @property
    def glance(self) -> Glance:
        """What the screen shows."""
        return self.assistant.show()

    def to_deep_pass(self, taken: str = "sixty eight") -> None:
        """To the second pass of a keyseat, and deeper than planned: 3 and 68 thou are 71."""
        self.to_step("roughing-2-set")
        self.say(f"cut {taken} thou this pass")

    def to_step(self, step_id: str) -> None:
        """Go on as planned until the step is at hand."""
        for _ in range(200):
            if self.state.step_id == step_id:
                return
            self.say(expected_words(self.state))
        raise AssertionError(f"never came to {step_id}")


def answer(outcome: Outcome) -> str:
    """The spoken answer as one text."""
    return " ".join(sentence.text for sentence in outcome.sentences)


def expected_words(state: State) -> str:
    """What an operator says when all goes as planned."""
    from assistant.app.forward import forward_words
    from assistant.jobs.steps import Measure
    from assistant.session.state import Phase

    step = state.step
    if state.phase is Phase.PAPER:
        return "bare"
    if state.phase is Phase.READ:
        return _second_touch(state) or "zero"
    if isinstance(step, Measure) and step.kind == "walls":
        return "it's even"
    if isinstance(step, Measure) and step.kind == "size":
        # what the plan foresees: the stock for the finishing cut is still there
        return "ten over" if _before_finishing(step, state.unit) else "bang on"
    return forward_words(state)


def _second_touch(state: State) -> str:
    """The reading of the second of two touches, as foreseen, with its turns; '' elsewhere."""
    from assistant.jobs.steps import Touch
    from assistant.phrases import saying
    from assistant.session.instruct import dial_at

    step = state.step
    if not (isinstance(step, Touch) and step.keeps and step.near is not None):
        return ""
    wheel, now = state.machine.axis(step.axis), state.axes[step.axis]
    turns = int(abs(step.near / wheel.per_turn).to("dimensionless").magnitude)
    return f"dial reads {saying.say_turns(turns, dial_at(wheel, now, step.near))}"


def _before_finishing(step: object, unit: str) -> bool:
    return unit == "inch" and getattr(step, "title", "").startswith("Before finishing")
