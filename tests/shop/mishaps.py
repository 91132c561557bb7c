"""A machinist to whom everything happens that happens: stopping short and reading the dial, going
past, losing count, saying too soon that it is set, going home in between."""

from __future__ import annotations

import random
import re
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from typing import Any, Generic, Protocol, TypeVar

from assistant.jobs.steps import Cut, Move, Step
from assistant.session.cuts import stood_in_the_cut
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

    def do(self, step: Step) -> None:
        if self.job.state.doubts or self.job.state.question is not None:
            self.settle()
        else:
            super().do(step)

    def move(self, step: Move) -> None:
        if self.job.state.phase is Phase.VERIFY or self.chance.random() > OFTEN:
            super().move(step)
            return
        what = self.chance.choice(self.mishaps())
        self.happened[what.__name__] += 1
        what(self.wheels[step.axis])
        self.settle()

    def cut(self, step: Cut) -> None:
        super().cut(step)
        if self.chance.random() < RARELY:
            self.happened["unsaid"] += 1
            self.job.say("scratch that")
            self.settle()  # and the cut is gone over once more

    def mishaps(self) -> Sequence[Callable[[Handwheel], None]]:
        """What may happen."""
        return self.short, self.past, self.lost, self.home, self.too_soon

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
        if doubt.kind in (DoubtKind.CRANK, DoubtKind.TOOL):
            self.job.say("i'm set")
            return
        assert wheel is not None
        if doubt.kind is DoubtKind.METAL:
            self.measured_in_doubt()
        elif doubt.kind is DoubtKind.FLOOR:
            self.read_on_the_floor(wheel)
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

    def measured_in_doubt(self) -> None:
        """What was cut, as it is asked for."""
        measure = self.job.state.ahead.measure_of(self.job.state.doubts[0].surface)
        assert measure is not None
        self.tell("measured", self.read(measure, self.work.size(measure.fact)))

    def read_on_the_floor(self, wheel: Handwheel) -> None:
        """The cutter meets what was cut: there the dial is set, or read where it can't be."""
        place, came = stood_in_the_cut(self.job.state, wheel.axis.name)
        wheel.touch(self.work.surface(wheel.axis.name), came)
        if wheel.axis.settable:
            assert f"Set the {wheel.axis.name} dial to" in self.job.glance.instruction
            wheel.set_reading(float(magnitude(place, str(place.units))))
            self.job.say("i'm set")
            return
        self.job.say(f"{wheel.axis.name} dial reads {self.as_read(wheel)}")
        place = self.job.state.axes[wheel.axis.name].position
        wheel.count_from(float(magnitude(place, str(place.units))))

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


C = TypeVar("C", bound="Clumsy[Any]")


def whatever_happens(
    make: Callable[[int], C], check: Callable[[C], None], seeds: Iterable[int]
) -> Counter[str]:
    """A job worked with the mishaps of each seed, and checked; what happened, and how often."""
    happened: Counter[str] = Counter()
    for seed in seeds:
        made = make(seed)
        made.work_it()
        check(made)
        happened += made.happened
    return happened


class Refitted(Recoverable, Protocol):
    """Work that another cutter can be brought to."""

    def fit_another(self, chance: random.Random) -> None:
        """Another cutter stands longer or shorter."""


R = TypeVar("R", bound=Refitted)


class Hapless(Clumsy[R], Generic[R]):
    """What has to be touched again happens too."""

    def mishaps(self) -> Sequence[Callable[[Handwheel], None]]:
        return (*super().mishaps(), self.slipped, self.bumped, self.other_cutter)

    def slipped(self, wheel: Handwheel) -> None:
        """Leans on the dial: it reads anything now."""
        if wheel.axis.settable:
            wheel.set_reading(self.chance.random() * wheel.per_turn)
            self.job.say("dial slipped")

    def bumped(self, wheel: Handwheel) -> None:
        """Bumps the work, which is touched again then; here it stayed where it was."""
        self.job.say("something moved")

    def other_cutter(self, wheel: Handwheel) -> None:
        """Fits another cutter of the same width, which stands where it may."""
        self.work.fit_another(self.chance)
        self.job.say("new cutter")
