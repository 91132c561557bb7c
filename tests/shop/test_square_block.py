"""A block squared all round in the shop of numbers: six settings, each with faces that are
hollow until they are clean."""

from __future__ import annotations

import random
from collections.abc import Mapping
from pathlib import Path

import pytest

from assistant.jobs.steps import Measure, Step, Touch
from tests.factories import Job
from tests.shop.block import Block
from tests.shop.changed import changed
from tests.shop.handwheels import Handwheel
from tests.shop.miller import Miller
from tests.shop.milling import Mill

UP = {1: "thickness", 2: "width", 3: "width", 4: "thickness", 5: "length", 6: "length"}
"""Which size of the block stands up for each of its faces."""


class Square(Mill):
    """The block as it lies for one face after the other."""

    def __init__(self, chance: random.Random, wheels: Mapping[str, Handwheel]) -> None:
        self.sizes = {
            "thickness": 1.125 + chance.uniform(-0.01, 0.03),
            "width": 1.625 + chance.uniform(-0.01, 0.03),
            "length": 3.125 + chance.uniform(-0.01, 0.03),
        }
        super().__init__(Block(1, 1), 2 - chance.uniform(0, 0.02), chance, wheels)
        self.face = 0
        self.hollow = 0.0

    def hold(self, face: int) -> None:
        """The next face up, somewhere in the vice."""
        self.put_down()
        self.face, up = face, UP[face]
        long, wide = sorted((size for name, size in self.sizes.items() if name != up), reverse=True)
        self.block = Block(long, wide)
        self.hollow = self.chance.uniform(0.002, 0.035)
        for name in self.wheels:
            self.square[name] += self.chance.uniform(-1, 1)

    def put_down(self) -> None:
        """What was cut off is gone for good."""
        if self.face:
            self.sizes[UP[self.face]] = self.now()
            self.face = 0

    def now(self) -> float:
        """The size that stands up, over the highest places."""
        size, block = self.sizes[UP[self.face]], self.block
        return size - min(
            block.floor(block.length * part, 0, block.width)[0] for part in (0.02, 0.5, 0.98)
        )

    @property
    def clean(self) -> bool:
        """Whether the cutter has been over the lowest place."""
        gone = self.sizes[UP[self.face]] - self.now()
        return gone > self.hollow

    def contact(self, touch: Touch) -> float:
        # by eye over the middle, so that the cutter covers the face
        spare = self.radius - self.block.width / 2
        self.by_eye(
            table=self.square["table"] - self.block.length / 2,
            saddle=self.square["saddle"] - self.block.width / 2
            + self.chance.uniform(-0.4, 0.4) * spare,
            **{self.deepening: self.square[self.deepening] - self.chance.uniform(0.2, 1)},
        )  # fmt: skip
        return self.square[self.deepening]

    def size(self, fact: str) -> float:
        match fact.split("."):
            case ["cutter", "width"]:
                return 2 * self.radius
            case ["stock", up]:
                assert not self.face, "measured in the vice"
                return self.sizes[up]
            case [face, "size", _]:
                assert face == f"face-{self.face}"
                return self.now()
        raise NotImplementedError(fact)


class Squarer(Miller):
    """Turns the work, and says no where a face isn't clean."""

    def do(self, step: Step) -> None:
        work = self.work
        assert isinstance(work, Square)
        if step.id.endswith("-hold"):
            work.hold(int(step.id.split("-")[1]))
        if step.id.startswith("measure-stock"):
            work.put_down()
        if isinstance(step, Measure) and step.kind == "gauge":
            self.say("yes" if work.clean else "no")
        else:
            super().do(step)


def squared(seed: int, path: Path | None = None) -> None:
    """The demo block, worked to its end: 1.000 x 1.500 x 3.000, .005 either way where the drawing
    says nothing: common practice, no source."""
    made = Squarer(Job("square-block-inch", path), Square, seed)
    made.work_it()
    block = made.work
    assert isinstance(block, Square)
    block.put_down()
    misread = 0.0003
    assert block.sizes["thickness"] == pytest.approx(1.000, abs=0.005 + misread)
    assert block.sizes["width"] == pytest.approx(1.500, abs=0.005 + misread)
    assert block.sizes["length"] == pytest.approx(3.000, abs=0.005 + misread)
    assert max(one.deep for one in block.passes) <= 0.060 * 1.05 + 0.0005


@pytest.mark.parametrize("seed", range(12))
def test_a_block_is_squared_to_its_sizes(seed: int) -> None:
    squared(seed)


@pytest.mark.parametrize("seed", range(12))
def test_it_is_on_a_knee_with_backlash_and_a_dial_that_cant_be_set(
    seed: int, tmp_path: Path
) -> None:
    other = {
        "machine:axes.knee.zero": '"fixed"',
        "machine:axes.knee.rises": '"down"',
        "machine:axes.knee.backlash": '"0.012 in"',
    }
    squared(seed, changed(tmp_path, "square-block-inch", other))
