"""A slit sawn in the shop of numbers, on a horizontal mill."""

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

SAW = 4.0
"""Inches, its diameter: along the table it reaches in front of itself."""


class Slit(Mill):
    """A saw over a block: as wide as its teeth across the table."""

    def __init__(
        self, block: Block, width: float, back: bool,
        chance: random.Random, wheels: Mapping[str, Handwheel],
    ) -> None:  # fmt: skip
        super().__init__(block, width, chance, wheels)
        self.back = back
        self.x = block.length * chance.uniform(0.3, 0.7)

    @property
    def half_long(self) -> float:
        return SAW / 2

    @property
    def edges(self) -> tuple[float, float]:
        """From the touched side to the near and the far edge of the slit; of the deepest one."""
        deepest = max(self.block.sweeps, key=lambda one: one.depth)
        front, back = self.block.walls(self.x, deepest.begin[1], deepest.depth * 0.6)
        return (self.block.width - back, self.block.width - front) if self.back else (front, back)

    def size(self, fact: str) -> float:
        match fact.split("."):
            case ["cutter", "width"]:
                return self.diameter
            case ["piece"]:
                return self.edges[0]
            case ["size", _]:
                return max(one.depth for one in self.block.sweeps)
        raise NotImplementedError(fact)


def sawn(seed: int, back: bool, path: Path | None = None) -> None:
    """The demo slit, worked to its end and held against its drawing, the job file: .375 +-.005
    from the touched side to its near edge, .500 +.010 deep."""
    made = Miller(
        Job("slitting-inch", path),
        lambda chance, wheels: Slit(
            Block(chance.uniform(0.9, 1.1), chance.uniform(0.9, 1.1)),
            0.0625 + chance.uniform(-0.001, 0.001), back, chance, wheels,
        ),
        seed,
    )  # fmt: skip
    made.work_it()
    slit = made.work
    assert isinstance(slit, Slit)
    near, far = slit.edges
    misread = 0.0003
    assert 0.370 - misread <= near <= 0.380 + misread
    assert far - near < 0.0625 + 0.002
    deep = max(one.depth for one in slit.block.sweeps)
    assert 0.500 - misread <= deep <= 0.510 + misread
    assert max(one.deep for one in slit.passes) <= 0.130 * 1.05 + 0.0005


@pytest.mark.parametrize("seed", range(12))
def test_a_slit_is_on_the_drawing(seed: int) -> None:
    sawn(seed, True)


@pytest.mark.parametrize("seed", range(12))
def test_a_slit_from_the_front_with_worn_screws_is_on_the_drawing(
    seed: int, tmp_path: Path
) -> None:
    other = {
        "touch_side": '"front"',
        "machine:axes.saddle.backlash": '"0.050 in"',
        "machine:axes.saddle.rises": '"out"',
        "machine:axes.saddle.zero": '"fixed"',
        "machine:axes.knee.backlash": '"0.010 in"',
    }
    sawn(seed, False, changed(tmp_path, "slitting-inch", other))
