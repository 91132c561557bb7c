"""A machinist who works a job by what the screen shows, on handwheels and work that are only
felt and measured."""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import Generic, Protocol, TypeVar

from assistant.jobs.steps import Cut, Measure, Move, Step, Touch
from assistant.session.state import Phase
from assistant.units import magnitude
from tests.factories import Job, expected_words
from tests.shop.handwheels import Handwheel, read_move

MOST = 900
"""Steps of the longest job."""
UNSTEADY = 0.15
"""Divisions: how near to the mark a hand stops."""
PAPERS = {"inch": (0.002, 0.003, 0.004), "mm": (0.05, 0.08, 0.1)}
FINEST = {"inch": Decimal("0.0005"), "mm": Decimal("0.01")}
"""What is read off a gauge that doesn't say how fine it is."""
SYMBOL = {"inch": "in", "mm": "mm"}


class Work(Protocol):
    """What lies on the machine: knows its true sizes and what the cutter has left of it."""

    def contact(self, touch: Touch) -> float:
        """Where the slide stands when the bare cutter meets that surface."""

    def cut(self, cut: Cut, begun: Mapping[str, float], at: Mapping[str, float]) -> None:
        """The cutter goes through, with the slides at `begun` before the feed and `at` after."""

    def size(self, fact: str) -> float:
        """The true size that a measurement of that name finds now."""


W = TypeVar("W", bound=Work)


class Machinist(Generic[W]):
    """Works one job from its first check to its end, with the chances of one `seed`."""

    def __init__(
        self, job: Job, work: Callable[[random.Random, Mapping[str, Handwheel]], W], seed: int
    ) -> None:
        self.job, self.chance = job, random.Random(seed)
        machine = job.state.machine
        self.unit = job.state.unit
        self.wheels = {
            name: Handwheel(axis, self.chance.random(), self.chance.random())
            for name, axis in machine.axes.items()
        }
        self.work = work(self.chance, self.wheels)
        self.measured: dict[str, float] = {}
        """What was told last, by the name of the measurement."""
        self.papers: dict[str, float] = {}
        """What lay between at the last touch, by axis."""

    def work_it(self) -> None:
        """To the end of the job."""
        for _ in range(MOST):
            step = self.job.state.step
            if self.job.state.finished or step is None:
                return
            self.do(step)
        raise AssertionError(f"never ended; stands at {self.job.state.step_id}")

    def do(self, step: Step) -> None:
        """The step at hand, and the words that end it."""
        match step:
            case Touch():
                self.touch(step)
            case Move(target=None):
                self.free(step)
            case Move():
                self.move(step)
            case Cut():
                self.cut(step)
            case Measure(kind="size" | "walls"):
                self.measure(step)
            case _:
                self.say(expected_words(self.job.state))

    def say(self, words: str) -> str:
        """Words that must be taken without a question."""
        answer = self.job.say(words)
        assert self.job.state.question is None, f"{words!r} was asked back: {answer}"
        return answer

    def tell(self, lead: str, value: Decimal) -> str:
        """A size, with its unit."""
        return self.say(f"{lead} {value:f} {SYMBOL[self.unit]}")

    # -- at the machine ---------------------------------------------------------------------------

    def touch(self, step: Touch) -> None:
        """Come to the surface, tell the paper, set the zero or read the dial."""
        wheel, state = self.wheels[step.axis], self.job.state
        if state.phase is Phase.ACT:
            paper = self.paper(step)
            thick = paper * self.in_dial_units(wheel)
            wheel.touch(self.work.contact(step) - step.toward * thick, step.toward)
            self.say("touched")
            if self.job.state.phase is Phase.PAPER:
                if paper:
                    self.tell("paper is", Decimal(str(paper)))
                else:
                    self.say("bare")
            if self.job.state.phase is not Phase.READ and wheel.axis.settable:
                wheel.set_zero()
        elif step.keeps:
            turns, _ = wheel.counted()
            self.say(f"dial reads {turns} turn{'s' * (turns != 1)} and {self.as_read(wheel)}")
        else:
            wheel.count_from_here()
            self.say(f"dial reads {self.as_read(wheel)}")

    def paper(self, step: Touch) -> float:
        """What lies between cutter and work at a touch: by chance nothing; at the second of two
        what lay there at the first."""
        if step.keeps:
            return self.papers[step.axis]
        paper = self.chance.choice((0.0, *PAPERS[self.unit])) if step.paper_fact else 0.0
        self.papers[step.axis] = paper
        return paper

    def in_dial_units(self, wheel: Handwheel) -> float:
        """A unit of the job, as that dial counts."""
        dial = "inch" if str(wheel.axis.per_turn.units) == "inch" else "mm"
        return 1.0 if dial == self.unit else 25.4 if dial == "mm" else 1 / 25.4

    def as_read(self, wheel: Handwheel) -> str:
        """A dial's reading as it is typed: thousandths of an inch, or millimetres."""
        if str(wheel.axis.per_turn.units) == "inch":
            return f"{wheel.read() * 1000:g}"
        read = f"{wheel.read():g}"
        return read if "." in read else f"{read}.0"  # 1 alone may be one division

    def free(self, step: Move) -> None:
        """A move that nobody counts: well clear."""
        self.say(expected_words(self.job.state))

    def move(self, step: Move) -> None:
        """Follow the screen to the reading; lock, read again."""
        wheel = self.wheels[step.axis]
        shown = self.job.glance
        if self.job.state.phase is Phase.VERIFY:
            wheel.follow(read_move(shown, wheel.axis))  # it still reads so
            self.say("yes")
            return
        self.follow(wheel)
        self.is_set(step)

    def is_set(self, step: Move) -> None:
        """The handle is where it was told, and its zero there where that was told."""
        wheel = self.wheels[step.axis]
        self.say(expected_words(self.job.state))
        if step.zero_after and wheel.axis.settable:
            wheel.set_zero()
        elif step.zero_after:
            wheel.count_from_here()

    def follow(self, wheel: Handwheel, beyond: float = 0.0) -> None:
        """Turn `wheel` as the screen and the last sentences say, and `beyond` the mark."""
        told = read_move(self.job.glance, wheel.axis)
        spoken = " ".join(self.job.state.last_reply).lower()
        error = self.chance.uniform(-UNSTEADY, UNSTEADY) * wheel.graduation
        wheel.follow(
            told, error + beyond, back_first="turn first" in spoken or "turns first" in spoken
        )

    def cut(self, step: Cut) -> None:
        """Through, with the feed counted where it has to stop."""
        begun = self.places()
        if step.feed_target is not None:
            self.follow(self.wheels[step.feed_axis])
        self.work.cut(step, begun, self.places())
        self.say("that's through")
        if step.feed_returns:
            self.wheels[step.feed_axis].back_to_zero()

    def places(self) -> dict[str, float]:
        """Where the slides stand."""
        return {name: wheel.nut for name, wheel in self.wheels.items()}

    def measure(self, step: Measure) -> None:
        """Measure, and tell what the gauge reads."""
        if step.kind == "walls":
            for side in step.sides:
                self.tell(side, self.read(step, self.work.size(side)))
            return
        self.tell("measured", self.read(step, self.work.size(step.fact)))

    def read(self, step: Measure, size: float) -> Decimal:
        """A true size as the gauge shows it."""
        finest = FINEST[self.unit]
        if step.resolution is not None:
            finest = min(finest, Decimal(magnitude(step.resolution, self.unit)))
        told = round(Decimal(repr(size)) / finest) * finest
        self.measured[step.fact] = float(told)
        return told
