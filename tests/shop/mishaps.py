"""A machinist to whom everything happens that happens: stopping short and reading the dial, going
past, losing count, saying too soon that it is set, going home in between."""

from __future__ import annotations

import re
from collections import Counter
from typing import Generic, Protocol, TypeVar

from assistant.jobs.steps import Cut, Move
from assistant.session.metal import depth_measure
from assistant.session.state import Doubt, DoubtKind, Phase
from assistant.spoken import Intent
from assistant.units import magnitude
from tests.factories import expected_words
from tests.shop.handwheels import Handwheel, read_move
from tests.shop.machinist import Machinist, Work

OFTEN = 0.4
"""Share of the moves at which something happens."""
RARELY = 0.15
"""Share of the cuts after which the word is taken back."""
MOST_ANSWERS = 8
SHORTEST = 12
"""Divisions of a move that can be stopped short of."""


class Recoverable(Work, Protocol):
    """Work that can be come back to."""

    def surface(self, axis: str) -> float:
        """Where the slide of that axis stands when the cutter touches what was cut last."""


W = TypeVar("W", bound=Recoverable)


class Clumsy(Machinist[W], Generic[W]):
    """Something happens at many moves; afterwards he tells what he is asked for."""

    def work_it(self) -> None:
        self.happened: Counter[str] = Counter()
        super().work_it()

    def move(self, step: Move) -> None:
        if self.job.state.phase is Phase.VERIFY or self.chance.random() > OFTEN:
            super().move(step)
            return
        what = self.chance.choice((self.short, self.past, self.lost, self.home, self.too_soon))
        self.happened[what.__name__] += 1
        what(self.wheels[step.axis])
        self.settle()

    def cut(self, step: Cut) -> None:
        super().cut(step)
        if self.chance.random() < RARELY:
            self.happened["unsaid"] += 1
            self.job.say("scratch that")
            self.settle()  # and the cut is gone over once more

    def settle(self) -> None:
        """Answer whatever is asked until nothing is in doubt."""
        for _ in range(MOST_ANSWERS):
            state = self.job.state
            if state.question is not None:
                self.job.say("yes" if self.stands_so(state.question.candidate) else "no")
            elif state.doubts:
                self.answer(state.doubts[0])
            else:
                return
        raise AssertionError(f"still asked: {self.job.glance.instruction}")

    def stands_so(self, asked: Intent | None) -> bool:
        """Whether the wheel that is asked for stands in that turn, on that side of the zero."""
        assert asked is not None
        assert asked.name == "dial_reads", asked
        wheel = self.wheels[str(asked.get("axis"))]
        side = 1 if wheel.screw >= wheel.zero else -1
        stands = asked.get("turns") == wheel.counted()[0]
        return stands and asked.get("side") in (None, side)

    def answer(self, doubt: Doubt) -> None:
        """What is asked, as it is."""
        wheel = self.wheels.get(doubt.axis)
        if doubt.kind is DoubtKind.MOVED:
            self.job.say("nothing moved")
            return
        assert wheel is not None
        if doubt.kind is DoubtKind.METAL:
            self.from_the_floor(wheel)
        elif doubt.kind is DoubtKind.TOUCH:
            wheel.turn(-3 * self.came(wheel) * wheel.per_turn)
            wheel.back_to_zero()
            self.job.say("touched")
        else:
            turns, _ = wheel.counted()
            count = f"{turns} turn{'s' * (turns != 1)} and " if doubt.kind is DoubtKind.TURN else ""
            self.job.try_saying(f"{doubt.axis} dial reads {count}{self.as_read(wheel)}")

    def came(self, wheel: Handwheel) -> int:
        """The way the wheel went at its touch, as the screen says it: `come in to zero`."""
        come = re.findall(r"past zero, (\w+) to zero", self.job.glance.instruction)
        return 1 if come == [wheel.axis.way(1)] else -1

    def from_the_floor(self, wheel: Handwheel) -> None:
        """Measure what was cut; come to it again, and set the dial as it should read there."""
        measure = depth_measure(self.job.state)
        assert measure is not None
        answer = self.tell("measured", self.read(measure, self.work.size(measure.fact)))
        if "just touching" in answer:
            came = self.job.state.axes[wheel.axis.name].came
            wheel.touch(self.work.surface(wheel.axis.name), came)
            place = self.job.state.axes[wheel.axis.name].position
            there = float(magnitude(place, str(place.units)))
            if wheel.axis.settable:
                wheel.set_reading(there)
            else:  # the dial was never lost: go by its reading, a division or so beside the touch
                wheel.turn(there - (wheel.screw - wheel.zero))

    # -- what happens -----------------------------------------------------------------------------

    def on_the_way(self, wheel: Handwheel) -> int:
        """The way of the move on the screen; 0 where there is none to speak of."""
        told = read_move(self.job.glance, wheel.axis)
        if (
            told.stays
            or told.back
            or told.comes_again
            or (not told.turns and told.rest < 12 * wheel.graduation)
        ):
            return 0
        return 1 if told.way == wheel.axis.way(1) else -1

    def short(self, wheel: Handwheel) -> None:
        """Stops some divisions before the mark, looks again, and reads what is there."""
        way = self.on_the_way(wheel)
        if way:
            self.follow(wheel, -way * self.chance.randint(2, 9) * wheel.graduation)
            self.job.try_saying(f"{wheel.axis.name} dial reads {self.as_read(wheel)}")

    def past(self, wheel: Handwheel) -> None:
        """Goes past the mark in the air, and comes round by the other side."""
        way = self.on_the_way(wheel)
        if way:
            self.follow(wheel, way * self.chance.randint(1, 9) * wheel.graduation)
            step = self.job.state.step
            assert isinstance(step, Move)
            self.job.say("i went past")
            self.follow(wheel)
            self.is_set(step)

    def lost(self, wheel: Handwheel) -> None:
        """Is called away in the middle of the move."""
        way = self.on_the_way(wheel)
        if way:
            wheel.turn(way * self.chance.uniform(0.1, 0.8) * wheel.per_turn)
            self.job.say("lost count")

    def home(self, wheel: Handwheel) -> None:
        """Goes home; the job is taken up the next day."""
        self.job.resume()

    def too_soon(self, wheel: Handwheel) -> None:
        """Says that it is set where it isn't, and takes the word back."""
        self.job.say(expected_words(self.job.state))
        self.job.say("scratch that")
