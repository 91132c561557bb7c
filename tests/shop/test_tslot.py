"""A T-slot milled in the shop of numbers: an end mill, then the T cutter on the same line."""

from __future__ import annotations

import random
from collections.abc import Mapping
from pathlib import Path

import pytest

from assistant.jobs.steps import Step
from tests.factories import Job
from tests.shop.block import Block
from tests.shop.changed import changed
from tests.shop.handwheels import Handwheel
from tests.shop.miller import Miller
from tests.shop.milling import Mill


class TSlot(Mill):
    """The T-slot, with its second cutter beside the machine."""

    def __init__(
        self, block: Block, front: bool, chance: random.Random, wheels: Mapping[str, Handwheel],
    ) -> None:  # fmt: skip
        super().__init__(block, 12 + chance.uniform(-0.005, 0.01), chance, wheels)
        self.x = block.length * chance.uniform(0.3, 0.7)
        self.line = 60.0 if front else block.width - 60

    def change(self) -> None:
        """The T cutter in the spindle, longer or shorter than the end mill."""
        self.diameter, self.tall = 20 + self.chance.uniform(-0.05, 0), 8.5
        self.square[self.deepening] += self.chance.uniform(-30, 30)
        clear = self.square[self.deepening] - self.chance.uniform(5, 30)
        self.by_eye(**{self.deepening: clear})

    def size(self, fact: str) -> float:
        match fact.split("."):
            case ["cutter", "width"]:
                return 2 * self.radius
            case ["size", _]:
                return self.block.depth_at(self.x, self.line)
            case ["tee", "size", _]:
                return max(one.depth for one in self.block.sweeps if one.above > 0)
        raise NotImplementedError(fact)


class TMiller(Miller):
    """Changes the cutter when it is said."""

    def do(self, step: Step) -> None:
        if step.id == "change-cutter":
            assert isinstance(self.work, TSlot)
            self.work.change()
        super().do(step)


def milled(seed: int, front: bool, path: Path | None = None) -> None:
    """The demo T-slot, worked to its end. Its line 60 from the touched side, 0.1 either way where
    it says nothing: common practice, no source. For a throat of 12: head 19 to 21 wide and 8 to 9
    high, 20 to 25 deep in all: ISO 299, from memory."""
    made = TMiller(
        Job("tslot-metric", path),
        lambda chance, wheels: TSlot(
            Block(chance.uniform(120, 160), 120 + chance.uniform(-0.4, 0.4)), front, chance, wheels
        ),
        seed,
    )  # fmt: skip
    made.work_it()
    slot = made.work
    assert isinstance(slot, TSlot)
    block, side = slot.block, 0.0 if front else slot.block.width
    low, high = block.walls(slot.x, slot.line, 5)
    assert abs((low + high) / 2 - side) == pytest.approx(60, abs=0.1)
    assert 11.98 <= high - low <= 12.06
    tees = [one for one in block.sweeps if one.above > 0]
    floor = max(one.depth for one in tees)
    assert 20 <= floor <= 25
    assert block.depth_at(slot.x, slot.line) < floor, "the end mill went through the T's floor"
    under, over = block.walls(slot.x, slot.line, floor - 1)
    assert 19 <= over - under <= 21
    # on one line: the nuts have to seat on both lips
    assert abs((under + over) - (low + high)) / 2 < 0.02
    assert 8 <= floor - min(one.above for one in tees) <= 9
    assert max(one.deep for one in slot.passes if "tee" not in one.step) <= 4 * 1.05 + 0.02


@pytest.mark.parametrize("seed", range(12))
def test_a_t_slot_is_as_the_standard_has_it(seed: int) -> None:
    milled(seed, True)


@pytest.mark.parametrize("seed", range(12))
def test_a_t_slot_from_the_back_on_dials_that_cant_be_set(seed: int, tmp_path: Path) -> None:
    other = {
        "touch_side": '"back"',
        "machine:axes.knee.zero": '"fixed"',
        "machine:axes.knee.rises": '"down"',
        "machine:axes.knee.backlash": '"0.2 mm"',
        "machine:axes.saddle.zero": '"fixed"',
    }
    milled(seed, False, changed(tmp_path, "tslot-metric", other))
