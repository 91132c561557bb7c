"""Keyseats cut in the shop of numbers, by both kinds of mill, in inches and millimetres."""

from __future__ import annotations

import math
import random
from collections.abc import Mapping

import pytest

from assistant.jobs.steps import Cut, Touch
from tests.factories import Job
from tests.shop.machinist import Machinist


class Shaft:
    """A shaft in the vice and a cutter over it: both a little other than on the drawing."""

    def __init__(
        self, diameter: float, width: float, key: float, fine: float,
        chance: random.Random,
    ) -> None:  # fmt: skip
        self.diameter = diameter + chance.uniform(-2, 0) * fine
        self.width = width + chance.uniform(0, 0.5) * fine
        self.key = key + chance.uniform(0, 0.5) * fine
        self.spring = chance.uniform(0, 0.05)
        """Share of a pass that the arbor springs away from."""
        self.axis_at = chance.uniform(2, 3) * diameter
        """Where the saddle stands with the cutter's middle over the shaft's."""
        self.deepening = "knee"
        self.top_at = chance.uniform(-1, 1) * diameter
        """Where the knee stands when the cutter's lowest point touches the top."""
        self.depth = 0.0
        self.middle = 0.0
        """The cutter's middle beside the shaft's, positive toward the column."""
        self.passes: list[float] = []

    def contact(self, touch: Touch) -> float:
        if touch.axis == "saddle":
            return self.axis_at - touch.toward * (self.diameter + self.width) / 2
        return self.top_at

    def cut(self, cut: Cut, begun: Mapping[str, float], at: Mapping[str, float]) -> None:
        set_to = at[self.deepening] - self.top_at
        taken = set_to - self.depth
        self.passes.append(taken)
        self.depth += taken * (1 - self.spring)
        # the saddle goes in with the work: the cutter is left behind, toward the operator
        self.middle = self.axis_at - at["saddle"]

    def size(self, fact: str) -> float:
        land = (self.diameter - self.width) / 2
        if fact.startswith("size."):
            return self.diameter - self.depth + self.key
        return {
            "shaft.diameter": self.diameter,
            "cutter.width": self.width,
            "key.height": self.key,
            "front wall": land + self.middle,
            "back wall": land - self.middle,
        }[fact]


def floor_to_side(diameter: float, width: float) -> float:
    """From the nominal floor of a keyseat for a square key to the opposite side: D - y - H / 2,
    with the chordal height y of the key's width. ASME B17.1, the formula, from memory."""
    chordal = (diameter - math.sqrt(diameter**2 - width**2)) / 2
    return diameter - chordal - width / 2


def cut_keyseat(seed: int) -> Machinist[Shaft]:
    made = Machinist(
        Job("keyseat-inch"),
        lambda chance, _wheels: Shaft(1.5, 0.375, 0.375, 0.001, chance),
        seed,
    )
    made.work_it()
    return made


@pytest.mark.parametrize("seed", range(20))
def test_an_inch_keyseat_is_on_the_drawing(seed: int) -> None:
    shaft = cut_keyseat(seed).work
    # ASME B17.1: the floor to the opposite side plus nothing, minus .015, from memory
    high = floor_to_side(shaft.diameter, 0.375)
    assert high - 0.015 <= shaft.diameter - shaft.depth <= high
    # common practice, no source: a dial of a thousandth sets to half of one, and a caliper read to
    # half of one tells no more
    assert abs(shaft.middle) < 0.001
    assert max(shaft.passes) < 0.075 * 1.05 + 0.0005, "deeper than the cutter takes"
