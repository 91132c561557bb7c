"""A dovetail milled in the shop of numbers, slot and tongue. Looked at on its floor: there the
cutter is widest, and there the pins lie."""

from __future__ import annotations

import math
import random
from collections.abc import Mapping
from pathlib import Path

import pytest

from assistant.jobs.steps import Touch
from tests.factories import Job
from tests.shop.block import Block, Sweep
from tests.shop.changed import changed
from tests.shop.handwheels import Handwheel
from tests.shop.miller import Miller
from tests.shop.milling import Mill

DEEP, PIN, WIDE = 0.375, 0.250, 1.500
"""Inches, as in the job file; 60 degrees."""
NARROW = WIDE - 2 * DEEP / math.tan(math.radians(60))
OVER_A_PIN = PIN * (1 + 1 / math.tan(math.radians(30)))
"""From the sharp corner to the far side of both pins, together. Geometry: a circle in a corner of
60 degrees has its middle half its diameter times cot 30 from the corner."""


class Dovetail(Mill):
    """A straight slot, or the floors either side of a straight tongue, and what is cut into it."""

    def __init__(
        self, block: Block, female: bool, chance: random.Random, wheels: Mapping[str, Handwheel],
    ) -> None:  # fmt: skip
        super().__init__(block, 0.75 - chance.uniform(0, 0.01), chance, wheels)
        self.female = female
        self.x, self.line = block.length / 2, block.width / 2
        self.straight = (NARROW if female else WIDE) + chance.uniform(-0.002, 0.002)
        half, far = self.straight / 2, block.width / 2
        self.floors = [(self.line, half)] if female else [
            (self.line - (half + far) / 2, (far - half) / 2),
            (self.line + (half + far) / 2, (far - half) / 2),
        ]  # fmt: skip
        for middle, radius in self.floors:
            block.take(Sweep((-9, middle), (block.length + 9, middle), radius, DEEP))

    def sides(self) -> tuple[float, float]:
        """The two walls at the floor: of the slot, or of the tongue."""
        open_ = self.block.open_across(self.x, DEEP - 0.005)
        if self.female:
            return self.block.walls(self.x, self.line, DEEP - 0.005)
        return open_[0][1], open_[-1][0]

    def contact(self, touch: Touch) -> float:
        along = self.square["table"] - self.block.length * self.chance.uniform(0.3, 0.7)
        front, back = self.sides()
        if touch.axis == self.deepening:
            middle = self.line if self.female else (back + self.block.width) / 2
            low = self.square[self.deepening] - self.chance.uniform(0.1, 1)
            self.by_eye(table=along, saddle=self.square["saddle"] - middle,
                        **{self.deepening: low})  # fmt: skip
            return self.square[self.deepening] + DEEP
        self.by_eye(table=along)
        # in a slot the saddle goes out to the back wall; round a tongue it comes in to it
        at_back = (touch.toward < 0) == self.female
        assert touch.surface == ("the back wall" if at_back else "the front wall")
        wall = back if at_back else front
        return self.square["saddle"] - (wall + touch.toward * self.radius)

    def size(self, fact: str) -> float:
        front, back = self.sides()
        match fact.split("."):
            case ["cutter", "width"]:
                return 0.4375
            case ["straight", "width"]:
                return self.straight
            case ["second", "size", _]:
                return back - front - OVER_A_PIN * (1 if self.female else -1)
        raise NotImplementedError(fact)


def milled(seed: int, female: bool, path: Path | None = None) -> None:
    """The demo dovetail, worked to its end: 1.500 +-.003 wide at its wide end, which is a slot's
    floor and a tongue's top. Its middle stays the straight part's: common practice, no source."""
    made = Miller(
        Job("dovetail-inch", path),
        lambda chance, wheels: Dovetail(
            Block(chance.uniform(3, 4), chance.uniform(3.6, 4)), female, chance, wheels
        ),
        seed,
    )  # fmt: skip
    made.work_it()
    tail = made.work
    assert isinstance(tail, Dovetail)
    front, back = tail.sides()
    wide = back - front if female else back - front + WIDE - NARROW
    assert 1.497 - 0.0003 <= wide <= 1.503 + 0.0003
    assert abs((front + back) / 2 - tail.line) < 0.004
    assert max(one.side for one in tail.passes) <= 0.060 * 1.05 + 0.0005
    corner = 0.0005
    from_, to = (front + corner, back - corner) if female else (corner, front - corner)
    low, high = tail.block.floor(tail.x, from_, to)
    assert DEEP - 0.001 < low <= high < DEEP + 0.001


@pytest.mark.parametrize("seed", range(12))
def test_a_dovetailed_slot_is_on_the_drawing(seed: int) -> None:
    milled(seed, True)


@pytest.mark.parametrize("seed", range(12))
def test_a_dovetailed_tongue_is_on_the_drawing_with_worn_screws(seed: int, tmp_path: Path) -> None:
    other = {
        "dovetail.kind": '"male"',
        "touch_side": '"front"',
        "machine:axes.saddle.backlash": '"0.050 in"',
        "machine:axes.saddle.zero": '"settable"',
        "machine:axes.knee.backlash": '"0.015 in"',
    }
    milled(seed, False, changed(tmp_path, "dovetail-inch", other))
