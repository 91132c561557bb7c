"""A head tilted and a sine bar stacked in the shop of numbers."""

from __future__ import annotations

import math
import random
from collections.abc import Mapping

import pytest

from assistant.jobs.steps import Cut, Note, Step, Touch
from tests.factories import Job
from tests.shop.machinist import Machinist


class Tilted:
    """A head that stands by its scale to begin with, and is tapped over."""

    def __init__(self, chance: random.Random) -> None:
        self.chance = chance
        self.degrees = 0.0

    def contact(self, touch: Touch) -> float:
        raise NotImplementedError(touch.id)

    def cut(self, cut: Cut, begun: Mapping[str, float], at: Mapping[str, float]) -> None:
        raise NotImplementedError(cut.id)

    def size(self, fact: str) -> float:
        """The indicator on the table goes up 3 beside a bar in the spindle."""
        assert fact.startswith("rise.")
        return 3 * math.tan(math.radians(self.degrees))


class Tapper(Machinist[Tilted]):
    """Sets the scale, and taps as far and as well as a hammer does."""

    def do(self, step: Step) -> None:
        head, shown = self.work, self.job.glance
        said = " ".join(self.job.state.last_reply)
        if isinstance(step, Note) and step.id == "scale":
            head.degrees = float(shown.number) + head.chance.uniform(-0.4, 0.4)
        elif isinstance(step, Note) and step.id.startswith("tap-"):
            assert shown.what == "off the rise"
            way = {"flatter": -1, "steeper": 1}["flatter" if "flatter" in said else "steeper"]
            moved = head.size("rise.") + way * float(shown.number) * head.chance.uniform(0.8, 1.15)
            head.degrees = math.degrees(math.atan(moved / 3))
        super().do(step)


@pytest.mark.parametrize("seed", range(20))
def test_a_head_is_tapped_to_its_angle(seed: int) -> None:
    """15 degrees, to a thou in 3 inches as in the job file."""
    made = Tapper(Job("angle-head"), lambda chance, _wheels: Tilted(chance), seed)
    made.work_it()
    assert not any(step.id == "look" for step in made.job.state.plan.steps)  # type: ignore[union-attr]
    off = 3 * math.tan(math.radians(made.work.degrees)) - 3 * math.tan(math.radians(15))
    assert abs(off) <= 0.001 + 0.0003


def test_the_stack_under_a_sine_bar_makes_its_angle() -> None:
    """12.5 degrees on a bar of 5 inches, as in the job file; blocks go by half tenths at best."""
    job = Job("angle-sine-bar")
    job.to_step("stack")
    assert job.glance.unit == "in"
    made = math.degrees(math.asin(float(job.glance.number) / 5))
    assert made == pytest.approx(12.5, abs=math.degrees(0.0001 / 5))
