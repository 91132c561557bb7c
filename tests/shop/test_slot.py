"""Slots milled in the shop of numbers: right through and wider than their cutter, and closed."""

from __future__ import annotations

import random
from collections.abc import Mapping
from pathlib import Path

import pytest

from tests.factories import Job
from tests.shop.block import Block
from tests.shop.changed import changed
from tests.shop.handwheels import Handwheel
from tests.shop.miller import Miller
from tests.shop.milling import Mill

MISREAD = 0.0003
"""Inches: a gauge read to half a thou is a quarter off, and the hand that set it is unsteady."""


class Slot(Mill):
    """A slot, and where a gauge is set down in it: at half the block's length, or so far from its
    right-hand end."""

    def __init__(
        self, block: Block, diameter: float, back: bool, from_side: float,
        chance: random.Random, wheels: Mapping[str, Handwheel], from_end: float | None = None,
        deepening: str = "knee",
    ) -> None:  # fmt: skip
        super().__init__(block, diameter, chance, wheels, deepening)
        self.back, self.from_side = back, from_side
        self.x = block.length * 0.5 if from_end is None else block.length - from_end

    @property
    def inside(self) -> tuple[float, float]:
        """A place in the slot, and half its depth there."""
        y = self.block.width - self.from_side if self.back else self.from_side
        return y, self.block.depth_at(self.x, y) / 2

    @property
    def walls(self) -> tuple[float, float]:
        """From the touched side to the slot's near and its far wall, half way down."""
        front, back = self.block.walls(self.x, *self.inside)
        return (self.block.width - back, self.block.width - front) if self.back else (front, back)

    @property
    def ends(self) -> tuple[float, float]:
        """From the right-hand end face to the slot's near and its far end, half way down."""
        left, right = self.block.ends(self.x, *self.inside)
        return self.block.length - right, self.block.length - left

    def floor(self) -> tuple[float, float]:
        """The shallowest and the deepest place of the floor."""
        near, far = self.walls
        low, high = (self.block.width - far, self.block.width - near) if self.back else (near, far)
        # a depth gauge's blade doesn't go into the corner, and what is a hair is no step
        return self.block.floor(self.x, low + 0.5 * self.small, high - 0.5 * self.small)

    def size(self, fact: str) -> float:
        if fact == "cutter.width":
            return 2 * self.radius
        near, far = self.walls
        match fact.split("."):
            case ["size", _]:
                return self.chance.uniform(*self.floor())
            case ["near", "size", _]:
                return near
            case ["far", "size", _] | ["slot", "width"]:
                return far - near
            case ["slot", "length"]:
                return self.ends[1] - self.ends[0]
        raise NotImplementedError(fact)


def through(seed: int, path: Path | None = None, *, back: bool = True) -> Miller:
    """The demo slot, worked to its end."""
    made = Miller(
        Job("slot-inch", path),
        lambda chance, wheels: Slot(
            # reground, as a cutter is
            Block(chance.uniform(2.5, 4), chance.uniform(1.9, 2.1)),
            0.375 - chance.uniform(-0.0005, 0.0015), back, 1.0, chance, wheels,
        ),
        seed,
    )  # fmt: skip
    made.work_it()
    return made


def on_the_drawing(made: Miller, width: float = 0.5) -> None:
    """The drawing is the job file's: .500 +.002 wide, .250 +.005 deep, its middle 1.000 from the
    touched side; .005 either way where it says nothing is common practice, no source."""
    slot = made.work
    assert isinstance(slot, Slot)
    near, far = slot.walls
    low, high = slot.floor()
    assert width - MISREAD <= far - near <= width + 0.002 + MISREAD
    assert 0.250 - MISREAD <= low <= high <= 0.255 + MISREAD
    assert abs((near + far) / 2 - 1.0) <= 0.005 + MISREAD
    for one in slot.passes:
        # a wall is finished down its whole depth: then it takes little
        assert one.deep <= 0.080 * 1.05 + 0.0005 or one.side <= 0.0105, one


@pytest.mark.parametrize("seed", range(12))
def test_a_slot_wider_than_its_cutter_is_on_the_drawing(seed: int) -> None:
    on_the_drawing(through(seed))


OTHER_DIALS = {
    "touch_side": '"front"',
    "machine:axes.saddle.rises": '"in"',
    "machine:axes.saddle.zero": '"settable"',
    "machine:axes.saddle.backlash": '"0.045 in"',
    "machine:axes.saddle.per_turn": '"0.200 in"',
    "machine:axes.knee.rises": '"down"',
    "machine:axes.knee.backlash": '"0.012 in"',
}
"""The other side, dials that rise the other way, and a saddle whose screw is worn."""


@pytest.mark.parametrize("seed", range(12))
def test_it_is_on_the_drawing_from_the_front_and_with_worn_screws(
    seed: int, tmp_path: Path
) -> None:
    on_the_drawing(through(seed, changed(tmp_path, "slot-inch", OTHER_DIALS), back=False))


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("jaw", ["back", "front"])
def test_the_next_part_is_on_the_drawing_whichever_jaw_it_lies_against(
    seed: int, jaw: str, tmp_path: Path
) -> None:
    """The back is touched: where it lies against the jaw that stays it isn't touched again, and
    where it lies against the other it has to be. The blocks are not quite alike."""
    made = through(seed, changed(tmp_path, "slot-inch", {"fixed_jaw": f'"{jaw}"'}))
    on_the_drawing(made)
    chance = made.chance
    for _ in range(2):
        made.work.next_part(Block(chance.uniform(2.5, 4), chance.uniform(1.9, 2.1)), jaw == "back")
        made.say("same again")
        made.work_it()
        on_the_drawing(made)


class ArborSlot(Slot):
    """By a slotting cutter of 4 inches on an arbor."""

    @property
    def half_long(self) -> float:
        return 2.0


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("width", [0.375, 0.5])
def test_a_slot_by_a_cutter_on_an_arbor_is_on_the_drawing(
    seed: int, width: float, tmp_path: Path
) -> None:
    """As wide as the cutter, or wider; the rest of the drawing is the demo's."""
    other = {
        "machine": '"millrace-horizontal"',
        "slot.width": f'"{width} in"',
        "cutter.kind": '"slotting cutter"',
        "cutter.diameter": '"4 in"',
        "cutter.width": '"3/8 in"',
        "cutter.body": '"1-3/4 in"',
    }
    made = Miller(
        Job("slot-inch", changed(tmp_path, "slot-inch", other)),
        lambda chance, wheels: ArborSlot(
            Block(chance.uniform(2.5, 4), chance.uniform(1.9, 2.1)),
            0.375 + (0.0 if width > 0.4 else chance.uniform(0.0001, 0.001)), True, 1.0, chance,
            wheels,
        ),
        seed,
    )  # fmt: skip
    made.work_it()
    on_the_drawing(made, width)


class MetricDials(Slot):
    """The machine counts in millimetres, the drawing and its gauges in inches."""

    def size(self, fact: str) -> float:
        return super().size(fact) / 25.4


@pytest.mark.parametrize("seed", range(10))
def test_an_inch_slot_on_metric_dials_is_on_the_drawing(seed: int, tmp_path: Path) -> None:
    path = changed(tmp_path, "slot-inch", {"machine": '"weir-vertical"'})
    made = Miller(
        Job("slot-inch", path),
        lambda chance, wheels: MetricDials(
            Block(chance.uniform(70, 100), chance.uniform(48, 54)),
            (0.375 - chance.uniform(0, 0.002)) * 25.4, True, 25.4, chance, wheels,
        ),
        seed,
    )  # fmt: skip
    made.work_it()
    slot = made.work
    assert isinstance(slot, Slot)
    near, far = (place / 25.4 for place in slot.walls)
    low, high = (deep / 25.4 for deep in slot.floor())
    assert 0.500 - MISREAD <= far - near <= 0.502 + MISREAD
    assert 0.250 - MISREAD <= low <= high <= 0.255 + MISREAD
    assert abs((near + far) / 2 - 1.0) <= 0.005 + MISREAD


def plunged(seed: int, path: Path | None = None) -> Miller:
    """The demo slot that is closed at both ends, worked to its end."""
    made = Miller(
        Job("slot-plunged", path),
        lambda chance, wheels: Slot(
            Block(chance.uniform(72, 76), chance.uniform(35, 37)),
            10 + chance.uniform(0, 0.03), True, 18, chance, wheels, 15 + 21,
        ),
        seed, plunges=True,
    )  # fmt: skip
    made.work_it()
    return made


@pytest.mark.parametrize("seed", range(12))
def test_a_slot_that_ends_inside_the_work_is_on_the_drawing(seed: int) -> None:
    """The drawing is the job file's: 10 +0.1 wide, 6 +0.1 deep, 18 from the side to its middle,
    from 15 on 42 +0.2 long; 0.1 either way where it says nothing is common practice, no source."""
    slot = plunged(seed).work
    assert isinstance(slot, Slot)
    near, far = slot.walls
    low, high = slot.floor()
    begins, ends = slot.ends
    misread = 0.02  # dials of 0.02, set to the mark by an unsteady hand, and a gauge of 0.01
    assert 10 <= far - near <= 10.1
    assert 6 - misread <= low <= high <= 6.1 + misread
    assert abs((near + far) / 2 - 18) <= 0.1
    assert 42 - misread <= ends - begins <= 42.2 + misread
    assert abs(begins - 15) <= 0.1
    assert max(one.deep for one in slot.passes) <= 1.5 * 1.05 + 0.02
