"""Keyways pushed by a broach in the shop of numbers: a bore that is not quite its name, shims from
a packet, a stack that springs."""

from __future__ import annotations

import random
from collections.abc import Mapping

import pytest

from assistant.jobs.steps import Cut, Note, Step, Touch
from tests.factories import Job
from tests.shop.machinist import Machinist


class Hub:
    """A hub with its bushing in the bore: the broach's last tooth stands out of it by what it cuts
    a pass, and by the shims behind it."""

    def __init__(self, bore: float, cut: float, small: float, chance: random.Random) -> None:
        self.bore = bore + chance.uniform(0, 1) * small
        self.cuts = cut
        self.small, self.chance = small, chance
        self.stack = self.depth = 0.0
        self.taken: list[float] = []

    def contact(self, touch: Touch) -> float:
        raise NotImplementedError(touch.id)

    def cut(self, cut: Cut, begun: Mapping[str, float], at: Mapping[str, float]) -> None:
        deep = self.cuts + self.stack - self.chance.uniform(0, 2.5) * self.small
        self.taken.append(deep - self.depth)
        self.depth = max(self.depth, deep)

    def size(self, fact: str) -> float:
        return self.bore if fact == "bore.diameter" else self.bore + self.depth


class Presser(Machinist[Hub]):
    """Puts shims of the packet behind the broach, as near as they make what is shown."""

    def do(self, step: Step) -> None:
        if isinstance(step, Note) and step.id.endswith("-set"):
            shown, hub = self.job.glance, self.work
            if shown.number:
                assert shown.what == "shims behind it"
                packet = 1 * hub.small if self.unit == "inch" else 0.05
                hub.stack = round(float(shown.number) / packet) * packet
        super().do(step)


def pushed(name: str, bore: float, cut: float, small: float, seed: int) -> Hub:
    made = Presser(
        Job(name),
        lambda chance, _wheels: Hub(bore, cut, small, chance),
        seed,
    )
    made.work_it()
    assert max(made.work.taken) <= cut * 1.02 + small, "more than the broach stands"
    return made.work


@pytest.mark.parametrize("seed", range(20))
def test_an_inch_keyway_is_as_the_standard_has_it(seed: int) -> None:
    """A square key of 1/4 in a bore of 1-1/4: 1.367 +.010 across to the floor. ASME B17.1, from
    memory; of a bore that is larger the floor lies as much further from its other side."""
    hub = pushed("broach-inch", 1.25, 0.050, 0.001, seed)
    across, misread = hub.bore + hub.depth, 0.0008
    assert 1.367 - misread <= across <= 1.377 + (hub.bore - 1.25) + misread


@pytest.mark.parametrize("seed", range(20))
def test_a_metric_keyway_is_as_the_standard_has_it(seed: int) -> None:
    """A key of 8 x 7 in a bore of 25: 3.3 +0.2 over the bore. DIN 6885-1, from memory."""
    hub = pushed("broach-metric", 25, 1.2, 0.025, seed)
    assert 3.3 - 0.01 <= hub.depth <= 3.5 + 0.01
