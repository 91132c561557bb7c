"""Holes bored to size by a boring head in the shop of numbers: a tool whose place only its own dial
tells, a bar that springs, a hole that doesn't lie under the spindle."""

from __future__ import annotations

import random
import re
from collections.abc import Mapping
from pathlib import Path

import pytest

from assistant.jobs.steps import Cut, Measure, Note, Step, Touch
from tests.factories import Job
from tests.shop.changed import changed_copy
from tests.shop.handwheels import Handwheel
from tests.shop.machinist import Machinist

LOW, HIGH = 1.2500, 1.2510
GRADUATION = 0.001
MAX_CUT = 0.040
"""On one side; all of the job file."""
MORE = re.compile(r"that's ([\d.]+) more on its dial")


class Bore:
    """A hole, and a tool that goes round the spindle's axis."""

    def __init__(
        self, share: float, graduation: float, chance: random.Random,
        _wheels: Mapping[str, Handwheel],
    ) -> None:  # fmt: skip
        self.diameter = 1.0 + chance.uniform(-0.004, 0.004)
        self.off = chance.uniform(0, 0.004)
        """How far the hole's middle is from the spindle's."""
        self.graduation, self.share = graduation, share
        """Of the radius for one on the head's dial."""
        self.spring = chance.uniform(0, 0.05)
        self.set_to = 0.0
        """The tool's radius."""
        self.passes: list[float] = []

    def contact(self, touch: Touch) -> float:
        raise AssertionError(f"no slide is touched: {touch}")

    def scrape(self) -> None:
        """Opened till it meets the nearest wall."""
        self.set_to = self.diameter / 2 - self.off

    def cut(self, cut: Cut, begun: Mapping[str, float], at: Mapping[str, float]) -> None:
        # a bore that wasn't round the axis is cut more on one side, and comes round
        deep = max(0.0, self.set_to - self.diameter / 2)
        self.passes.append(deep + self.off)
        self.diameter += 2 * deep * (1 - self.spring)
        self.off *= self.spring

    def size(self, fact: str) -> float:
        return self.diameter


class Borer(Machinist[Bore]):
    """Who opens the head by what is said, as near as its dial is seen."""

    def do(self, step: Step) -> None:
        said = " ".join(self.job.state.last_reply).lower()
        if isinstance(step, Note) and step.id == "touch-bore":
            self.work.scrape()
        if isinstance(step, Note) and "open the head" in self.job.glance.what:
            told = MORE.search(said)
            assert told is not None, said
            fine = self.work.graduation
            on_dial = float(told[1]) * fine
            assert on_dial == pytest.approx(float(self.job.glance.number), abs=0.0001)
            # where it was set, and what its lock drags along
            on_dial += self.chance.uniform(-0.15, 0.15) * fine
            self.work.set_to += on_dial * self.work.share + self.chance.uniform(0, 0.00005)
        if isinstance(step, Measure):
            assert step.fact == "hole.diameter" or "spindle off" in said
        super().do(step)


def bored(
    seed: int, path: Path | None = None, share: float = 0.5, graduation: float = GRADUATION
) -> Borer:
    """A bore to the end of its job, and on its drawing."""
    made = Borer(
        Job("boring-head-inch", path),
        lambda chance, wheels: Bore(share, graduation, chance, wheels),
        seed,
    )
    made.work_it()
    assert LOW - 0.00005 <= made.work.diameter <= HIGH + 0.00005
    # the first pass meets a hole that lies to one side
    assert max(made.work.passes[1:]) <= MAX_CUT * 1.06 + 0.0005, "deeper than the tool takes"
    assert made.work.passes[0] <= MAX_CUT + 0.0005 + 0.008
    return made


@pytest.mark.parametrize("seed", range(25))
def test_a_bore_is_on_its_drawing(seed: int) -> None:
    bored(seed)


@pytest.mark.parametrize("seed", range(10))
def test_a_head_whose_dial_counts_the_tool(seed: int, tmp_path: Path) -> None:
    changes = {
        'reads = "diameter"': 'reads = "radius"',
        'graduation = "0.001 in"': 'graduation = "0.0005 in"',
    }
    path = changed_copy(tmp_path, "boring-head-inch", job_file=changes)
    bored(seed, path, share=1.0, graduation=0.0005)


@pytest.mark.parametrize("seed", range(5))
def test_a_hole_smaller_than_it_was_called(seed: int, tmp_path: Path) -> None:
    """The hole is measured first: there may be a pass more, none deeper."""
    path = changed_copy(tmp_path, "boring-head-inch", job_file={'"1.000 in"': '"1.040 in"'})
    bored(seed, path)
